//! What leaves one colony, what stays, and what fills the gaps.

use super::Holds;
use super::compartment::is_none;
use super::queens::ColonyQueens;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

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

/// What becomes of the bees on a frame that leaves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum BeesOnFrames {
    /// There are none.
    None,
    /// All stay on it, or so nearly all that no hand can tell.
    All,
    /// Some are shaken off, back into the hive or into a box that is short of bees.
    ShakeLightly,
    /// All, or nearly all, are brushed off.
    BrushOff,
}

/// Frames that go to one compartment, with the bees on them treated alike.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Destination {
    /// How many.
    pub frames: u32,
    /// What becomes of the bees on them.
    pub bees_on_frames: BeesOnFrames,
    /// Bees that go with each of them.
    pub bees_each: i64,
    /// Kind of box.
    pub box_kind: String,
    /// Which box, from 1.
    pub box_no: u32,
    /// Which compartment of the box, from 1.
    pub compartment: u32,
}

impl Destination {
    /// Whether both are the same compartment.
    pub(in crate::output) fn same_place(&self, other: &Self) -> bool {
        let place = |d: &Self| (d.box_kind.clone(), d.box_no, d.compartment);
        place(self) == place(other)
    }
}

/// Bees to add in one compartment, beyond those on the frames.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Adding {
    /// How many.
    pub bees: i64,
    /// The same in covered frames of this colony, to half a frame.
    pub covered_frames: f64,
    /// Kind of box.
    pub box_kind: String,
    /// Which box, from 1.
    pub box_no: u32,
    /// Which compartment of the box, from 1.
    pub compartment: u32,
}

/// Frames of the store room that fill gaps.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Filling {
    /// How many.
    pub frames: u32,
    /// Entry of the store room, from 1.
    pub store_room_entry: usize,
    /// Where they lie, where the scenario says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// What each holds.
    pub each_holds: Holds,
}

/// What a colony gives of what it has, in whole percent: the nearest, and no more than a cap that allows it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Given {
    /// Bees.
    pub bees: i64,
    /// Brood cells of any age.
    pub brood: i64,
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
    /// The day on which it was counted; absent where that was the stocking day. What it has before the draw is
    /// then expected.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counted: Option<String>,
    /// What has already left; absent where nothing has.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub done: Option<DoneDraw>,
    /// Frames that leave, without those that already have.
    pub leaving: Vec<Leaving>,
    /// Bees to add from frames that stay, or shaken off frames that leave, by compartment.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub adding: Vec<Adding>,
    /// What fills the gaps; absent where nothing does.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gaps_filled_with: Vec<Filling>,
    /// Gaps that stay empty in a colony kept for honey; absent where none do.
    #[serde(default, skip_serializing_if = "is_none")]
    pub gaps_left_empty: u32,
    /// Of those, gaps that foundation in the store room would fill where the colony draws comb.
    #[serde(default, skip_serializing_if = "is_none")]
    pub gaps_foundation_would_fill: u32,
    /// Bees taken, before drift, without those that already are.
    pub bees_taken: i64,
    /// Those, in covered frames of this colony, to half a frame.
    pub covered_frames: f64,
    /// The comb (frame size) of covered frames of this colony.
    #[serde(default)]
    pub covered_comb: String,
    /// Frames before the draw.
    pub frames_before: u32,
    /// Frames after the draw.
    pub frames_after: u32,
    /// No frame stays.
    pub taken_apart: bool,
    /// Hardly a bee stays on its combs, but on the queen's; absent where more do, or all may leave.
    #[serde(default, skip_serializing_if = "is_none")]
    pub shaken_bare: bool,
    /// Whether a listed frame group is marked as holding the queen.
    pub queen_located: bool,
    /// Its queens, where it is to get a new one and the old one is out, or goes out on the stocking day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub queens: Option<ColonyQueens>,
    /// Brood, in frame equivalents.
    pub brood_frames: Level,
    /// Bees.
    pub bees: Level,
    /// Stores, in kg.
    pub stores_kg: Level,
    /// Drawn comb, in frame equivalents.
    pub drawn_frames: Level,
    /// Bees that stay, in percent of those that would cover the brood that stays; absent where there
    /// is no brood before the draw.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub brood_covered_percent: Option<Level>,
    /// What it gives of what it has.
    pub gives_percent: Given,
    /// Points of burden.
    pub burden: i64,
    /// Honey given up, charged, in grams: an estimate. Null without an expected crop.
    pub honey_given_up_g: Option<i64>,
    /// The same, simulated for its whole draw.
    pub honey_given_up_simulated_g: Option<i64>,
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
    pub(in crate::output) fn gives(&self) -> bool {
        !self.leaving.is_empty() || self.bees_taken > 0
    }

    /// Whether combs without brood are all that is still to be taken, their bees brushed off: the queen is looked for
    /// on those alone.
    pub(in crate::output) fn gives_comb_only(&self) -> bool {
        let comb = |l: &Leaving| l.each_holds.brood_share <= 0.0;
        let comb = !self.leaving.is_empty() && self.leaving.iter().all(comb);
        comb && self.bees_taken == 0 && !self.taken_apart && self.queens.is_none()
    }

    /// Whether the hive is opened: something is still to be taken, or a queen goes out or in.
    pub(in crate::output) fn opens(&self) -> bool {
        let queens = |queens: &ColonyQueens| !queens.is_out || queens.new_from.is_some();
        self.gives() || self.queens.as_ref().is_some_and(queens)
    }

    /// The day since which it has no queen, as brood combs that leave bear wild cells then.
    pub(in crate::output) fn queenless_since(&self) -> Option<&str> {
        let queens = self.queens.as_ref().filter(|queens| queens.is_out)?;
        queens.old_out.as_deref()
    }
}
