//! What goes into one compartment.

use super::LoadFrames;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

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
    /// Bees on it.
    pub bees: i64,
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

pub(super) fn is_none<T: Default + PartialEq>(count: &T) -> bool {
    *count == T::default()
}

/// Bees of one colony in one compartment.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct BeesReport {
    /// Colony they come from.
    pub colony: String,
    /// Bees taken, before drift.
    pub bees: i64,
    /// Of these bees, those that ride on brood frames of that colony; the others are loose.
    pub riding: i64,
    /// All of them, in covered frames of that colony, to half a frame.
    pub covered_frames: f64,
    /// The comb (frame size) of covered frames of that colony.
    #[serde(default)]
    pub covered_comb: String,
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

/// Where the mated queen of a compartment is from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct BoxQueen {
    /// The compartment that she is taken from, or `elsewhere`.
    pub from: String,
    /// Where that stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub site: Option<String>,
}

/// What stands in a compartment from an earlier day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct StandsReport {
    /// The day bees went in, as year-month-day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub since: Option<String>,
    /// How its queen was: `cell`, `virgin`, `laying`, `mated`, `to be taken`, `none`, `drone-layer` or
    /// `laying workers`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub queen: Option<String>,
    /// The day that was seen, as year-month-day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub queen_seen: Option<String>,
    /// Its frames.
    pub frames: Vec<LoadFrames>,
    /// Its bees.
    pub bees: i64,
}

/// A compartment in which bees stand and to which the plan does nothing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct LeftReport {
    /// Kind of box.
    pub box_kind: String,
    /// Which box, from 1.
    pub box_no: u32,
    /// Which compartment of the box, from 1.
    pub compartment: u32,
    /// Where the box stands.
    pub site: String,
    /// What stands in it.
    pub stands: StandsReport,
    /// What it lacks for the next cell that is wanted for it and that it does not get; absent where none is wanted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lacks: Option<Lacks>,
    /// Why it is to get no next cell, where its bees forbid it; it is to be united, or tipped out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub no_next_cell: Option<String>,
}

/// What a compartment that stands lacks for its next cell.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Lacks {
    /// Frames, by recipe line.
    pub frames: Vec<LackingFrames>,
    /// Bees.
    pub bees: i64,
}

/// Frames that a line of a compartment that stands lacks.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct LackingFrames {
    /// Recipe line.
    pub line: String,
    /// How many.
    pub frames: u32,
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
    /// Site where it is filled, beside its first donor, where that is not its own.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub filled_at: Option<String>,
    /// Colonies that any of its frames or bees are from.
    pub donor_colonies: Vec<String>,
    /// Its frames.
    pub frames: Vec<FramesReport>,
    /// Its bees.
    pub bees: Vec<BeesReport>,
    /// Bees that stay after drift.
    pub bees_staying: i64,
    /// Fewest bees that must stay, of those put in.
    pub bees_needed: i64,
    /// Bees that would cover the brood in it.
    pub bees_to_cover_brood: i64,
    /// Feed for substitutes, in kg of honey equivalent.
    pub feed_kg: f64,
    /// The mated queen that it is given; absent where it gets a cell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub queen: Option<BoxQueen>,
    /// How far it is done; absent where nothing is in it yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub done: Option<Progress>,
    /// What stands in it from an earlier day: it gets a next cell, and the frames and bees above are what it lacked
    /// for it. Absent where it is stocked new.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stands: Option<StandsReport>,
    /// Frames to take out of those that stand in it, as there is no room for all.
    #[serde(default, skip_serializing_if = "is_none")]
    pub frames_out: u32,
}

impl CompartmentReport {
    /// All frames in it once it is stocked: how many, and what each holds.
    pub(crate) fn all_frames(&self) -> impl Iterator<Item = (u32, &Holds)> {
        let placed = self.frames.iter().map(|f| (f.frames, &f.each_holds));
        let stand = self.stands.iter().flat_map(|stands| &stands.frames);
        let stay = stand.map(|f| (f.frames.saturating_sub(f.out), &f.each_holds));
        placed.chain(stay.filter(|(frames, _)| *frames > 0))
    }

    /// It stands already, and nothing is put into it but a cell.
    pub(crate) fn lacks_nothing(&self) -> bool {
        self.stands.is_some() && self.frames.is_empty() && self.bees.is_empty()
    }

    /// All bees in it once it is stocked.
    pub(crate) fn all_bees(&self) -> i64 {
        let stand = self.stands.as_ref().map_or(0, |stands| stands.bees);
        self.bees_staying.saturating_add(stand)
    }
}
