//! What a broken rule is, in ids and numbers.

use crate::plan::{Compartment, Origin};
use crate::scenario::{BoxId, ColonyId, SiteId};
use crate::units::{Bees, Grams, Hundreds, Milli};

/// The rules of a valid plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// No more frames than there are; none with the queen or from a colony on hold.
    Supply,
    /// Each compartment gets every line's frames.
    Recipe,
    /// Floors hold.
    Keep,
    /// Caps hold.
    Draw,
    /// Bees stay on their brood.
    Ride,
    /// Enough bees arrive and stay.
    Bees,
    /// No more compartments than exist; whole boxes whole.
    Boxes,
    /// No more compartments than cells.
    Cells,
    /// Colonies give the frames that are wished for.
    Give,
    /// What is already done is in the plan as it stands.
    Done,
}

impl Rule {
    /// Every rule, in the order in which they are checked.
    pub const ALL: [Self; 10] = [
        Self::Supply,
        Self::Recipe,
        Self::Keep,
        Self::Draw,
        Self::Ride,
        Self::Bees,
        Self::Boxes,
        Self::Cells,
        Self::Give,
        Self::Done,
    ];

    /// Its id in texts and in the model.
    ///
    /// ```
    /// use spareframe_solver::Rule;
    /// assert_eq!(Rule::Ride.id(), "ride");
    /// ```
    #[must_use]
    pub const fn id(self) -> &'static str {
        match self {
            Self::Supply => "supply",
            Self::Recipe => "recipe",
            Self::Keep => "keep",
            Self::Draw => "draw",
            Self::Ride => "ride",
            Self::Bees => "bees",
            Self::Boxes => "boxes",
            Self::Cells => "cells",
            Self::Give => "give",
            Self::Done => "done",
        }
    }
}

/// One compartment of one box.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spot {
    /// Kind of box.
    pub kind: BoxId,
    /// Which box of that kind, from 0.
    pub box_no: u32,
    /// Which compartment of that box, from 0.
    pub place: u32,
}

impl Spot {
    pub(super) fn of(compartment: &Compartment) -> Self {
        Self {
            kind: compartment.kind,
            box_no: compartment.box_no,
            place: compartment.place,
        }
    }
}

/// Where a rule is broken. Ids are those of the plan, and need not exist.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// A colony.
    Colony(ColonyId),
    /// A frame group of a colony, or an entry of the store room.
    Origin(Origin),
    /// All colonies together.
    AllColonies,
    /// A kind of box.
    Kind(BoxId),
    /// A box, counted from 0.
    Box(BoxId, u32),
    /// A compartment.
    Compartment(Spot),
    /// A line of a compartment's recipe, by its index.
    Line(Spot, usize),
    /// What one origin gives to a compartment.
    From(Spot, Origin),
    /// Bees of one colony in a compartment.
    BeesIn(Spot, ColonyId),
    /// What a colony gives to all compartments at a site.
    ToSite(ColonyId, SiteId),
    /// All compartments at a site.
    Site(SiteId),
    /// All compartments at a site whose recipe has no brood line.
    BroodlessAt(SiteId),
}

/// A quantity with its unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// Frames.
    Frames(i64),
    /// Brood, in thousandths of a frame equivalent.
    Brood(Milli),
    /// Drawn comb, in thousandths of a frame equivalent.
    Drawn(Milli),
    /// Bees as they are taken.
    Hundreds(Hundreds),
    /// Bees as they stay.
    Bees(Bees),
    /// Loose bees as they stay.
    Loose(Bees),
    /// Stores.
    Stores(Grams),
    /// Honey given up.
    Honey(Grams),
}

/// What a plan may name that is not there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Thing {
    /// A colony.
    Colony,
    /// A frame group of this colony.
    FrameGroup(ColonyId),
    /// An entry of the store room.
    Entry,
    /// A line of a recipe.
    Line,
    /// A kind of box.
    Kind,
    /// A box of a kind.
    Box,
    /// A compartment of a box.
    Compartment,
}

/// What is wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// Something is named by an index, from 0, of which there are only so many.
    Unknown {
        /// What is named.
        thing: Thing,
        /// Its index.
        index: u64,
        /// How many there are.
        there: u64,
    },
    /// Too little.
    Below {
        /// What there is.
        found: Amount,
        /// The least there must be.
        least: Amount,
    },
    /// Too much.
    Above {
        /// What there is.
        found: Amount,
        /// The most there may be.
        most: Amount,
    },
    /// More or fewer frames than the line asks for.
    Count {
        /// Frames placed.
        found: i64,
        /// Frames asked for.
        asked: u32,
    },
    /// A frame fits neither the line nor one of its substitutes.
    Unfit(Origin),
    /// The colony is on hold and gives all the same.
    OnHold {
        /// Frames taken.
        frames: i64,
        /// Bees taken.
        bees: Hundreds,
    },
    /// So many frames of a group with the queen are taken.
    Queen(i64),
    /// The bees that stay cover less of the brood that stays than they must.
    Bare {
        /// Bees that stay.
        bees: Hundreds,
        /// The least that covers it, rounded up.
        least: Hundreds,
    },
    /// An entry of the plan holds nothing, or less than nothing.
    Empty,
    /// The same compartment is in the plan more than once.
    Twice,
    /// A box of a kind marked whole is stocked in part.
    InPart {
        /// Compartments stocked.
        stocked: u32,
        /// Compartments there are.
        all: u32,
    },
    /// Compartments without a cell.
    NoCell {
        /// How many have none.
        without: i64,
        /// How many compartments of the kind are stocked.
        of: i64,
    },
    /// Bees stand in it from an earlier day, and it is to get no cell.
    Stands,
    /// What is done there is not in the plan.
    Absent,
    /// More is in it than is done, and it is not stocked.
    MoreThanDone,
    /// It lacks nothing, there is a cell for it, and it is not stocked.
    LeftOut,
}

/// A broken rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Breach {
    /// Which rule.
    pub rule: Rule,
    /// Where.
    pub place: Place,
    /// What is wrong there.
    pub fault: Fault,
}

impl Breach {
    /// The frame group or entry of the store room that it speaks of, if it speaks of one.
    #[must_use]
    pub fn origin(&self) -> Option<Origin> {
        match (self.place, self.fault) {
            (Place::Origin(origin) | Place::From(_, origin), _) => Some(origin),
            (_, Fault::Unfit(origin)) => Some(origin),
            _ => None,
        }
    }
}

/// Breaches as they are found.
pub(super) struct Breaches(pub Vec<Breach>);

impl Breaches {
    pub(super) fn add(&mut self, rule: Rule, place: Place, fault: Fault) {
        self.0.push(Breach { rule, place, fault });
    }

    /// A breach where `found` is below `least`, both in the unit that `amount` gives them.
    pub(super) fn floor(
        &mut self,
        rule: Rule,
        place: Place,
        (found, least): (i128, i128),
        amount: fn(i64) -> Amount,
    ) {
        if found < least {
            let (found, least) = (amount(narrow(found)), amount(narrow(least)));
            self.add(rule, place, Fault::Below { found, least });
        }
    }

    /// A breach where `found` is above `most`.
    pub(super) fn cap(
        &mut self,
        rule: Rule,
        place: Place,
        (found, most): (i128, i128),
        amount: fn(i64) -> Amount,
    ) {
        if found > most {
            let (found, most) = (amount(narrow(found)), amount(narrow(most)));
            self.add(rule, place, Fault::Above { found, most });
        }
    }
}

/// The value, or the nearest that 64 bits hold.
pub(super) fn narrow(value: i128) -> i64 {
    i64::try_from(value).unwrap_or(if value < 0 { i64::MIN } else { i64::MAX })
}

pub(super) fn brood(value: i64) -> Amount {
    Amount::Brood(Milli(value))
}

pub(super) fn drawn(value: i64) -> Amount {
    Amount::Drawn(Milli(value))
}

pub(super) fn hundreds(value: i64) -> Amount {
    Amount::Hundreds(Hundreds(value))
}

pub(super) fn bees(value: i64) -> Amount {
    Amount::Bees(Bees(value))
}

pub(super) fn loose(value: i64) -> Amount {
    Amount::Loose(Bees(value))
}

pub(super) fn stores(value: i64) -> Amount {
    Amount::Stores(Grams(value))
}

pub(super) fn honey(value: i64) -> Amount {
    Amount::Honey(Grams(value))
}
