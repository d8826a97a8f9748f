//! A season made cheaper: colonies, one by one and two by two, take other trajectories that give all that is needed still.

use super::{Figure, Goal, Master, Solution};

/// Times that all colonies are looked at (a choice).
const PASSES: usize = 20;
/// Pairs of trajectories that are looked at in a pass (a choice).
const PAIRS: usize = 40_000_000;

/// The trajectories of a colony, the cheapest first.
struct Own {
    /// Position and cost.
    order: Vec<(usize, i64)>,
    /// What each gives to each row, one after another, in that order.
    gives: Vec<i64>,
    /// The most that any gives to each row.
    most: Vec<i64>,
}

/// What is to be given, and who may give it.
struct Exchange {
    rows: usize,
    all: Vec<Own>,
    /// By colony: place in its order.
    at: Vec<usize>,
    /// What each row has over.
    left: Vec<i64>,
}

impl Exchange {
    fn gives(&self, colony: usize, place: usize) -> &[i64] {
        &self.all[colony].gives[place * self.rows..][..self.rows]
    }

    fn cost(&self, colony: usize, place: usize) -> i64 {
        self.all[colony].order[place].1
    }

    /// What is needed of a colony if all others stay.
    fn needed(&self, colonies: &[usize]) -> Vec<i64> {
        let mut needed: Vec<i64> = self.left.iter().map(|left| -left).collect();
        for &colony in colonies {
            let gives = self.gives(colony, self.at[colony]);
            needed
                .iter_mut()
                .zip(gives)
                .for_each(|(needed, gives)| *needed += gives);
        }
        needed
    }

    fn take(&mut self, colony: usize, place: usize) {
        for row in 0..self.rows {
            let own = &self.all[colony].gives;
            self.left[row] += own[place * self.rows + row] - own[self.at[colony] * self.rows + row];
        }
        self.at[colony] = place;
    }

    /// A cheaper trajectory of one colony.
    fn one(&mut self, colony: usize) -> bool {
        let needed = self.needed(&[colony]);
        let now = self.cost(colony, self.at[colony]);
        let cheaper =
            (0..self.all[colony].order.len()).take_while(|&of| self.cost(colony, of) < now);
        let enough = |of: &usize| covers(self.gives(colony, *of), &needed);
        let found = { cheaper }.find(enough);
        if let Some(place) = found {
            self.take(colony, place);
        }
        found.is_some()
    }

    /// The cheapest trajectories of two colonies.
    fn two(&mut self, (a, b): (usize, usize), pairs: &mut usize) -> bool {
        let needed = self.needed(&[a, b]);
        let now = self.cost(a, self.at[a]) + self.cost(b, self.at[b]);
        let (mut best, mut found) = (now, None);
        let Some(&(_, least)) = self.all[b].order.first() else {
            return false;
        };
        let mut rest = vec![0; self.rows];
        for first in 0..self.all[a].order.len() {
            let cost = self.cost(a, first);
            if cost + least >= best {
                break;
            }
            let gives = self.gives(a, first);
            for ((rest, needed), gives) in rest.iter_mut().zip(&needed).zip(gives) {
                *rest = needed - gives;
            }
            if !covers(&self.all[b].most, &rest) {
                continue;
            }
            let seconds = self.all[b].gives.chunks_exact(self.rows);
            for (second, gives) in seconds.enumerate() {
                let both = cost + self.cost(b, second);
                *pairs += 1;
                if both >= best {
                    break;
                }
                if covers(gives, &rest) {
                    (best, found) = (both, Some((first, second)));
                    break;
                }
            }
        }
        if let Some((first, second)) = found {
            self.take(a, first);
            self.take(b, second);
        }
        found.is_some()
    }

    fn run(&mut self) {
        let colonies = self.all.len();
        for _ in 0..PASSES {
            let (mut moved, mut pairs) = (false, 0);
            for a in 0..colonies {
                moved |= self.one(a);
                for b in 0..a {
                    if pairs < PAIRS {
                        moved |= self.two((a, b), &mut pairs);
                    }
                }
            }
            if !moved {
                break;
            }
        }
    }
}

fn covers(gives: &[i64], needed: &[i64]) -> bool {
    gives
        .iter()
        .zip(needed)
        .all(|(gives, needed)| gives >= needed)
}

impl Master {
    /// The same numbers at less cost, where two colonies or one can give what is needed cheaper.
    pub(crate) fn exchanged(&self, solution: &Solution) -> Solution {
        if self.goal != Goal::Cost {
            return solution.clone();
        }
        let mut used: Vec<usize> = Vec::new();
        for entries in self.givers.iter().flat_map(|giver| giver.entries.iter()) {
            used.extend(entries.iter().map(|of| of.0));
        }
        used.sort_unstable();
        used.dedup();
        let place = |row: usize| used.binary_search(&row).ok();
        let own = |giver: &super::Giver| {
            let columns = giver.columns.iter().enumerate();
            let mut order: Vec<(usize, i64)> = columns.map(|(at, of)| (at, of.cost)).collect();
            order.sort_by_key(|&(at, cost)| (cost, at));
            let mut gives = vec![0; order.len() * used.len()];
            let mut most = vec![i64::MIN; used.len()];
            for ((at, _), gives) in order.iter().zip(gives.chunks_exact_mut(used.len())) {
                for &(row, by) in &giver.entries[*at] {
                    if let Some(row) = place(row) {
                        gives[row] = by;
                    }
                }
                most.iter_mut()
                    .zip(gives)
                    .for_each(|(most, by)| *most = (*most).max(*by));
            }
            Own { order, gives, most }
        };
        if used.is_empty() {
            return solution.clone();
        }
        let all: Vec<Own> = self.givers.iter().map(own).collect();
        let at = all.iter().zip(&solution.colonies).map(|(own, at)| {
            let found = own.order.iter().position(|(of, _)| of == at);
            found.unwrap_or(0)
        });
        // Only frames that are needed are to be given.
        let mut solution = solution.clone();
        let left = self.left(&solution);
        for (whole, value) in self.wholes.iter().zip(&mut solution.wholes) {
            let asked = whole.entries.iter().find(|of| of.1 > 0);
            if let (Figure::Frames(..), Some(&(row, by))) = (whole.figure, asked) {
                *value -= left[row].div_euclid(by).clamp(0, *value);
            }
        }
        let left = self.left(&solution);
        let mut exchange = Exchange {
            rows: used.len(),
            at: at.collect(),
            left: used.iter().map(|&row| left[row]).collect(),
            all,
        };
        exchange.run();
        let colonies = exchange.all.iter().zip(&exchange.at);
        Solution {
            colonies: colonies.map(|(own, &at)| own.order[at].0).collect(),
            wholes: solution.wholes,
        }
    }

    /// What each row has over.
    fn left(&self, solution: &Solution) -> Vec<i64> {
        let mut left: Vec<i64> = self.rows.iter().map(|row| -row.rhs).collect();
        let colonies = self.givers.iter().zip(&solution.colonies);
        for &(row, by) in colonies.flat_map(|(giver, &at)| &giver.entries[at]) {
            left[row] += by;
        }
        for (whole, value) in self.wholes.iter().zip(&solution.wholes) {
            for &(row, by) in &whole.entries {
                left[row] += by * value;
            }
        }
        left
    }
}
