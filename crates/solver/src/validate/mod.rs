//! Whether a scenario is one: every id names something, every figure lies in its range.

mod colonies;
mod yard;

use crate::scenario::{FrameState, Scenario};
use std::collections::BTreeSet;
use std::fmt::{self, Display, Formatter};

/// Most frames in all, and most compartments in all.
const MOST_IN_ALL: i128 = 100_000_000;
/// Most frames of a group, boxes of a kind, frames of a line and the like.
const MOST_COUNT: i64 = 1_000_000;
/// Most hundreds of bees of a frame or a comb, and most hundreds of bees besides.
const MOST_ON_A_COMB: i64 = 10_000;
const MOST_HUNDREDS: i64 = 1_000_000_000;
/// Most bees of a recipe.
const MOST_BEES: i64 = 100_000_000;
/// Most worker cells of a comb.
const MOST_CELLS: i64 = 1_000_000;
/// Most grams of anything, of a crop, and of a price.
const MOST_GRAMS: i64 = 1_000_000_000;
const MOST_CROP: i64 = 10_000_000;
const MOST_PRICE: i64 = 1_000_000;
/// Most thousandths of a frame in a floor or a cap.
const MOST_MILLI: i64 = 1_000_000_000;
/// Most worth of a compartment, in thousandths.
const MOST_WORTH: i64 = 1_000_000_000;

/// What is wrong with a field of a scenario.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Flaw {
    /// A number outside its range, both ends included.
    OutOfRange {
        /// The number.
        found: i128,
        /// The least it may be.
        least: i128,
        /// The most it may be.
        most: i128,
    },
    /// An index of something of which there are only so many.
    NoSuch {
        /// The index, from 0.
        index: usize,
        /// How many there are.
        there: usize,
    },
    /// A name that something of the same sort has already.
    SameName(String),
    /// A place that is recorded already.
    Recorded,
    /// Distances are not one row and one column for each site.
    NotSquare,
    /// The distance is another one the other way round.
    NotSymmetric,
}

/// A field of a scenario that is not what it has to be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Invalid {
    /// Which field, as it is written in Rust: `colonies[2].frames[0].count`.
    pub field: String,
    /// What is wrong with it.
    pub flaw: Flaw,
}

impl Display for Invalid {
    fn fmt(&self, f: &mut Formatter<'_>) -> fmt::Result {
        let field = &self.field;
        match &self.flaw {
            Flaw::OutOfRange { found, least, most } => {
                write!(f, "{field} is {found}, which is not {least} to {most}")
            }
            Flaw::NoSuch { index, there } => {
                write!(f, "{field} is number {index}, counted from 0, of {there}")
            }
            Flaw::SameName(name) => write!(f, "{field} is {name:?}, as another one is"),
            Flaw::Recorded => write!(f, "{field} is of a compartment that is recorded already"),
            Flaw::NotSquare => write!(f, "{field} has not one distance for each site"),
            Flaw::NotSymmetric => write!(f, "{field} is another distance the other way round"),
        }
    }
}

impl std::error::Error for Invalid {}

impl Scenario {
    /// Whether every id names something, every figure lies in its range, and no sum of them is beyond
    /// 64 bits. A scenario that is valid is solved, and checked, without a figure cut off. One that
    /// is not may still be checked.
    ///
    /// # Errors
    ///
    /// Every field that is wrong, in the order of the fields.
    ///
    /// ```
    /// use spareframe_solver::{Percent, Scenario, SiteId};
    /// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
    /// let mut yard: Scenario = include!("../../doctests/yard.rs");
    /// assert_eq!(yard.validate(), Ok(()));
    /// yard.colonies[0].rides = Percent(120);
    /// yard.boxes[0].site = SiteId(7);
    /// let invalid = yard.validate().expect_err("two fields are wrong");
    /// assert_eq!(invalid[0].to_string(), "colonies[0].rides is 120, which is not 0 to 100");
    /// assert_eq!(invalid[1].to_string(), "boxes[0].site is number 7, counted from 0, of 2");
    /// ```
    pub fn validate(&self) -> Result<(), Vec<Invalid>> {
        let mut findings = Findings(Vec::new());
        yard::combs(self, &mut findings);
        yard::places(self, &mut findings);
        colonies::colonies(self, &mut findings);
        colonies::store_room(self, &mut findings);
        yard::boxes(self, &mut findings);
        yard::cells(self, &mut findings);
        yard::settings(self, &mut findings);
        colonies::gives(self, &mut findings);
        colonies::standing(self, &mut findings);
        colonies::done(self, &mut findings);
        in_all(self, &mut findings);
        match findings.0.is_empty() {
            true => Ok(()),
            false => Err(findings.0),
        }
    }
}

/// Sums over the whole scenario.
fn in_all(scenario: &Scenario, findings: &mut Findings) {
    let groups = scenario.colonies.iter().flat_map(|colony| &colony.frames);
    let frames: i128 = groups.map(|group| i128::from(group.count)).sum();
    let shelf: i128 = scenario
        .store_room
        .iter()
        .map(|s| i128::from(s.count))
        .sum();
    findings.range("frames in all", frames + shelf, 0, MOST_IN_ALL);
    let boxes = scenario.boxes.iter();
    let places = boxes.map(|kind| i128::from(kind.count) * i128::from(kind.compartments));
    findings.range("compartments in all", places.sum(), 0, MOST_IN_ALL);
    let batches = scenario.cells.iter().flatten();
    let cells = batches.map(|batch| i128::from(batch.count)).sum();
    findings.range("cells in all", cells, 0, i128::from(i64::MAX));
}

/// What is found.
struct Findings(Vec<Invalid>);

impl Findings {
    fn add(&mut self, field: impl Display, flaw: Flaw) {
        let field = field.to_string();
        self.0.push(Invalid { field, flaw });
    }

    fn range(&mut self, field: impl Display, found: i128, least: i128, most: i128) {
        if !(least..=most).contains(&found) {
            self.add(field, Flaw::OutOfRange { found, least, most });
        }
    }

    /// From `least` to `most`; the field is put together only where it is wrong.
    fn within(&mut self, of: &dyn Display, field: &str, found: i64, (least, most): (i64, i64)) {
        if !(least..=most).contains(&found) {
            let field = format!("{of}.{field}");
            self.range(field, found.into(), least.into(), most.into());
        }
    }

    fn id(&mut self, of: &dyn Display, field: &str, index: usize, there: usize) {
        if index >= there {
            self.add(format!("{of}.{field}"), Flaw::NoSuch { index, there });
        }
    }

    fn names<'a>(&mut self, list: &str, names: impl Iterator<Item = &'a String>) {
        let mut seen = BTreeSet::new();
        for (index, name) in names.enumerate() {
            if !seen.insert(name) {
                let field = format!("{list}[{index}].name");
                self.add(field, Flaw::SameName(name.clone()));
            }
        }
    }

    fn frame(&mut self, scenario: &Scenario, of: &dyn Display, frame: &FrameState) {
        let FrameState {
            comb,
            brood,
            sealed,
            stores,
            drawn,
            bees,
        } = frame;
        self.id(of, "comb", comb.0, scenario.combs.len());
        self.within(of, "brood", brood.0, (0, 1000));
        self.within(of, "sealed", sealed.0, (0, brood.0.clamp(0, 1000)));
        self.within(of, "stores", stores.0, (0, 1000));
        let held = brood.0.clamp(0, 1000) + stores.0.clamp(0, 1000);
        self.within(of, "drawn", drawn.0, (held, 1000));
        self.within(of, "bees", bees.0, (0, MOST_ON_A_COMB));
    }
}

/// An entry of a list.
fn at(list: &str, index: usize) -> String {
    format!("{list}[{index}]")
}
