//! Where a search starts: keys, and what rows have over or lack.

use super::super::inverse::Inverse;
use super::super::{Column, MISSING, Model};
use super::{Held, NUDGE, Of, Simplex};

impl<T: Clone> Simplex<T> {
    /// A basis of surplus and missing columns around the keys.
    pub(super) fn begin<M: Model<Tag = T>>(&mut self, model: &M) {
        let rows = model.rows();
        self.read_rhs(model);
        let rest = self.rest();
        self.basic.clear();
        let mut signs = Vec::new();
        self.weights = rest.iter().map(|left| left.abs()).collect();
        for (row, (&left, of_row)) in rest.iter().zip(rows).enumerate() {
            let of = if !of_row.equal && left <= 0.0 {
                Of::Surplus(row)
            } else {
                Of::Missing(row, if left < 0.0 { -1 } else { 1 })
            };
            signs.push(match of {
                Of::Missing(_, sign) => sign as f64,
                _ => -1.0,
            });
            let held = self.hold_single(of);
            self.basic.push(held);
        }
        self.inverse = Inverse::diagonal(&signs);
    }

    pub(super) fn read_rhs<M: Model<Tag = T>>(&mut self, model: &M) {
        let nudge = |row: usize| NUDGE * (1.0 + ((row * 7919 + 13) % 97) as f64 / 97.0);
        let rows = model.rows().iter().enumerate();
        self.rhs = rows
            .map(|(row, of_row)| {
                let by = if of_row.equal {
                    nudge(row)
                } else {
                    -nudge(row)
                };
                of_row.rhs as f64 * self.scale[row] + by
            })
            .collect();
    }

    /// Right-hand sides less what the keys give.
    pub(super) fn rest(&self) -> Vec<f64> {
        let mut rest = self.rhs.clone();
        for &key in &self.keys {
            for &(row, by) in &self.held[key].entries {
                rest[row] -= by;
            }
        }
        rest
    }

    pub(super) fn hold(&mut self, set: usize, column: Column<T>) -> usize {
        let entries = column.entries.iter();
        let entries = entries.map(|&(row, by)| (row, by as f64 * self.scale[row]));
        self.held.push(Held {
            of: Of::Set(set),
            entries: entries.collect(),
            cost: column.cost as f64,
            column: Some(column),
        });
        self.held.len() - 1
    }

    pub(super) fn hold_single(&mut self, of: Of) -> usize {
        let (entries, cost) = match of {
            Of::Surplus(row) => (vec![(row, -1.0)], 0.0),
            Of::Missing(row, sign) => (vec![(row, sign as f64)], MISSING as f64),
            Of::Set(_) => (Vec::new(), 0.0),
        };
        self.held.push(Held {
            of,
            column: None,
            entries,
            cost,
        });
        self.held.len() - 1
    }

    /// Begins again around the heaviest column of each set.
    pub(super) fn begin_again<M: Model<Tag = T>>(&mut self, model: &M) {
        self.settle_keys();
        self.begin(model);
    }

    /// Makes the heaviest column of each set its key, alone.
    fn settle_keys(&mut self) {
        let mut best = self.key_weights.clone();
        for (row, &held) in self.basic.iter().enumerate() {
            if let Of::Set(set) = self.held[held].of
                && self.weights[row] > best[set]
            {
                best[set] = self.weights[row];
                self.keys[set] = held;
            }
        }
        self.key_weights.iter_mut().for_each(|weight| *weight = 1.0);
    }
}
