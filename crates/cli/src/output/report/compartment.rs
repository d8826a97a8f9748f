//! What goes into one compartment.

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

fn is_none<T: Default + PartialEq>(count: &T) -> bool {
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
    /// Colonies that any of its frames or bees are from.
    pub donor_colonies: Vec<String>,
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
    /// The mated queen that it is given; absent where it gets a cell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub queen: Option<BoxQueen>,
    /// How far it is done; absent where nothing is in it yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub done: Option<Progress>,
}
