//! What a question about a changed yard starts from: columns of a basis of today, and levels as a part of all plans
//! restricts them.

use super::super::engine::{Column, Objective, Simplex};
use super::{Master, Set, Tag};

/// A basis, for questions about changed yards.
pub(crate) struct Basis {
    columns: Vec<(usize, Column<Tag>)>,
    colonies: usize,
    others: usize,
    rows: usize,
}

/// The least and the greatest level of a set, where they are restricted.
pub(crate) type Restricted = (Option<i64>, Option<i64>);

impl Master<'_> {
    /// Starts with the columns of a basis of today, so far as there still are the sets and rows.
    pub fn start_with(&mut self, basis: &Basis) {
        let mut at = vec![None; basis.colonies];
        for (set, of_today) in self.same.iter().enumerate() {
            if let Some(of_today) = of_today {
                at[*of_today] = Some(set);
            }
        }
        let kinds = self.kinds;
        let others = self.sets.len() - kinds == basis.others && self.rows.len() == basis.rows;
        let set = |of_today: usize| match of_today.checked_sub(basis.colonies) {
            None => at[of_today],
            Some(other) => others.then_some(kinds + other),
        };
        let mut started = vec![false; self.sets.len()];
        for (of_today, column) in &basis.columns {
            let Some(set) = set(*of_today).filter(|&set| self.has(set, column)) else {
                continue;
            };
            if std::mem::replace(&mut started[set], true) {
                self.further.push((set, column.clone()));
            } else {
                self.starts[set] = column.clone();
            }
        }
    }

    /// Whether a set that was there today has this column of it.
    fn has(&self, set: usize, column: &Column<Tag>) -> bool {
        match (&self.sets[set], &column.tag) {
            (Set::Colony(_), Tag::Draw(_)) => true,
            (Set::Levels(levels), &Tag::Level(level)) => {
                let same = levels.column(Objective::Cost, level);
                (levels.least..=levels.most).contains(&level) && same.entries == column.entries
            }
            (Set::Pool(pool), &Tag::Use(of)) => {
                let same = pool.column(Objective::Cost, of);
                same.entries == column.entries && same.cost == column.cost
            }
            _ => false,
        }
    }

    /// A simplex of all sets, with the columns at hand.
    pub fn simplex(&mut self) -> Simplex<Tag> {
        let mut simplex = Simplex::new(self);
        simplex.hold_all(std::mem::take(&mut self.further));
        simplex
    }

    /// The basis of a simplex of all sets.
    pub fn basis(&self, simplex: &Simplex<Tag>) -> Basis {
        Basis {
            columns: simplex.basis(),
            colonies: self.kinds,
            others: self.sets.len() - self.kinds,
            rows: self.rows.len(),
        }
    }

    /// By set that is no colony: the least and the greatest level, where the node restricts them.
    pub fn restricted_levels(&self) -> Vec<Restricted> {
        let of_set = |set: &Set| match set {
            Set::Levels(of) => (
                (of.from > of.least).then_some(of.from),
                (of.to < of.most).then_some(of.to),
            ),
            _ => (None, None),
        };
        self.sets[self.kinds..].iter().map(of_set).collect()
    }

    /// Restricts levels so, and nothing else; whether there are as many sets.
    pub fn restrict_levels(&mut self, to: &[Restricted]) -> bool {
        let sets = &mut self.sets[self.kinds..];
        for (set, &(from, to)) in sets.iter_mut().zip(to) {
            if let Set::Levels(levels) = set {
                levels.from = from.unwrap_or(levels.least).max(levels.least);
                levels.to = to.unwrap_or(levels.most).min(levels.most);
            }
        }
        sets.len() == to.len()
    }
}
