//! The pooled decision as sets of columns tied together by rows: one set for each colony, each kind of
//! box, each class of frames on the shelf, each batch of cells, and for bees counted at a site.

mod core;
mod cost;
mod divide;
mod leaf;
mod rows;
mod start;

use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

pub(crate) use cost::{cost_of, cost_of_donor};
pub(crate) use divide::Domain;
pub(crate) use leaf::Solution;
pub(crate) use start::{Basis, Restricted};

use super::columns::{Columns, Draw};
use super::engine::{Column, Model, Objective, Priced, Row};
use super::instance::Instance;
use super::progress::{Progress, Reached};

/// A whole number between bounds, with cost, worth and coefficients for each unit.
#[derive(Debug, Clone)]
pub(super) struct Levels {
    pub least: i64,
    pub most: i64,
    pub step: i64,
    /// Bounds that the node leaves.
    pub from: i64,
    pub to: i64,
    /// Worth of a unit, in units of the worth row.
    pub worth: i64,
    pub entries: Vec<(usize, i64)>,
}

/// So many units, shared out among uses.
#[derive(Debug, Clone)]
pub(super) struct Pool {
    pub count: i64,
    /// Row and cost of a unit.
    pub uses: Vec<(usize, i64)>,
}

pub(super) enum Set<'a> {
    Colony(Box<Columns<'a>>),
    Levels(Levels),
    Pool(Pool),
}

/// Slots that a search for a column goes through while a set with its columns at hand is priced (a choice).
const SLOTS: usize = 500;

/// What a column stands for.
#[derive(Debug, Clone)]
pub(crate) enum Tag {
    /// Of a colony.
    Draw(Draw),
    /// A level.
    Level(i64),
    /// All units for one use, or none.
    Use(Option<usize>),
}

/// The bees counted at a site.
#[derive(Debug, Clone)]
pub(super) struct Counted {
    pub site: usize,
    /// Loose bees alone.
    pub loose: bool,
    /// By share that stays: the row in which hundreds are summed, and the set of their sum. Where all bees
    /// stay and needs are hundreds, none: colonies count in `row` directly.
    pub sums: Vec<(i64, usize, usize)>,
    pub row: usize,
}

/// The model.
pub(crate) struct Master<'a> {
    pub instance: &'a Instance,
    rows: Vec<Row>,
    sets: Vec<Set<'a>>,
    /// Position of the first kind of box among the sets.
    kinds: usize,
    /// Positions of the sets that are searched.
    active: Vec<usize>,
    /// The columns at which all others are held.
    frozen: Rc<BTreeMap<usize, Column<Tag>>>,
    /// By active set: the column to start with.
    starts: Vec<Column<Tag>>,
    /// Further columns at hand at the start, and their active sets.
    further: Vec<(usize, Column<Tag>)>,
    /// By colony: which donor of today it is, if a change leaves it as it was.
    pub same: Vec<Option<usize>>,
    counted: Vec<Counted>,
    worth_row: usize,
    /// What worth is counted in.
    pub unit: i64,
    /// The best solution so far, whatever worth is asked for.
    pub aside: Option<Solution>,
    /// Costs of whole solutions are multiples of this.
    step: i64,
    pub clock: Clock<'a>,
}

/// When to stop, and who is told how far it has come.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Clock<'a> {
    pub until: Option<Instant>,
    pub cancel: Option<&'a AtomicBool>,
    pub progress: Option<&'a Progress>,
}

impl Clock<'_> {
    /// Stops after so long from now.
    pub fn of(limit: Option<Duration>) -> Self {
        Self {
            until: limit.and_then(|limit| Instant::now().checked_add(limit)),
            ..Self::default()
        }
    }

    pub fn over(&self) -> bool {
        self.until.is_some_and(|until| Instant::now() >= until) || self.called_off()
    }

    pub fn called_off(&self) -> bool {
        let cancel = self.cancel;
        cancel.is_some_and(|cancel| cancel.load(Ordering::Relaxed))
    }

    pub fn tell(&self, change: impl FnOnce(&mut Reached)) {
        if let Some(progress) = self.progress {
            progress.tell(change);
        }
    }
}

impl<'a> Master<'a> {
    /// Asks for so much worth, in units of [`Master::unit`], at least. Nothing is fixed or frozen then.
    pub fn ask(&mut self, worth: i64) {
        self.rows[self.worth_row].rhs = worth;
        self.step = 1;
        for set in &mut self.sets {
            match set {
                Set::Colony(columns) => columns.free(),
                Set::Levels(levels) => (levels.from, levels.to) = (levels.least, levels.most),
                Set::Pool(_) => {}
            }
        }
    }

    /// An active set.
    fn set(&self, at: usize) -> &Set<'a> {
        &self.sets[self.active[at]]
    }

    pub fn colonies(&self) -> impl Iterator<Item = &Columns<'a>> {
        self.sets.iter().filter_map(|set| match set {
            Set::Colony(columns) => Some(&**columns),
            _ => None,
        })
    }
}

impl Levels {
    fn value(&self, objective: Objective, prices: &[i64]) -> i128 {
        let worth = if objective == Objective::Worth {
            self.worth
        } else {
            0
        };
        let rows = self.entries.iter();
        let rows = rows.map(|&(row, by)| i128::from(prices[row]) * i128::from(by));
        -(i128::from(worth) << super::engine::SHIFT) - rows.sum::<i128>()
    }

    fn column(&self, objective: Objective, level: i64) -> Column<Tag> {
        Column {
            cost: if objective == Objective::Worth {
                -self.worth * level
            } else {
                0
            },
            entries: self
                .entries
                .iter()
                .map(|&(row, by)| (row, by * level))
                .collect(),
            tag: Tag::Level(level),
        }
    }
}

impl Pool {
    fn column(&self, objective: Objective, of: Option<usize>) -> Column<Tag> {
        let used = of.and_then(|at| self.uses.get(at));
        let cost = used.map_or(0, |&(_, cost)| cost * self.count);
        Column {
            cost: if objective == Objective::Cost {
                cost
            } else {
                0
            },
            entries: used
                .map(|&(row, _)| (row, self.count))
                .into_iter()
                .collect(),
            tag: Tag::Use(of),
        }
    }

    fn best(&self, objective: Objective, prices: &[i64]) -> Option<usize> {
        let one = if objective == Objective::Cost {
            1 << super::engine::SHIFT
        } else {
            0
        };
        let values = self
            .uses
            .iter()
            .map(|&(row, cost)| cost * one - prices[row]);
        let best = values.enumerate().min_by_key(|&(at, value)| (value, at));
        best.filter(|&(_, value)| value < 0).map(|(at, _)| at)
    }
}

fn tagged(column: Column<Draw>) -> Column<Tag> {
    Column {
        cost: column.cost,
        entries: column.entries,
        tag: Tag::Draw(column.tag),
    }
}

impl Model for Master<'_> {
    type Tag = Tag;

    fn rows(&self) -> &[Row] {
        &self.rows
    }

    fn sets(&self) -> usize {
        self.active.len()
    }

    fn first(&self, set: usize) -> Column<Tag> {
        self.starts[set].clone()
    }

    fn price(&self, set: usize, objective: Objective, prices: &[i64], below: i128) -> Priced<Tag> {
        let column = match self.set(set) {
            Set::Colony(columns) => {
                let priced = columns.price(objective, prices, below);
                return Priced {
                    column: priced.column.map(tagged),
                    least: priced.least,
                };
            }
            Set::Levels(levels) if levels.from > levels.to => return Priced::none(),
            Set::Levels(levels) => {
                let up = levels.value(objective, prices) < 0;
                levels.column(objective, if up { levels.to } else { levels.from })
            }
            Set::Pool(pool) => pool.column(objective, pool.best(objective, prices)),
        };
        let least = column.value(prices);
        Priced {
            column: (least < below).then_some(column),
            least,
        }
    }

    fn cost(&self, set: usize, objective: Objective, tag: &Tag) -> i64 {
        match (self.set(set), tag) {
            (Set::Colony(_), Tag::Draw(draw)) if objective == Objective::Cost => draw.cost,
            (Set::Levels(levels), Tag::Level(level)) => levels.column(objective, *level).cost,
            (Set::Pool(pool), Tag::Use(of)) => pool.column(objective, *of).cost,
            _ => 0,
        }
    }

    fn allows(&self, set: usize, tag: &Tag) -> bool {
        match (self.set(set), tag) {
            (Set::Colony(columns), Tag::Draw(draw)) => columns.allows(draw),
            (Set::Levels(levels), Tag::Level(level)) => (levels.from..=levels.to).contains(level),
            _ => true,
        }
    }

    fn stop(&self) -> bool {
        self.clock.over()
    }

    fn searched(&self) -> usize {
        let slots = self.colonies().map(|columns| columns.searched.take());
        slots.sum::<usize>() / SLOTS
    }
}
