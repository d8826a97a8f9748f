//! What is known on a stocking day: colonies, spare equipment, boxes, cells, places.
//!
//! Everything is an exact whole number in the unit its type names. Conversion from text
//! and from decimal figures happens once, where the scenario is read.

use crate::units::{Bees, Grams, Milli, Milligrams, Worth};

/// Index of a [`Comb`] in [`Scenario::combs`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CombId(pub usize);
/// Index of a [`Site`] in [`Scenario::sites`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SiteId(pub usize);
/// Index of a [`Colony`] in [`Scenario::colonies`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ColonyId(pub usize);
/// Index of a [`BoxKind`] in [`Scenario::boxes`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BoxId(pub usize);

/// A frame size and what one full frame of it carries, both sides together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Comb {
    /// Unique name.
    pub name: String,
    /// Bees on a frame covered on both sides.
    pub bees: Bees,
    /// Worker cells of a frame drawn on both sides.
    pub cells: i64,
    /// Honey in a frame filled on both sides.
    pub stores: Grams,
}

/// A place where colonies or boxes stand.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Site {
    /// Unique name.
    pub name: String,
}

/// What one frame holds, in thousandths of its comb.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct FrameState {
    /// Frame size.
    pub comb: CombId,
    /// Brood of any age, 0..=1000.
    pub brood: Milli,
    /// Sealed brood, 0..=`brood`: a share of the comb, not of the brood.
    pub sealed: Milli,
    /// Stores, 0..=1000 - `brood`.
    pub stores: Milli,
    /// Drawn comb, `brood` + `stores` ..= 1000. Bare foundation is 0.
    pub drawn: Milli,
    /// Comb covered with bees, 0..=1000.
    pub bees: Milli,
}

/// Identical frames of one colony.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FrameGroup {
    /// How many frames, 0 or more.
    pub count: u32,
    /// What each of them holds.
    pub frame: FrameState,
    /// The group holds the queen and is never drawn.
    pub queen: bool,
}

/// Floors that hold after the draw.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Keep {
    /// Brood, in thousandths of a frame equivalent.
    pub brood: Milli,
    /// Bees, whole.
    pub bees: Bees,
    /// Stores.
    pub stores: Grams,
    /// Drawn comb, in thousandths of a frame equivalent.
    pub drawn: Milli,
}

/// Caps on what may leave a colony. `None` is no cap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Draw {
    /// Frames, whole.
    pub frames: Option<u32>,
    /// Brood, in thousandths of a frame equivalent.
    pub brood: Option<Milli>,
    /// Bees, whole.
    pub bees: Option<Bees>,
    /// Honey given up, charged.
    pub honey: Option<Milligrams>,
}

/// The honey a production colony is expected to give.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Crop {
    /// Expected crop over the flow, above 0.
    pub honey: Grams,
    /// First day of the flow, counted from the stocking day (0 = that day). May be negative.
    pub from: i32,
    /// Last day of the flow, inclusive, `from` or later.
    pub to: i32,
}

/// A donor colony.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Colony {
    /// Unique name.
    pub name: String,
    /// Where it stands.
    pub site: SiteId,
    /// Role name, for display only; the limits below are already resolved.
    pub role: String,
    /// `Some(reason)` leaves the colony untouched.
    pub hold: Option<String>,
    /// Its frames.
    pub frames: Vec<FrameGroup>,
    /// Bees not on any listed frame.
    pub extra_bees: Bees,
    /// A colony with an expected crop is a producer: what it gives costs honey.
    pub crop: Option<Crop>,
    /// Floors.
    pub keep: Keep,
    /// Caps.
    pub draw: Draw,
}

/// Identical frames in the store room (no brood, no bees).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SpareFrames {
    /// How many.
    pub count: u32,
    /// What each holds; `brood`, `sealed` and `bees` are 0.
    pub frame: FrameState,
}

/// What a recipe line asks of a frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ask {
    /// A frame of this comb that holds at least so much.
    AtLeast {
        /// Frame size.
        comb: CombId,
        /// Least brood.
        brood: Milli,
        /// Least sealed brood.
        sealed: Milli,
        /// Least stores.
        stores: Milli,
        /// Least drawn comb.
        drawn: Milli,
    },
    /// A frame of this comb with nothing drawn.
    Foundation {
        /// Frame size.
        comb: CombId,
    },
}

impl Ask {
    /// Whether a frame is what is asked for.
    #[must_use]
    pub fn fits(&self, frame: &FrameState) -> bool {
        match *self {
            Self::AtLeast {
                comb,
                brood,
                sealed,
                stores,
                drawn,
            } => {
                frame.comb == comb
                    && frame.brood >= brood
                    && frame.sealed >= sealed
                    && frame.stores >= stores
                    && frame.drawn >= drawn
            }
            Self::Foundation { comb } => frame.comb == comb && frame.drawn.0 == 0,
        }
    }
}

/// An acceptable stand-in for a line's frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Substitute {
    /// What it must be.
    pub ask: Ask,
    /// What must then be fed for each such frame, in honey equivalent.
    pub feed: Grams,
}

/// So many frames of one kind for each compartment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Name shown in the plan, unique in its recipe.
    pub name: String,
    /// Frames for each compartment, 1 or more.
    pub count: u32,
    /// What each must be.
    pub ask: Ask,
    /// Stand-ins, best first.
    pub substitutes: Vec<Substitute>,
}

impl Line {
    /// The first place in the order of preference that a frame fits: 0 the line itself, 1 the first
    /// substitute. `None` where it fits neither.
    #[must_use]
    pub fn place_of(&self, frame: &FrameState) -> Option<usize> {
        std::iter::once(&self.ask)
            .chain(self.substitutes.iter().map(|substitute| &substitute.ask))
            .position(|ask| ask.fits(frame))
    }
}

/// A kind of mating or nucleus box.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BoxKind {
    /// Unique name.
    pub name: String,
    /// How many boxes.
    pub count: u32,
    /// Compartments in each, 1 or more.
    pub compartments: u32,
    /// Where the boxes stand once stocked.
    pub site: SiteId,
    /// Worth of one stocked compartment, above 0 (1000 = one).
    pub worth: Worth,
    /// A box is stocked in all its compartments or not at all.
    pub whole: bool,
    /// Frames of one compartment.
    pub lines: Vec<Line>,
    /// Fewest bees that must still be in a compartment after drift.
    pub bees: Bees,
}

/// Ripe cells or queens at hand, one for each compartment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CellBatch {
    /// How many.
    pub count: u32,
    /// Kinds of box they are for; empty means any.
    pub boxes: Vec<BoxId>,
}

/// Bees that fly home.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Drift {
    /// At or beyond this distance nothing flies home; default 3000 m (common practice).
    pub homing_metres: u64,
    /// Flying share of what is taken, 0..=1000; default 330 (a choice).
    pub flying: Milli,
}

impl Default for Drift {
    fn default() -> Self {
        Self {
            homing_metres: 3000,
            flying: Milli(330),
        }
    }
}

/// A wish: frames that a colony is to give at least, none of them for nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Give {
    /// Which colony.
    pub colony: ColonyId,
    /// Index in [`Colony::frames`], where the frames are to be of one group.
    pub group: Option<usize>,
    /// How many, 0 or more. They may be more than there are; then the wish cannot be met.
    pub frames: u32,
}

/// One stocking day.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Scenario {
    /// Frame sizes.
    pub combs: Vec<Comb>,
    /// Places.
    pub sites: Vec<Site>,
    /// Distances in metres, `distances[a][b]`, symmetric, 0 on the diagonal.
    pub distances: Vec<Vec<u64>>,
    /// Donors.
    pub colonies: Vec<Colony>,
    /// Spare equipment.
    pub store_room: Vec<SpareFrames>,
    /// Boxes and their recipes.
    pub boxes: Vec<BoxKind>,
    /// `None`: cells are not counted. `Some(vec![])`: there are none.
    pub cells: Option<Vec<CellBatch>>,
    /// Bees that fly home.
    pub drift: Drift,
    /// Cap on the charged honey of all colonies together.
    pub honey_cap: Option<Milligrams>,
    /// Wishes; each holds. Default none.
    pub gives: Vec<Give>,
    /// Settings of the colony model.
    pub colony_model: crate::honey::ColonyModel,
    /// What is already done today: frames and bees that have left for compartments that are begun.
    /// Colonies and store room stand as they were before; a place is recorded once.
    pub done: Vec<crate::plan::Compartment>,
}
