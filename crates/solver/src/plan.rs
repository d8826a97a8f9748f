//! A plan: frames and bees for each colony and compartment.

use crate::scenario::{BoxId, ColonyId};
use crate::units::{Bees, Milligrams, Worth};

/// Where a frame comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Origin {
    /// A frame group of a colony: its index in [`crate::Colony::frames`].
    Colony(ColonyId, usize),
    /// Index in [`crate::Scenario::store_room`].
    StoreRoom(usize),
}

/// Frames of one origin that serve one recipe line of one compartment.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct PlacedFrames {
    /// Index in [`crate::BoxKind::lines`].
    pub line: usize,
    /// Where they come from.
    pub origin: Origin,
    /// How many, 1 or more.
    pub count: u32,
}

/// Bees of one colony that go into one compartment (as taken, before drift).
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct PlacedBees {
    /// Donor.
    pub colony: ColonyId,
    /// How many are taken, 1 or more.
    pub bees: Bees,
}

/// One stocked compartment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Compartment {
    /// Kind of box.
    pub kind: BoxId,
    /// Which box of that kind, from 0.
    pub box_no: u32,
    /// Which compartment of that box, from 0.
    pub place: u32,
    /// Its frames, by line and origin.
    pub frames: Vec<PlacedFrames>,
    /// Its bees, by colony.
    pub bees: Vec<PlacedBees>,
}

/// The whole plan: stocked compartments in the order of kind, box, place.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Plan {
    /// Stocked compartments.
    pub compartments: Vec<Compartment>,
}

/// The four goals in their order, and the tie rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Goals {
    /// Worth of the stocked compartments; greatest is best.
    pub worth: Worth,
    /// Honey given up, charged; least is best.
    pub honey: Milligrams,
    /// Colonies opened; fewest is best.
    pub opened: u32,
    /// Bees shaken from frames that stay; fewest is best.
    pub shaken: Bees,
}
