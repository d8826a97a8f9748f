//! The record that every writer shares: a plan in names and units, with nothing left to decide.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Version of the plan format; it rises when a key changes its meaning.
pub const FORMAT_VERSION: u32 = 1;

/// One answer for one stocking day. Shares are of the comb, 0 to 1; boxes, compartments and
/// frame groups count from 1.
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
    /// What to do, in order.
    #[serde(default)]
    pub steps: Vec<String>,
    /// What goes where; the only part that `verify` needs.
    pub compartments: Vec<CompartmentReport>,
    /// Compartments that are begun and not stocked: what is done stays in them, and nothing is added.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub begun: Vec<CompartmentReport>,
    /// Each colony opened.
    pub colonies: Vec<ColonyReport>,
    /// Colonies left untouched.
    pub on_hold: Vec<OnHold>,
    /// What to bring to each site.
    pub carry: Vec<Carry>,
    /// What to mind.
    pub cautions: Vec<Caution>,
    /// What the honey estimate assumes.
    pub estimate_assumptions: Vec<String>,
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

/// How sure the answer is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum ProofState {
    /// No plan is better in the order of the goals.
    ProvedBest,
    /// Valid, but a goal is not proved.
    BestFound,
    /// Valid, but the time limit stopped the search.
    StoppedByTimeLimit,
}

/// How sure the answer is, and what is still open.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ProofReport {
    /// The state.
    pub state: ProofState,
    /// First goal that is not proved, with its unit.
    pub open_goal: Option<String>,
    /// Value of that goal in this plan.
    pub reached: Option<f64>,
    /// The best value that goal may still have.
    pub best_possible: Option<f64>,
}

/// The answer in short.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Headline {
    /// Kind of answer.
    pub answer: Answer,
    /// Compartments stocked.
    pub compartments_stocked: u32,
    /// Compartments there are.
    pub compartments_in_all: u64,
    /// The same by kind of box.
    pub kinds: Vec<KindReport>,
    /// How sure it is.
    pub proof: Option<ProofReport>,
    /// Worth of the stocked compartments (1 is one ordinary compartment).
    pub worth: f64,
    /// Honey given up, charged by the linear rates: an estimate.
    pub honey_given_up_charged_estimate_kg: f64,
    /// Honey given up, simulated again for the whole draw: an estimate.
    pub honey_given_up_simulated_estimate_kg: f64,
    /// Colonies opened.
    pub colonies_opened: u32,
    /// Bees taken, before drift.
    pub bees_taken: i64,
    /// Of those, bees shaken from frames that stay behind.
    pub bees_shaken: i64,
}

/// Compartments of one kind of box.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct KindReport {
    /// Kind of box.
    pub box_kind: String,
    /// Where the boxes stand.
    pub site: String,
    /// Compartments stocked.
    pub compartments_stocked: u32,
    /// Compartments there are.
    pub compartments_in_all: u64,
    /// Boxes with at least one stocked compartment.
    pub boxes_used: u32,
    /// Boxes there are.
    pub boxes_in_all: u32,
}

/// What one frame holds.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Holds {
    /// Comb (frame size).
    pub comb: String,
    /// Brood, share of the comb.
    pub brood_share: f64,
    /// Sealed brood, share of the comb.
    pub sealed_share: f64,
    /// Stores, share of the comb.
    pub stores_share: f64,
    /// Drawn, share of the comb.
    pub drawn_share: f64,
    /// Covered with bees, share of the comb.
    pub bees_share: f64,
}

/// Frames of one origin in one compartment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FramesReport {
    /// Recipe line they serve.
    pub line: String,
    /// How many.
    pub frames: u32,
    /// Colony they come from; absent for the store room.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub colony: Option<String>,
    /// Frame group of that colony, from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_group: Option<usize>,
    /// Entry of the store room, from 1; absent for a colony.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub store_room_entry: Option<usize>,
    /// Where they hang or lie, where the scenario says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// What each holds.
    pub each_holds: Holds,
    /// Set where these are a substitute: its place in the line's list, from 1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub substitute: Option<usize>,
    /// Feed for all of them together, in kg of honey equivalent.
    pub feed_kg: f64,
    /// Of these frames, those that are already in it.
    #[serde(default, skip_serializing_if = "is_none")]
    pub done: u32,
}

fn is_none<T: Default + PartialEq>(count: &T) -> bool {
    *count == T::default()
}

/// Bees of one colony in one compartment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct BeesReport {
    /// Colony they come from.
    pub colony: String,
    /// Bees taken, before drift.
    pub bees: i64,
    /// Of these bees, those that are already in it.
    #[serde(default, skip_serializing_if = "is_none")]
    pub done: i64,
}

/// How far a compartment is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Progress {
    /// Something is in it, and something is to be added.
    Begun,
    /// All is in it.
    Finished,
}

/// One stocked compartment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CompartmentReport {
    /// Kind of box.
    pub box_kind: String,
    /// Which box, from 1.
    pub box_no: u32,
    /// Which compartment of the box, from 1.
    pub compartment: u32,
    /// Where the box stands.
    pub site: String,
    /// Its frames.
    pub frames: Vec<FramesReport>,
    /// Its bees.
    pub bees: Vec<BeesReport>,
    /// Bees that stay after drift.
    pub bees_staying: i64,
    /// Fewest bees that must stay.
    pub bees_needed: i64,
    /// Bees that would cover the brood given.
    pub bees_to_cover_brood: i64,
    /// Feed for substitutes, in kg of honey equivalent.
    pub feed_kg: f64,
    /// How far it is done; absent where nothing is in it yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub done: Option<Progress>,
}

/// A quantity of a colony before and after the draw, and what it must keep.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Level {
    /// Before the draw.
    pub before: f64,
    /// After the draw.
    pub after: f64,
    /// What it must keep.
    pub must_keep: f64,
}

/// Frames of one group that leave a colony.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Leaving {
    /// Frame group, from 1.
    pub frame_group: usize,
    /// Where they hang, where the scenario says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// How many leave.
    pub frames: u32,
    /// What each holds.
    pub each_holds: Holds,
    /// Which compartments they go to.
    pub goes_to: Vec<Destination>,
}

/// Frames that go to one compartment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Destination {
    /// How many.
    pub frames: u32,
    /// Kind of box.
    pub box_kind: String,
    /// Which box, from 1.
    pub box_no: u32,
    /// Which compartment of the box, from 1.
    pub compartment: u32,
}

impl Destination {
    /// Whether both are the same compartment.
    pub(super) fn same_place(&self, other: &Self) -> bool {
        let place = |d: &Self| (d.box_kind.clone(), d.box_no, d.compartment);
        place(self) == place(other)
    }
}

/// A colony that is opened.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ColonyReport {
    /// Name.
    pub colony: String,
    /// Site.
    pub site: String,
    /// Role.
    pub role: String,
    /// What has already left; absent where nothing has.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub done: Option<DoneDraw>,
    /// Frames that leave, without those that already have.
    pub leaving: Vec<Leaving>,
    /// Bees taken, before drift, without those that already are.
    pub bees_taken: i64,
    /// Of those, shaken from frames that stay.
    pub bees_shaken: i64,
    /// Bees on the leaving frames that are shaken back first.
    pub bees_shaken_back: i64,
    /// Frames before the draw.
    pub frames_before: u32,
    /// Frames after the draw.
    pub frames_after: u32,
    /// No frame stays.
    pub taken_apart: bool,
    /// Whether a listed frame group is marked as holding the queen.
    pub queen_located: bool,
    /// Brood, in frame equivalents.
    pub brood_frames: Level,
    /// Bees.
    pub bees: Level,
    /// Stores, in kg.
    pub stores_kg: Level,
    /// Drawn comb, in frame equivalents.
    pub drawn_frames: Level,
    /// Honey given up, charged: an estimate.
    pub honey_given_up_charged_estimate_kg: f64,
    /// Honey given up, simulated: an estimate.
    pub honey_given_up_simulated_estimate_kg: f64,
}

/// What has already left a colony.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct DoneDraw {
    /// Frames.
    pub frames: u32,
    /// Bees, before drift.
    pub bees: i64,
}

impl ColonyReport {
    /// Whether something is still to be taken.
    pub(super) fn gives(&self) -> bool {
        !self.leaving.is_empty() || self.bees_taken > 0
    }
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
}

/// What goes from one place to one site.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Carry {
    /// Site of the boxes.
    pub to_site: String,
    /// Site of the donors, or none for the store room.
    pub from_site: Option<String>,
    /// Frames.
    pub frames: Vec<LoadFrames>,
    /// Bees, before drift.
    pub bees: i64,
    /// Cells or queens for the site; only given with the store room's load.
    pub cells: u32,
    /// Feed for the site, in kg of honey equivalent; only given with the store room's load.
    pub feed_kg: f64,
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
}

/// Something to mind.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Caution {
    /// Stable id.
    pub id: String,
    /// What to mind.
    pub text: String,
}
