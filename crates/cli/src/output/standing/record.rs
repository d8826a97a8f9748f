//! The record that every writer of what stands shares.

use crate::output::counted::CountedOn;
use crate::output::report::QueensReport;
use serde::Serialize;

/// Version of this format; it rises when a key changes its meaning.
pub const FORMAT_VERSION: u32 = 1;

/// Compartments in which bees stand, on one day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StandingReport {
    /// Version of this format.
    pub spareframe_standing: u32,
    /// Title of the scenario.
    pub title: Option<String>,
    /// The day, as year-month-day.
    pub day: String,
    /// When colonies and compartments were counted; absent where that was on this day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub counted_on: Option<CountedOn>,
    /// Success so far.
    pub so_far: SoFar,
    /// All of them, in the order of the scenario.
    pub compartments: Vec<CompartmentStanding>,
    /// Mated queens out of these compartments, as in a plan; which boxes get one is said by the plan alone.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub queens: Option<QueensReport>,
    /// What to mind.
    pub mind: Vec<String>,
}

/// What has come of the compartments that stand.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SoFar {
    /// Compartments with a mated queen.
    pub mated: u32,
    /// Compartments in which eggs were seen, and no sealed brood yet.
    pub laying: u32,
    /// Compartments without a queen, or with one that is of no use.
    pub without: u32,
    /// Compartments with a cell or a virgin queen.
    pub open: u32,
    /// Queens that laid in them and were taken out.
    pub taken: u32,
    /// Rounds that have failed in them, the present one included.
    pub failed_rounds: u32,
    /// Lowest share that is published, or your own.
    pub least_share: f64,
    /// Highest share.
    pub most_share: f64,
    /// Where these are from.
    pub basis: String,
}

/// One compartment.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CompartmentStanding {
    /// Its name, as `mating box 1.2`.
    pub name: String,
    /// Kind of box.
    pub box_kind: String,
    /// Which box, from 1.
    pub box_no: u32,
    /// Which compartment of the box, from 1.
    pub compartment: u32,
    /// Where it stands.
    pub site: String,
    /// Colonies that its brood and bees came from.
    pub from: Vec<String>,
    /// Days since bees went in.
    pub days: u32,
    /// How its queen was when it was seen, in the word of the scenario.
    pub queen: String,
    /// The day of that.
    pub seen: String,
    /// How she is expected to be by now; null where nothing else is.
    pub queen_expected: Option<String>,
    /// Bees.
    pub bees: i64,
    /// Brood, in full frames.
    pub brood_frames: f64,
    /// The day of its count, where bees and brood are expected since; absent where they were counted on the day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub counted: Option<String>,
    /// Rounds without a mated queen so far.
    pub failed: u32,
    /// What is to be done next.
    pub next: NextReport,
}

/// What is to be done with a compartment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct NextReport {
    /// Stable id: `leave`, `look`, `take`, `next_cell` or `unite`.
    pub id: String,
    /// It can be done today.
    pub today: bool,
    /// First day for it, as year-month-day; what is to be left is left until then.
    pub first_day: String,
    /// Last day for it, where there is one.
    pub last_day: Option<String>,
    /// What it is, in a sentence without its days.
    pub text: String,
    /// Bees that it should be given, about; null where it has enough.
    pub give_bees: Option<i64>,
}
