//! The season as sets of columns tied together by rows: a set for each colony, and one for each whole number.

mod dive;
mod divide;
mod exchange;
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

use super::listing::Trajectory;
use super::season::{Need, Season};
use super::walk::Level;

/// What a queen weighs beside grams, in the search for most of them; costs go in such steps there.
pub(crate) const QUEEN: i64 = 1000;

/// A colony: what it may give, and what a node leaves of that.
#[derive(Clone)]
pub(crate) struct Giver {
    pub columns: Arc<Vec<Trajectory>>,
    pub entries: Rc<Vec<Vec<(usize, i64)>>>,
    pub levels: Arc<Vec<Level>>,
    /// The same by row, for the first look at prices.
    pub dense: Rc<Dense>,
    /// Positions that the node allows, ascending.
    pub left: Rc<Vec<u32>>,
}

/// What columns count in the rows that any of them counts in.
pub(crate) struct Dense {
    /// Row, its entries by column, and the greatest of them.
    rows: Vec<(usize, Vec<f64>, f64)>,
    costs: Vec<f64>,
    most_cost: f64,
}

impl Dense {
    pub fn of(columns: &[Trajectory], entries: &[Vec<(usize, i64)>]) -> Self {
        let mut used: Vec<usize> = entries.iter().flatten().map(|of| of.0).collect();
        used.sort_unstable();
        used.dedup();
        let rows = used.into_iter().map(|row| {
            let by = |entries: &Vec<(usize, i64)>| {
                let own = entries.iter().find(|of| of.0 == row);
                own.map_or(0.0, |of| of.1 as f64)
            };
            let by: Vec<f64> = entries.iter().map(by).collect();
            let most = by.iter().fold(0.0, |most: f64, by| most.max(by.abs()));
            (row, by, most)
        });
        let costs: Vec<f64> = columns.iter().map(|column| column.cost as f64).collect();
        Self {
            rows: rows.collect(),
            most_cost: costs.iter().fold(0.0, |most: f64, by| most.max(by.abs())),
            costs,
        }
    }

    /// Reduced costs of all columns, nearly, and by how much at most these are wrong.
    fn values(&self, with_cost: bool, prices: &[i64]) -> (Vec<f64>, f64) {
        let unit = f64::from(1 << SHIFT);
        let (mut values, mut size): (Vec<f64>, f64) = match with_cost {
            true => (
                self.costs.iter().map(|cost| cost * unit).collect(),
                self.most_cost * unit,
            ),
            false => (vec![0.0; self.costs.len()], 0.0),
        };
        for (row, by, most) in &self.rows {
            let price = prices[*row] as f64;
            if price == 0.0 {
                continue;
            }
            size += price.abs() * most;
            values
                .iter_mut()
                .zip(by)
                .for_each(|(value, by)| *value -= price * by);
        }
        // Each of the sums is off by less than so many times 2^-52 of all that was added.
        (
            values,
            size * (self.rows.len() + 2) as f64 * f64::EPSILON + 1.0,
        )
    }
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
    /// What a compartment otherwise than people were told costs.
    pub otherwise: i64,
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

    /// Leaves all choices.
    pub fn reset(&mut self) {
        for whole in &mut self.wholes {
            (whole.from, whole.to) = (whole.least, whole.most);
        }
        for giver in &mut self.givers {
            giver.left = Rc::new((0..giver.columns.len() as u32).collect());
        }
    }

    /// What one of a whole number costs towards the goal.
    fn price_of(&self, whole: &Whole) -> i64 {
        match (self.goal, whole.figure) {
            (Goal::Want(want), Figure::Want(of)) if want == of => -QUEEN,
            (Goal::Cost, Figure::New(..) | Figure::Next(..)) => 1,
            (Goal::Cost, Figure::Otherwise(_)) => self.otherwise,
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
                let with_cost = objective == Objective::Cost && self.goal == Goal::Cost;
                let (values, off) = giver.dense.values(with_cost, prices);
                let own = giver.left.iter().map(|&at| values[at as usize]);
                let near = own.fold(f64::INFINITY, f64::min) + 2.0 * off;
                let value = |&at: &u32| {
                    let at = at as usize;
                    let cost = self.giver_cost(giver, at, objective);
                    (reduced(cost, &giver.entries[at], prices), at as i64)
                };
                let left = giver.left.iter();
                let left = left.filter(|&&at| values[at as usize] <= near);
                left.map(value).min()
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
