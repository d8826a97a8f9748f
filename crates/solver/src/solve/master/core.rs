//! Some sets are held at one column: those that have no other left, or all but a core in which a good plan
//! is looked for first.

use std::rc::Rc;

use super::super::engine::Column;
use super::{Master, Set, Tag};

impl Master<'_> {
    /// Holds all active sets at these columns but those to keep; those start with theirs.
    pub fn freeze(&mut self, columns: Vec<Column<Tag>>, keep: &dyn Fn(usize) -> bool) {
        let mut frozen = (*self.frozen).clone();
        let active = std::mem::take(&mut self.active);
        self.starts.clear();
        for (at, (set, column)) in active.into_iter().zip(columns).enumerate() {
            if keep(at) {
                self.active.push(set);
                self.starts.push(column);
                continue;
            }
            for &(row, by) in &column.entries {
                self.rows[row].rhs -= by;
            }
            frozen.insert(set, column);
        }
        self.frozen = Rc::new(frozen);
    }

    /// Frees all sets again; those that were active start with these columns, the others with theirs.
    pub fn thaw(&mut self, columns: Vec<Column<Tag>>) {
        let mut starts: Vec<Option<Column<Tag>>> = vec![None; self.sets.len()];
        for (&set, column) in self.active.iter().zip(columns) {
            starts[set] = Some(column);
        }
        for (&set, column) in &*self.frozen {
            for &(row, by) in &column.entries {
                self.rows[row].rhs += by;
            }
            starts[set] = Some(column.clone());
        }
        self.frozen = Rc::default();
        self.active = (0..self.sets.len()).collect();
        self.starts = starts.into_iter().flatten().collect();
    }

    /// What the columns cost at which sets are held.
    pub fn frozen_cost(&self) -> i64 {
        self.frozen.values().map(|column| column.cost).sum()
    }

    /// By active set: how much dearer its second best vector is than its best, at these prices; 0 of a set that
    /// is no colony.
    pub fn regrets(&self, prices: &[i64]) -> Vec<i64> {
        let of_set = |&set: &usize| match &self.sets[set] {
            Set::Colony(columns) => columns.regret(prices),
            _ => 0,
        };
        self.active.iter().map(of_set).collect()
    }

    /// Whether an active set stays closed whatever is done.
    pub fn stays_closed(&self, at: usize) -> bool {
        match self.set(at) {
            Set::Colony(columns) => columns.choices.closed && !columns.choices.opened,
            _ => false,
        }
    }
}
