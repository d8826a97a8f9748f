//! The record that every writer shares: a plan in names and units, with nothing left to decide.

mod colony;
mod compartment;
mod headline;
mod queens;

pub use colony::{
    Adding, BeesOnFrames, ColonyReport, Destination, DoneDraw, Filling, Given, Leaving, Level,
};
pub use compartment::{
    BeesReport, BoxQueen, CompartmentReport, FramesReport, Holds, LackingFrames, Lacks, LeftReport,
    Progress, StandsReport,
};
pub use headline::{AtMost, GoalName, Headline, KindReport, PricesReport, ProofReport, ProofState};

pub use queens::{AcceptedReport, ColonyQueens, QueenReport, QueensReport, RequeenReport};

use super::raise::RaiseReport;
use compartment::is_none;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Version of the plan format; it rises when a key changes its meaning.
pub const FORMAT_VERSION: u32 = 2;

/// One answer for one stocking day. Shares are of the comb, 0 to 1; bees are counted in hundreds and
/// given as bees; boxes, compartments and frame groups count from 1.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Report {
    /// Version of this format.
    pub spareframe_plan: u32,
    /// Title of the scenario.
    pub title: Option<String>,
    /// Stocking day, as year-month-day.
    pub day: Option<String>,
    /// The answer in short.
    pub headline: Headline,
    /// What is kept of an earlier plan; only where the plan was to be near one and is not the same.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kept: Option<Kept>,
    /// Frames that colonies are to give at least; where the answer is that a wish cannot be met,
    /// those that cannot. Absent where there are none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub wishes: Vec<Wish>,
    /// Limits that keep compartments empty; each, lifted alone, would let more be stocked. Looked
    /// for unasked in yards of usual size; else where nothing is possible, and with `--verbose`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub held_back_by: Vec<HeldBack>,
    /// Colonies that give none of what they have less of than they must keep, though their frames or bees would serve; absent
    /// where there are none, or all is stocked.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub below_floor: Vec<BelowFloor>,
    /// What to do, in order.
    #[serde(default)]
    pub steps: Vec<String>,
    /// What goes where; the only part that `verify` needs.
    pub compartments: Vec<CompartmentReport>,
    /// Compartments that are begun and not stocked: what is done stays in them, and nothing is added.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub begun: Vec<CompartmentReport>,
    /// Compartments in which bees stand from an earlier day and to which nothing is done.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub standing: Vec<LeftReport>,
    /// Mated queens out of what stands; absent where there are none and none is wanted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub queens: Option<QueensReport>,
    /// Each colony opened.
    pub colonies: Vec<ColonyReport>,
    /// Colonies left untouched.
    pub on_hold: Vec<OnHold>,
    /// What to bring to each site.
    pub carry: Vec<Carry>,
    /// Boxes into which something is still to be put, but for those that stand: where each is had ready.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub boxes: Vec<BoxReport>,
    /// What travels from a colony's site to that of a box in a closed carrying box, one for each compartment.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub closed_boxes: Vec<ClosedBox>,
    /// What to mind.
    pub cautions: Vec<Caution>,
    /// What the honey estimate assumes.
    pub estimate_assumptions: Vec<String>,
}

/// Colonies of one role below the same floors.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BelowFloor {
    /// Their role.
    pub role: String,
    /// What each must keep and has less of.
    pub must_keep: Vec<FloorReport>,
    /// Their names.
    pub colonies: Vec<String>,
}

/// What a colony must keep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FloorReport {
    /// Of what: `brood_frames`, `bees`, `stores_kg` or `drawn_frames`.
    pub of: String,
    /// How much.
    pub amount: f64,
}

/// What kind of answer this is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Answer {
    /// At least one compartment is stocked.
    Stocked,
    /// Proved: not one compartment can be stocked.
    NothingPossible,
    /// The time limit came before any plan was found.
    StoppedWithoutPlan,
    /// Proved: no plan meets the wishes.
    WishNotMet,
}

/// A wish: frames that a colony is to give at least.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Wish {
    /// Name of the colony.
    pub colony: String,
    /// Its frame group, from 1, where the frames are to be of one.
    pub frame_group: Option<usize>,
    /// How many at least.
    pub frames: u32,
    /// Why it cannot be met.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub not_met: Option<NotMet>,
    /// Floors and caps of the colony that forbid it; of each entry, easing is enough.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub held_by: Vec<HeldBack>,
}

/// Why a wish cannot be met.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum NotMet {
    /// The colony is on hold.
    OnHold,
    /// There are not so many frames without the queen.
    TooFewFrames,
    /// Floors, caps and recipes leave fewer frames.
    Limits,
    /// Not together with the compartments that can be stocked, and the other wishes.
    NotTogether,
}

/// A colony on hold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct OnHold {
    /// Name.
    pub colony: String,
    /// Why.
    pub reason: String,
}

/// Frames alike, in a load.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LoadFrames {
    /// How many.
    pub frames: u32,
    /// What each holds.
    pub each_holds: Holds,
    /// Of those that stand in a compartment, how many come out to make room.
    #[serde(default, skip_serializing_if = "is_none")]
    pub out: u32,
}

/// What goes from one place to one site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Carry {
    /// Site of the boxes, or of the colonies with gaps to fill.
    pub to_site: String,
    /// Site of the donors, or none for the store room.
    pub from_site: Option<String>,
    /// Frames for the boxes.
    pub frames: Vec<LoadFrames>,
    /// Frames that fill gaps in the colonies there; only given with the store room's load.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gap_frames: Vec<LoadFrames>,
    /// Bees, before drift.
    pub bees: i64,
    /// Cells or queens for the site; only given with the store room's load.
    pub cells: u32,
    /// When these cells or queens are brought, where that is later than the rest: a day, as year-month-day, or
    /// `1 day later`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cells_on: Option<String>,
    /// Feed for the site, in kg of honey equivalent; only given with the store room's load.
    pub feed_kg: f64,
}

/// A box that is filled on the day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct BoxReport {
    /// Kind of box.
    pub box_kind: String,
    /// Which box, from 1.
    pub box_no: u32,
    /// Where it is to stand.
    pub site: String,
    /// Where it is had ready.
    pub ready_at: String,
    /// Sites at which it is filled on, on its way.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub then_at: Vec<String>,
    /// Frames that are in it already.
    #[serde(default, skip_serializing_if = "is_none")]
    pub frames_in: u32,
    /// Bees that are in it already, before drift.
    #[serde(default, skip_serializing_if = "is_none")]
    pub bees_in: i64,
    /// All is in it; such a box is not listed.
    #[serde(skip)]
    pub(in crate::output) finished: bool,
}

impl BoxReport {
    /// Something is in it already.
    pub(in crate::output) fn begun(&self) -> bool {
        self.frames_in > 0 || self.bees_in > 0
    }
}

/// What travels to one compartment in a closed carrying box.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct ClosedBox {
    /// Site of the colonies.
    pub from_site: String,
    /// Where the box stands.
    pub to_site: String,
    /// Kind of box.
    pub box_kind: String,
    /// Which box, from 1.
    pub box_no: u32,
    /// Which compartment of the box, from 1.
    pub compartment: u32,
    /// Frames, with the bees that ride on them.
    pub frames: u32,
    /// Bees, before drift: those on the frames and loose ones.
    pub bees: i64,
}

/// What a plan keeps of an earlier one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Kept {
    /// Day of the earlier plan.
    pub day: Option<String>,
    /// Frames that the earlier plan takes from colonies.
    pub frames_then: u64,
    /// Of those, frames that leave the same frame group now.
    pub frames_as_before: u64,
    /// Over all frame groups, how far the frames taken now and then are apart.
    pub frames_otherwise: u64,
    /// Compartments that the earlier plan stocks.
    pub compartments_then: u32,
    /// Of those, compartments that get the same frames now.
    pub compartments_as_before: u32,
    /// Colonies that give other frames or another number of bees.
    pub colonies_changed: Vec<String>,
}

/// A limit that keeps compartments empty.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct HeldBack {
    /// Id of its rule, or `several` where no single limit is at fault.
    pub rule: String,
    /// The limit, in words.
    pub text: String,
    /// Where it is frames that no colony has of its own: what to raise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub raise: Option<RaiseReport>,
}

/// Something to mind.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Caution {
    /// Stable id.
    pub id: String,
    /// What to mind.
    pub text: String,
}
