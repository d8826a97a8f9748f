//! The scenario as the optimiser sees it: exact figures, in an order that does not depend on the order
//! in which things were written down.

mod build;
mod done;
mod donors;
mod gone;
mod kinds;
mod otherwise;
#[cfg(test)]
mod tests;

use crate::plan::Cost;
use crate::scenario::{BoxId, ColonyId, Prices, SiteId};

pub(crate) use done::{Done, Place};
pub(crate) use donors::divisor;
pub(crate) use gone::{can_be_taken, points};
pub(crate) use kinds::{LESS_THAN_A_HUNDRED, Places};
pub(crate) use otherwise::share_out;

/// For each need, the place in its order of preference of a frame; `None` where it does not fit.
pub(crate) type Service = Vec<Option<u8>>;

/// Everything the optimiser needs.
#[derive(Debug, Clone)]
pub(crate) struct Instance {
    /// Kinds of box by name; compartments that are begun, or in which bees stand, are of kinds of their own.
    pub kinds: Vec<Kind>,
    /// Lines of all kinds that still ask for frames, in the order of kinds.
    pub needs: Vec<Need>,
    /// Sites where boxes stand.
    pub sites: Vec<BoxSite>,
    /// Distinct services of all frames that fit some need.
    pub classes: Vec<Service>,
    /// Colonies that may give, by name.
    pub donors: Vec<Donor>,
    /// Frames of the store room that fit some need, for each class: entry of the store room and count left.
    pub shelf: Vec<Vec<(usize, u32)>>,
    /// Batches of cells: how many, and positions of the kinds they are for. `None`: not counted.
    pub cells: Option<Vec<(i64, Vec<usize>)>>,
    /// Grams of honey that all colonies together may still give up beyond what is done, 0 or more.
    pub honey_room: Option<i64>,
    /// Most compartments of all kinds together, finished ones included.
    pub most_compartments: Option<i64>,
    /// Most worth of all kinds together, finished ones included.
    pub most_worth: Option<i64>,
    /// Every plan costs less than this, in grams with what is done; none where any cost will do.
    pub below: Option<i64>,
    /// What is done comes to if nothing more is taken; with an earlier plan, frames drawn otherwise too.
    pub base: Cost,
    /// Prices of the parts of the cost; without an earlier plan, frames drawn otherwise cost nothing.
    pub prices: Prices,
    /// There is an earlier plan to stay near to.
    pub near: bool,
    /// What is done.
    pub done: Done,
}

/// A kind of box, or compartments of it that are begun alike or stand alike.
#[derive(Debug, Clone)]
pub(crate) struct Kind {
    pub id: BoxId,
    /// Position in [`Instance::sites`].
    pub site: usize,
    /// Fewest compartments: all, where they lack nothing and there are cells for all such; else 0.
    pub least: i64,
    /// Most compartments.
    pub most: i64,
    /// Compartments are stocked in multiples of this.
    pub step: i64,
    /// Thousandths.
    pub worth: i64,
    /// Bees each still needs (docs/model.md, `need`), 0 or more.
    pub need: i64,
    /// Its recipe has a brood line.
    pub brood_line: bool,
    /// Bees stand in its compartments: its recipe is that of the next cell.
    pub again: bool,
    /// Its compartments are begun.
    pub begun: bool,
    /// Which compartments of the box kind it is made of.
    pub places: Places,
}

/// A recipe line of a kind.
#[derive(Debug, Clone)]
pub(crate) struct Need {
    /// Position in [`Instance::kinds`].
    pub kind: usize,
    /// Index in the lines of the box kind, or of its recipe for the next cell.
    pub line: usize,
    /// Frames that each compartment still asks for, 1 or more.
    pub each: u32,
}

/// A site where boxes stand.
#[derive(Debug, Clone)]
pub(crate) struct BoxSite {
    pub id: SiteId,
    /// Bees deducted from the needs of all compartments stocked here; 0..=99.
    pub credit: i64,
    /// The same for those without a brood line.
    pub loose_credit: i64,
}

/// Frames of one group in an [`Item`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Part {
    /// Index in the colony's frame groups.
    pub group: usize,
    /// How many there still are.
    pub count: u32,
    /// How many of these an earlier plan takes; 0 without one.
    pub then: u32,
}

/// Frames of one colony that hold the same and may leave.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Item {
    /// Position in [`Instance::classes`].
    pub class: usize,
    /// How many.
    pub count: u32,
    /// Thousandths of a frame.
    pub brood: i64,
    /// Brood cells.
    pub cells: i64,
    /// Thousandths of a hundred bees that would cover its brood.
    pub cover: i64,
    /// Grams.
    pub stores: i64,
    /// Thousandths of a frame.
    pub drawn: i64,
    /// Hundreds of bees on it.
    pub bees: i64,
    /// Hundreds that ride at least; 0 without brood.
    pub least: i64,
    /// Grams of honey charged for the frame.
    pub charge: i64,
    /// Frame groups it is made of; one alone where there is a wish for it.
    pub parts: Vec<Part>,
    /// Frames of it that are to leave at least.
    pub give: u32,
}

/// A colony that may give, with what floors, caps and what is done leave.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Donor {
    pub id: ColonyId,
    /// Where it stands.
    pub home: SiteId,
    pub items: Vec<Item>,
    /// Frames that may still leave.
    pub frames: i64,
    /// Brood that may still leave, thousandths.
    pub brood: i64,
    /// Stores that may still leave, grams.
    pub stores: i64,
    /// Drawn comb that may still leave, thousandths.
    pub drawn: i64,
    /// Hundreds of bees that may still leave by floor and cap on bees, and by what can be taken, alone.
    pub bees: i64,
    /// Grams of honey that may still be given up.
    pub honey: Option<i64>,
    /// Grams charged for a hundred bees.
    pub hundred: i64,
    /// Percent that stay of bees taken to each of [`Instance::sites`].
    pub stay: Vec<i64>,
    /// Floor covered.
    pub covered: Covered,
    /// `None`: the colony carries no burden.
    pub burden: Option<Share>,
    /// It has given already, so that opening it costs nothing more.
    pub opened: bool,
    /// Frames that are to leave at least.
    pub give: u32,
}

/// Floor covered: `times * (bees - taken) >= per * (cover - cover taken)`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Covered {
    pub times: i64,
    pub per: i64,
    /// Hundreds of bees there are, after what is done.
    pub bees: i64,
    /// Sum of cover over the frames there are, after what is done.
    pub cover: i64,
}

/// What the share is reckoned from that a colony gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Share {
    /// Hundreds of bees before anything was done.
    pub bees_before: i64,
    /// Hundreds of bees that are gone with what is done.
    pub bees_gone: i64,
    /// Brood cells before anything was done.
    pub cells_before: i64,
    /// Brood cells that are gone with what is done.
    pub cells_gone: i64,
}
