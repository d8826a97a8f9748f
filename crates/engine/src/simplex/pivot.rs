//! One step of the simplex: what enters, how far it goes, what leaves.

use super::{Of, PIVOT, Simplex};

#[derive(Debug, Clone, Copy)]
enum Leaving {
    Basic(usize),
    Key(usize),
}

impl<T: Clone> Simplex<T> {
    /// Brings a column into the basis.
    pub(super) fn enter(&mut self, held: usize) {
        let column = self.without_key(held);
        let mut entering = std::mem::take(&mut self.scratch.entering);
        self.inverse.times(&column, &mut entering);
        let own = match self.held[held].of {
            Of::Set(set) => Some(set),
            _ => None,
        };
        self.change_of_keys(own, &entering);
        let step = self.ratio(&entering);
        if let Some((length, leaving)) = step {
            for (weight, by) in self.weights.iter_mut().zip(&entering) {
                *weight -= length * by;
            }
            for &set in &self.scratch.touched {
                self.key_weights[set] += length * self.scratch.key_change[set];
            }
            match leaving {
                Leaving::Basic(row) => self.exchange(row, held, length, &entering),
                Leaving::Key(set) => self.exchange_key(set, own, held, length, &mut entering),
            }
            self.steps += 1;
        }
        for set in self.scratch.touched.drain(..) {
            self.scratch.key_change[set] = 0.0;
        }
        self.scratch.entering = entering;
    }

    /// By how much the weight of each key changes for each unit of the entering column.
    fn change_of_keys(&mut self, own: Option<usize>, entering: &[f64]) {
        let scratch = &mut self.scratch;
        if let Some(set) = own {
            scratch.key_change[set] = -1.0;
            scratch.touched.push(set);
        }
        for (&at, &by) in self.basic.iter().zip(entering) {
            if let Of::Set(set) = self.held[at].of {
                if !scratch.touched.contains(&set) {
                    scratch.touched.push(set);
                }
                scratch.key_change[set] += by;
            }
        }
    }

    /// How far the entering column can go, and what leaves then; of ties, the largest pivot.
    fn ratio(&self, entering: &[f64]) -> Option<(f64, Leaving)> {
        let rows = entering.iter().enumerate().filter(|(_, by)| **by > PIVOT);
        let rows =
            rows.map(|(row, &by)| (self.weights[row].max(0.0) / by, by, Leaving::Basic(row)));
        let keys = self
            .scratch
            .touched
            .iter()
            .map(|&set| (set, -self.scratch.key_change[set]));
        let keys = keys.filter(|&(_, by)| by > PIVOT);
        let keys =
            keys.map(|(set, by)| (self.key_weights[set].max(0.0) / by, by, Leaving::Key(set)));
        let shorter = |best: (f64, f64, Leaving), next: (f64, f64, Leaving)| {
            let tie = (best.0 - next.0).abs() <= 1e-12;
            if next.0 < best.0 - 1e-12 || (tie && next.1 > best.1) {
                next
            } else {
                best
            }
        };
        rows.chain(keys)
            .reduce(shorter)
            .map(|(length, _, leaving)| (length, leaving))
    }

    fn exchange(&mut self, row: usize, held: usize, length: f64, entering: &[f64]) {
        self.inverse.pivot(row, entering);
        self.basic[row] = held;
        self.weights[row] = length;
    }

    /// The key of a set leaves. Changing a key is a row operation on the inverse (engine.md).
    fn exchange_key(
        &mut self,
        set: usize,
        own: Option<usize>,
        held: usize,
        length: f64,
        entering: &mut [f64],
    ) {
        let members: Vec<usize> = (0..self.basic.len())
            .filter(|&row| self.held[self.basic[row]].of == Of::Set(set))
            .collect();
        if own == Some(set) {
            // The entering column becomes the key.
            let pivot = -self.scratch.key_change[set];
            let sum = self.inverse.sum_of(&members);
            let scaled: Vec<f64> = entering.iter().map(|by| by / pivot).collect();
            self.inverse.add_product(&scaled, &sum);
            self.keys[set] = held;
            self.key_weights[set] = length;
            return;
        }
        let size = |row: &&usize| -entering[**row];
        let Some(&row) = members.iter().max_by(|a, b| size(a).total_cmp(&size(b))) else {
            return;
        };
        // A member becomes the key, the old key takes its place, and leaves it to the entering column.
        let sum = self.inverse.sum_of(&members);
        let turned: Vec<f64> = sum.iter().map(|x| -x).collect();
        self.inverse.replace(row, &turned);
        entering[row] = -members.iter().map(|&member| entering[member]).sum::<f64>();
        self.keys[set] = self.basic[row];
        self.key_weights[set] = self.weights[row];
        self.exchange(row, held, length, entering);
    }
}
