//! Compartments in which bees stand from an earlier day: what the file says of each.

use super::fields as t;
use jiff::civil::Date;
use spareframe_solver as s;
use spareframe_weeks::Stand;

/// How the queen of a compartment is that stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Queen {
    /// A cell is in.
    #[default]
    Cell,
    /// She has emerged.
    Virgin,
    /// Eggs are seen.
    Laying,
    /// Flat sealed worker brood is seen.
    Mated,
    /// She is mated and is to be taken.
    ToBeTaken,
    /// There is none.
    None,
    /// She lays drones alone.
    DroneLayer,
    /// Workers lay.
    LayingWorkers,
}

/// In the order of [`t::QUEEN`].
pub(super) const QUEENS: [Queen; 8] = [
    Queen::Cell,
    Queen::Virgin,
    Queen::Laying,
    Queen::Mated,
    Queen::ToBeTaken,
    Queen::None,
    Queen::DroneLayer,
    Queen::LayingWorkers,
];

impl Queen {
    /// As the file says it.
    #[must_use]
    pub fn word(self) -> &'static str {
        let at = QUEENS.iter().position(|queen| *queen == self);
        at.and_then(|at| t::QUEEN.get(at))
            .copied()
            .unwrap_or_default()
    }
}

/// Why a compartment gets no next cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Barred {
    /// So many rounds have failed.
    Failed(u32),
    /// Workers lay.
    LayingWorkers,
    /// There has been no open brood for so many days.
    NoOpenBrood(i32),
}

impl std::fmt::Display for Barred {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Failed(times) => write!(f, "{times} rounds have failed"),
            Self::LayingWorkers => f.write_str("workers lay"),
            Self::NoOpenBrood(days) => write!(f, "there has been no open brood for {days} days"),
        }
    }
}

/// A compartment that stands, as the file says it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stands {
    /// Which compartment, and what was in it on the day it was counted.
    pub counted_as: s::Standing,
    /// Where its frames hang, by frame group, in the words of the file.
    pub places: Vec<Option<String>>,
    /// The day bees went in.
    pub since: Date,
    /// The day of what was in it.
    pub counted: Date,
    /// Colonies that its brood and bees came from, in the words of the file.
    pub from: Vec<String>,
    /// How its queen was.
    pub queen: Queen,
    /// The day that was seen or done.
    pub seen: Date,
    /// The day of its present round.
    pub round: Date,
    /// The day from which its queen is known to lay, where she does.
    pub eggs: Option<Date>,
    /// Rounds without a mated queen since the last from which one came.
    pub failed: u32,
    /// Those before the last round from which one came.
    pub failed_before: u32,
    /// Queens that laid and were taken out so far.
    pub taken: u32,
    /// The first day for its next cell, where its queen was taken and nothing else is said.
    pub cell_from: Option<Date>,
    /// Why there is no next cell for it, if there is a reason.
    pub barred: Option<Barred>,
}

impl Stands {
    /// Rounds that failed before, from a round that went well on; `None` where none did since it was last said.
    pub(crate) fn failed_before_now(&self) -> Option<String> {
        let all = self.failed_before.saturating_add(self.failed);
        (self.failed > 0).then(|| all.to_string())
    }

    /// Whether it has been without a queen for long enough when cells go in on a day.
    #[must_use]
    pub fn may_have_cell(&self, day: Date) -> bool {
        self.cell_from.is_none_or(|from| from <= day)
    }

    /// What it is reckoned from; `day` is the stocking day.
    #[must_use]
    pub fn stand(&self, day: Date) -> Stand {
        let days = |from: Date, to: Date| u32::try_from((to - from).get_days()).unwrap_or(0);
        Stand {
            standing: self.counted_as.clone(),
            ago: days(self.counted, day),
            lays_from: self.eggs.map(|eggs| days(self.counted, eggs)),
        }
    }
}
