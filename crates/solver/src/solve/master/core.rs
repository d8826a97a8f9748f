//! Sets frozen at one column: colonies that can only stay closed, or all but a core in which a good plan is
//! looked for first.

use std::collections::BTreeMap;
use std::rc::Rc;

use super::super::engine::{Column, Row};
use super::{Master, Set, Tag};

/// What is restored when sets are free again.
pub(crate) struct Saved {
    active: Vec<usize>,
    frozen: Rc<BTreeMap<usize, Column<Tag>>>,
    starts: Vec<Column<Tag>>,
    rows: Vec<Row>,
    step: i64,
}

impl Master<'_> {
    /// Holds all active sets at these columns but those to keep, which start with theirs.
    pub fn freeze(&mut self, columns: Vec<Column<Tag>>, keep: &dyn Fn(usize) -> bool) -> Saved {
        let saved = Saved {
            active: std::mem::take(&mut self.active),
            frozen: self.frozen.clone(),
            starts: std::mem::take(&mut self.starts),
            rows: self.rows.clone(),
            step: self.step,
        };
        let mut frozen = (*self.frozen).clone();
        for (at, (&set, column)) in saved.active.iter().zip(columns).enumerate() {
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
        saved
    }

    /// Frees sets again.
    pub fn thaw(&mut self, saved: Saved) {
        self.active = saved.active;
        self.frozen = saved.frozen;
        self.starts = saved.starts;
        self.rows = saved.rows;
        self.step = saved.step;
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

    /// Whether an active set is a kind of box.
    pub fn is_kind(&self, at: usize) -> bool {
        let kinds = self.kinds..self.kinds + self.instance.kinds.len();
        kinds.contains(&self.active[at])
    }

    /// Whether an active set stays closed whatever is done.
    pub fn stays_closed(&self, at: usize) -> bool {
        match self.set(at) {
            Set::Colony(columns) => columns.choices.closed && !columns.choices.opened,
            _ => false,
        }
    }
}
