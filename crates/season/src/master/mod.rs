//! The season as sets of columns tied together by rows: a set for each colony, and one for each whole number.

mod divide;
mod held;
mod listed;
mod round;
mod rows;
mod tighten;

use std::rc::Rc;
use std::sync::Arc;

use spareframe_engine::{Column, Model, Objective, Priced, Row, SHIFT};

pub use listed::Listed;
pub(crate) use rows::{Figure, RowOf, lots};

use super::season::{Need, Season};
use super::walk::{Level, Trajectory};

/// What a queen weighs beside grams, in the search for most of them; costs go in such steps there.
pub(crate) const QUEEN: i64 = 1000;

/// A colony: what it may give, and what a node leaves of that.
#[derive(Clone)]
pub(crate) struct Giver {
    pub columns: Arc<Vec<Trajectory>>,
    pub entries: Rc<Vec<Vec<(usize, i64)>>>,
    pub levels: Arc<Vec<Level>>,
    /// Positions that the node allows, ascending.
    pub left: Rc<Vec<u32>>,
}

/// A whole number between bounds.
#[derive(Debug, Clone)]
pub(crate) struct Whole {
    pub figure: Figure,
    pub least: i64,
    pub most: i64,
    /// What a node leaves.
    pub from: i64,
    pub to: i64,
    pub entries: Vec<(usize, i64)>,
}

/// What is searched for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Goal {
    /// As much as can be of a want.
    Want(usize),
    /// Least cost.
    Cost,
}

/// What a column stands for: the position of a trajectory, or a number.
pub(crate) type Tag = i64;

/// The model.
#[derive(Clone)]
pub(crate) struct Master {
    pub rows: Vec<Row>,
    pub keys: Vec<RowOf>,
    pub givers: Vec<Giver>,
    pub wholes: Vec<Whole>,
    pub goal: Goal,
    /// By kind and round: what a next cell lacks.
    pub lacks: Vec<Vec<Option<Need>>>,
}

/// All that is chosen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Solution {
    /// By colony: the position of its trajectory.
    pub colonies: Vec<usize>,
    /// By whole number.
    pub wholes: Vec<i64>,
}

impl Master {
    pub fn new(season: &Season, listed: &Listed) -> Self {
        rows::build(season, listed, true)
    }

    /// The same with bounds of numbers that hold whatever colonies may give.
    pub fn loose(season: &Season, listed: &Listed) -> Self {
        rows::build(season, listed, false)
    }

    /// What one of a whole number costs towards the goal.
    fn price_of(&self, whole: &Whole) -> i64 {
        match (self.goal, whole.figure) {
            (Goal::Want(want), Figure::Want(of)) if want == of => -QUEEN,
            (Goal::Cost, Figure::New(..) | Figure::Next(..)) => 1,
            _ => 0,
        }
    }

    fn column(&self, set: usize, objective: Objective, tag: Tag) -> Column<Tag> {
        let cost = self.cost(set, objective, &tag);
        let entries = match self.givers.get(set) {
            Some(giver) => giver.entries[tag as usize].clone(),
            None => {
                let whole = &self.wholes[set - self.givers.len()];
                let entries = whole.entries.iter().filter(|_| tag != 0);
                entries.map(|&(row, by)| (row, by * tag)).collect()
            }
        };
        Column { cost, entries, tag }
    }

    fn giver_cost(&self, giver: &Giver, at: usize, objective: Objective) -> i64 {
        match objective {
            Objective::Cost if self.goal == Goal::Cost => giver.columns[at].cost,
            _ => 0,
        }
    }

    /// The cost of a solution, and whether it keeps every row.
    pub fn recount(&self, solution: &Solution) -> (i64, bool) {
        let mut left: Vec<i64> = self.rows.iter().map(|row| -row.rhs).collect();
        let mut cost = 0;
        let tags = solution.colonies.iter().map(|&at| at as i64);
        for (set, tag) in tags.chain(solution.wholes.iter().copied()).enumerate() {
            let column = self.column(set, Objective::Cost, tag);
            cost += column.cost;
            for (row, by) in column.entries {
                left[row] += by;
            }
        }
        let mut wholes = self.wholes.iter().zip(&solution.wholes);
        let within = wholes.all(|(whole, value)| (whole.least..=whole.most).contains(value));
        let mut rows = self.rows.iter().zip(&left);
        (
            cost,
            within && rows.all(|(row, &left)| left == 0 || !row.equal && left > 0),
        )
    }

    /// Of a whole number, its value in a solution.
    pub fn value(&self, solution: &Solution, figure: Figure) -> i64 {
        let at = self.wholes.iter().position(|whole| whole.figure == figure);
        at.map_or(0, |at| solution.wholes[at])
    }
}

/// Reduced cost of a column with such a cost, in multiples of 2^-[`SHIFT`].
pub(super) fn reduced(cost: i64, entries: &[(usize, i64)], prices: &[i64]) -> i128 {
    let paid = entries
        .iter()
        .map(|&(row, by)| i128::from(prices[row]) * i128::from(by));
    (i128::from(cost) << SHIFT) - paid.sum::<i128>()
}

impl Model for Master {
    type Tag = Tag;

    fn rows(&self) -> &[Row] {
        &self.rows
    }

    fn sets(&self) -> usize {
        self.givers.len() + self.wholes.len()
    }

    fn first(&self, set: usize) -> Column<Tag> {
        let tag = match self.givers.get(set) {
            Some(giver) => giver.left.first().map_or(0, |&at| i64::from(at)),
            None => self.wholes[set - self.givers.len()].from,
        };
        self.column(set, Objective::Cost, tag)
    }

    fn price(&self, set: usize, objective: Objective, prices: &[i64], below: i128) -> Priced<Tag> {
        let best = match self.givers.get(set) {
            Some(giver) => {
                let value = |&at: &u32| {
                    let at = at as usize;
                    let cost = self.giver_cost(giver, at, objective);
                    (reduced(cost, &giver.entries[at], prices), at as i64)
                };
                giver.left.iter().map(value).min()
            }
            None => {
                let whole = &self.wholes[set - self.givers.len()];
                if whole.from > whole.to {
                    return Priced::none();
                }
                let cost = if objective == Objective::Cost {
                    self.price_of(whole)
                } else {
                    0
                };
                let each = reduced(cost, &whole.entries, prices);
                let level = if each < 0 { whole.to } else { whole.from };
                Some((each * i128::from(level), level))
            }
        };
        let Some((least, tag)) = best else {
            return Priced::none();
        };
        Priced {
            column: (least < below).then(|| self.column(set, objective, tag)),
            least,
        }
    }

    fn cost(&self, set: usize, objective: Objective, tag: &Tag) -> i64 {
        match self.givers.get(set) {
            Some(giver) => self.giver_cost(giver, *tag as usize, objective),
            None if objective == Objective::Cost => {
                self.price_of(&self.wholes[set - self.givers.len()]) * tag
            }
            None => 0,
        }
    }

    fn allows(&self, set: usize, tag: &Tag) -> bool {
        match self.givers.get(set) {
            Some(giver) => giver.left.binary_search(&(*tag as u32)).is_ok(),
            None => {
                let whole = &self.wholes[set - self.givers.len()];
                (whole.from..=whole.to).contains(tag)
            }
        }
    }

    fn stop(&self) -> bool {
        false
    }
}
