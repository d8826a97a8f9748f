//! What is known on a stocking day: colonies, spare equipment, boxes, cells, places.
//!
//! Everything is an exact whole number in the unit its type names. Conversion from text
//! and from decimal figures happens once, where the scenario is read.

use crate::units::{Bees, Grams, Hundreds, Milli, Percent, Worth};

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
    /// Bees on a frame covered on both sides, 1 or more.
    pub bees: Hundreds,
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

/// What one frame holds: shares in thousandths of its comb, and bees.
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
    /// Bees on it, 0 or more.
    pub bees: Hundreds,
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
    /// Bees.
    pub bees: Hundreds,
    /// Stores.
    pub stores: Grams,
    /// Drawn comb, in thousandths of a frame equivalent.
    pub drawn: Milli,
    /// Of the bees that would cover the brood that stays, so much stays at least; 0 is no floor.
    pub covered: Percent,
}

/// Caps on what may leave a colony. `None` is no cap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Draw {
    /// Frames, whole.
    pub frames: Option<u32>,
    /// Brood, in thousandths of a frame equivalent.
    pub brood: Option<Milli>,
    /// Bees.
    pub bees: Option<Hundreds>,
    /// Honey given up, charged.
    pub honey: Option<Grams>,
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
    pub extra_bees: Hundreds,
    /// A colony with an expected crop is a producer: what it gives costs honey.
    pub crop: Option<Crop>,
    /// Floors.
    pub keep: Keep,
    /// Caps.
    pub draw: Draw,
    /// Of the bees on a brood frame that leaves, so much rides on it at least: 0 (bare) to 100;
    /// default 50 (a choice).
    pub rides: Percent,
    /// It may be taken apart whole, and what it gives is no burden.
    pub apart: bool,
}

/// Identical frames in the store room (no brood, no bees).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SpareFrames {
    /// How many.
    pub count: u32,
    /// What each holds; `brood`, `sealed` and `bees` are 0.
    pub frame: FrameState,
}

/// Least and most of a share, both included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// Least, 0..=`most`.
    pub least: Milli,
    /// Most, `least`..=1000.
    pub most: Milli,
}

impl Span {
    /// Any share.
    pub const ANY: Self = Self::of(0, 1000);
    /// Nothing at all.
    pub const NONE: Self = Self::of(0, 0);

    /// From so many thousandths to so many.
    #[must_use]
    pub const fn of(least: i64, most: i64) -> Self {
        Self {
            least: Milli(least),
            most: Milli(most),
        }
    }

    /// So many thousandths or more.
    #[must_use]
    pub const fn from(least: i64) -> Self {
        Self::of(least, 1000)
    }

    /// Whether a share lies in it.
    #[must_use]
    pub fn has(&self, share: Milli) -> bool {
        self.least <= share && share <= self.most
    }
}

impl Default for Span {
    fn default() -> Self {
        Self::ANY
    }
}

/// What a recipe line asks of a frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ask {
    /// Frame size.
    pub comb: CombId,
    /// Brood.
    pub brood: Span,
    /// Sealed brood, of the comb.
    pub sealed: Span,
    /// Stores.
    pub stores: Span,
    /// Drawn comb.
    pub drawn: Span,
}

impl Ask {
    /// Any frame of a comb.
    #[must_use]
    pub const fn any(comb: CombId) -> Self {
        Self {
            comb,
            brood: Span::ANY,
            sealed: Span::ANY,
            stores: Span::ANY,
            drawn: Span::ANY,
        }
    }

    /// A frame of a comb with nothing drawn.
    #[must_use]
    pub const fn foundation(comb: CombId) -> Self {
        Self {
            drawn: Span::NONE,
            ..Self::any(comb)
        }
    }

    /// Whether a frame is what is asked for.
    #[must_use]
    pub fn fits(&self, frame: &FrameState) -> bool {
        frame.comb == self.comb
            && self.brood.has(frame.brood)
            && self.sealed.has(frame.sealed)
            && self.stores.has(frame.stores)
            && self.drawn.has(frame.drawn)
    }

    /// Whether only frames with brood fit.
    #[must_use]
    pub fn asks_for_brood(&self) -> bool {
        self.brood.least.0 > 0 || self.sealed.least.0 > 0
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
    ///
    /// ```
    /// use spareframe_solver::{Ask, Grams, Line, Scenario, Substitute};
    /// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
    /// let mut yard: Scenario = include!("../doctests/yard.rs");
    /// let (shelf, line) = (&yard.store_room, &mut yard.boxes[0].lines[1]);
    /// let place = |line: &Line| shelf.iter().map(|spare| line.place_of(&spare.frame)).collect::<Vec<_>>();
    /// // A full honey comb does; an empty one must be fed.
    /// assert_eq!(place(line), [Some(0), None]);
    /// line.substitutes.push(Substitute { ask: Ask::any(line.ask.comb), feed: Grams(1_200) });
    /// assert_eq!(place(line), [Some(0), Some(1)]);
    /// ```
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
    /// What a compartment that stands is to hold for its next cell; by default no more than it does.
    pub again: crate::standing::Recipe,
}

impl BoxKind {
    /// Whether some line of its recipe, substitutes left aside, asks for brood. Where none does, each
    /// compartment is covered by loose bees alone.
    #[must_use]
    pub fn has_brood_line(&self) -> bool {
        self.lines.iter().any(|line| line.ask.asks_for_brood())
    }
}

/// Ripe cells or queens at hand, one for each compartment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CellBatch {
    /// How many.
    pub count: u32,
    /// Kinds of box they are for; empty means any.
    pub boxes: Vec<BoxId>,
}

impl CellBatch {
    /// So many that they are not counted: enough for every box that there may be.
    pub const UNCOUNTED: u32 = 1_000_000;
}

/// Bees that fly home.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Drift {
    /// At or beyond this distance nothing flies home; default 3000 m (common practice).
    pub homing_metres: u64,
    /// Flying share of what is taken, 0..=100; default 33 (a choice).
    pub flying: Percent,
}

impl Default for Drift {
    fn default() -> Self {
        Self {
            homing_metres: 3000,
            flying: Percent(33),
        }
    }
}

/// What the parts of the cost weigh in honey. All are choices.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Prices {
    /// Of a point of burden; default 5 g.
    pub burden: Grams,
    /// Of a step down a line's order of preference, for each frame; default 50 g.
    pub substitute: Grams,
    /// Of a colony opened; default 20 g.
    pub opened: Grams,
    /// Of a frame drawn otherwise than in an earlier plan; default 100 g.
    pub otherwise: Grams,
}

impl Default for Prices {
    fn default() -> Self {
        Self {
            burden: Grams(5),
            substitute: Grams(50),
            opened: Grams(20),
            otherwise: Grams(100),
        }
    }
}

/// A wish: frames that a colony is to give at least; each must fill a recipe line.
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
    pub honey_cap: Option<Grams>,
    /// What the parts of the cost weigh.
    pub prices: Prices,
    /// Wishes; each holds. Default none.
    pub gives: Vec<Give>,
    /// Settings of the colony model.
    pub colony_model: crate::honey::ColonyModel,
    /// What is already done today: frames and bees that have left for compartments that are begun.
    /// Colonies and store room stand as they were before; a place is recorded once.
    pub done: Vec<crate::plan::Compartment>,
    /// Compartments in which bees stand from an earlier day; each stands once.
    pub standing: Vec<crate::standing::Standing>,
}
