//! Limits by name, and what it means to loosen one.

use crate::scenario::{
    Ask, BoxId, CellBatch, Colony, ColonyId, FrameGroup, FrameState, Scenario, SiteId, SpareFrames,
};
use crate::units::{Grams, Hundreds, Milli, Percent};
use crate::{Draw, Keep};

/// What a floor is under.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Floor {
    /// Brood, thousandths of a frame.
    Brood,
    /// Bees, hundreds.
    Bees,
    /// Stores, grams.
    Stores,
    /// Drawn comb, thousandths of a frame.
    Drawn,
    /// How far bees that stay cover the brood that stays, percent.
    Covered,
}

impl Floor {
    /// Floors of which a colony below them before the draw gives nothing.
    pub(super) const TO_GIVE: [Self; 4] = [Self::Brood, Self::Bees, Self::Stores, Self::Drawn];
    /// All floors.
    pub(super) const ALL: [Self; 5] = [
        Self::Brood,
        Self::Bees,
        Self::Stores,
        Self::Drawn,
        Self::Covered,
    ];

    /// The floor as it stands.
    pub(super) fn of(self, keep: &Keep) -> i64 {
        match self {
            Self::Brood => keep.brood.0,
            Self::Bees => keep.bees.0,
            Self::Stores => keep.stores.0,
            Self::Drawn => keep.drawn.0,
            Self::Covered => keep.covered.0,
        }
    }
}

/// What a cap is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cap {
    /// Frames.
    Frames,
    /// Brood, thousandths of a frame.
    Brood,
    /// Bees, hundreds.
    Bees,
    /// Honey given up, grams.
    Honey,
}

impl Cap {
    /// All caps.
    pub(super) const ALL: [Self; 4] = [Self::Frames, Self::Brood, Self::Bees, Self::Honey];
}

/// Something there is only so much of, or that forbids something.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Limit {
    /// Frames that an ask wants; more of them come from outside the colonies listed, and hold just the
    /// least that it wants, without bees.
    Frames(Ask),
    /// Bees at a site where colonies stand; more of them come from outside the colonies listed.
    BeesAt(SiteId),
    /// Ripe cells or queens; more of them are for any kind of box.
    Cells,
    /// Boxes of a kind.
    Boxes(BoxId),
    /// That boxes of a kind are stocked whole or not at all.
    Whole(BoxId),
    /// The honey cap of all colonies together.
    HoneyCap,
    /// What a colony must keep.
    Floor(ColonyId, Floor),
    /// What may leave a colony at most.
    Cap(ColonyId, Cap),
    /// How many of the bees on its brood frames must ride with them.
    Rides(ColonyId),
    /// That a colony is on hold.
    Hold(ColonyId),
}

/// What an amount of a limit counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Unit {
    /// Whole frames.
    Frames,
    /// Thousandths of a frame.
    FrameShares,
    /// Hundreds of bees.
    Bees,
    /// Grams of stores.
    Stores,
    /// Grams of honey given up.
    Honey,
    /// Whole percent.
    Percent,
    /// Cells or queens.
    Cells,
    /// Boxes.
    Boxes,
    /// Nothing: the limit holds or it does not.
    Lifted,
}

/// A limit loosened by an amount in its unit; 0 and 1 where it is lifted or not.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Change {
    /// Which limit.
    pub limit: Limit,
    /// By how much, above 0.
    pub by: i64,
}

/// Names for colonies that stand for what comes from outside; longer than any of the file, so
/// that they differ.
const OUTSIDE: &str = "from outside";

impl Limit {
    /// What its amounts count.
    #[must_use]
    pub fn unit(&self) -> Unit {
        match self {
            Self::Frames(_) | Self::Cap(_, Cap::Frames) => Unit::Frames,
            Self::BeesAt(_) | Self::Floor(_, Floor::Bees) | Self::Cap(_, Cap::Bees) => Unit::Bees,
            Self::Cells => Unit::Cells,
            Self::Boxes(_) => Unit::Boxes,
            Self::HoneyCap | Self::Cap(_, Cap::Honey) => Unit::Honey,
            Self::Floor(_, Floor::Brood | Floor::Drawn) | Self::Cap(_, Cap::Brood) => {
                Unit::FrameShares
            }
            Self::Floor(_, Floor::Stores) => Unit::Stores,
            Self::Floor(_, Floor::Covered) | Self::Rides(_) => Unit::Percent,
            Self::Whole(_) | Self::Hold(_) => Unit::Lifted,
        }
    }

    /// The colony that it is a limit of, if of one.
    #[must_use]
    pub fn colony(&self) -> Option<ColonyId> {
        match *self {
            Self::Floor(colony, _)
            | Self::Cap(colony, _)
            | Self::Rides(colony)
            | Self::Hold(colony) => Some(colony),
            _ => None,
        }
    }

    /// The figure that the scenario gives it, in its unit: a floor, a cap, a count. 0 where it has
    /// none.
    #[must_use]
    pub fn now(&self, scenario: &Scenario) -> i64 {
        match *self {
            Self::Floor(colony, floor) => floor.of(&keep(scenario, colony)),
            Self::Cap(colony, cap) => cap_of(&draw(scenario, colony), cap).unwrap_or(0),
            Self::Rides(colony) => scenario
                .colonies
                .get(colony.0)
                .map_or(0, |colony| colony.rides.0),
            Self::HoneyCap => scenario.honey_cap.map_or(0, |cap| cap.0),
            Self::Boxes(id) => scenario
                .boxes
                .get(id.0)
                .map_or(0, |kind| i64::from(kind.count)),
            Self::Cells => scenario
                .cells
                .iter()
                .flatten()
                .filter(|batch| batch.count < CellBatch::UNCOUNTED)
                .map(|batch| i64::from(batch.count))
                .sum(),
            Self::Frames(_) | Self::BeesAt(_) | Self::Whole(_) | Self::Hold(_) => 0,
        }
    }

    /// Whether it may be on offer: all but holds, which end when their reason does. A colony of which nothing may
    /// be taken is held, too, by a cap of 0.
    #[must_use]
    pub fn on_offer(&self, scenario: &Scenario) -> bool {
        match self {
            Self::Hold(_) => false,
            Self::Cap(..) => self.now(scenario) > 0,
            _ => true,
        }
    }

    /// Whether it may be on offer and loosening it takes nothing from outside the colonies and boxes listed.
    #[must_use]
    pub fn is_own(&self, scenario: &Scenario) -> bool {
        let own = matches!(
            self,
            Self::Floor(..) | Self::Cap(..) | Self::Rides(_) | Self::HoneyCap | Self::Whole(_)
        );
        own && self.on_offer(scenario)
    }

    /// Whether loosening it lowers its figure.
    #[must_use]
    pub fn is_floor(&self) -> bool {
        matches!(self, Self::Floor(..) | Self::Rides(_))
    }
}

fn keep(scenario: &Scenario, colony: ColonyId) -> Keep {
    scenario
        .colonies
        .get(colony.0)
        .map_or(Keep::default(), |c| c.keep)
}

fn draw(scenario: &Scenario, colony: ColonyId) -> Draw {
    scenario
        .colonies
        .get(colony.0)
        .map_or(Draw::default(), |c| c.draw)
}

fn cap_of(draw: &Draw, cap: Cap) -> Option<i64> {
    match cap {
        Cap::Frames => draw.frames.map(i64::from),
        Cap::Brood => draw.brood.map(|cap| cap.0),
        Cap::Bees => draw.bees.map(|cap| cap.0),
        Cap::Honey => draw.honey.map(|cap| cap.0),
    }
}

/// The least that a frame must hold to be what is asked for, without bees.
pub(super) fn least_frame(ask: &Ask) -> FrameState {
    let brood = ask.brood.least.max(ask.sealed.least);
    FrameState {
        comb: ask.comb,
        brood,
        sealed: ask.sealed.least,
        stores: ask.stores.least,
        drawn: ask.drawn.least.max(brood + ask.stores.least),
        bees: Hundreds(0),
    }
}

/// A colony that stands for what comes from outside: it has no limits and carries no burden.
fn outside(scenario: &Scenario, site: SiteId) -> Colony {
    let others = scenario.colonies.iter();
    let many = others.filter(|c| c.name.starts_with(OUTSIDE)).count();
    Colony {
        name: format!("{OUTSIDE} {}", many + 1),
        site,
        role: String::new(),
        hold: None,
        frames: Vec::new(),
        extra_bees: Hundreds(0),
        crop: None,
        keep: Keep::default(),
        draw: Draw::default(),
        rides: Percent(0),
        apart: true,
    }
}

impl Change {
    fn apply(&self, scenario: &mut Scenario) {
        let count = u32::try_from(self.by.max(0)).unwrap_or(u32::MAX);
        match self.limit {
            Limit::Frames(ask) => more_frames(scenario, &ask, count),
            Limit::BeesAt(site) => {
                let mut colony = outside(scenario, site);
                colony.extra_bees = Hundreds(self.by.max(0));
                scenario.colonies.push(colony);
            }
            Limit::Cells => {
                let batches = scenario.cells.get_or_insert_default();
                match batches.iter_mut().find(|batch| batch.boxes.is_empty()) {
                    Some(batch) => batch.count = batch.count.saturating_add(count),
                    None => batches.push(CellBatch {
                        count,
                        boxes: Vec::new(),
                    }),
                }
            }
            Limit::Boxes(id) => {
                if let Some(kind) = scenario.boxes.get_mut(id.0) {
                    kind.count = kind.count.saturating_add(count);
                }
            }
            Limit::Whole(id) => {
                if let Some(kind) = scenario.boxes.get_mut(id.0) {
                    kind.whole = false;
                }
            }
            Limit::HoneyCap => {
                let cap = scenario.honey_cap.as_mut();
                if let Some(cap) = cap {
                    *cap = Grams(cap.0.saturating_add(self.by));
                }
            }
            Limit::Floor(colony, floor) => {
                if let Some(colony) = scenario.colonies.get_mut(colony.0) {
                    lower(&mut colony.keep, floor, self.by);
                }
            }
            Limit::Cap(colony, cap) => {
                if let Some(colony) = scenario.colonies.get_mut(colony.0) {
                    raise(&mut colony.draw, cap, self.by);
                }
            }
            Limit::Rides(colony) => {
                if let Some(colony) = scenario.colonies.get_mut(colony.0) {
                    colony.rides = Percent((colony.rides.0 - self.by).max(0));
                }
            }
            Limit::Hold(colony) => {
                if let Some(colony) = scenario.colonies.get_mut(colony.0) {
                    colony.hold = None;
                }
            }
        }
    }
}

/// Frames without brood go to the store room; frames with brood hang in a colony.
fn more_frames(scenario: &mut Scenario, ask: &Ask, count: u32) {
    let frame = least_frame(ask);
    if frame.brood.0 == 0 {
        scenario.store_room.push(SpareFrames { count, frame });
        return;
    }
    let site = scenario.colonies.first().map(|c| c.site);
    let site = site.or(scenario.boxes.first().map(|kind| kind.site));
    let mut colony = outside(scenario, site.unwrap_or(SiteId(0)));
    colony.frames = vec![FrameGroup {
        count,
        frame,
        queen: false,
    }];
    scenario.colonies.push(colony);
}

fn lower(keep: &mut Keep, floor: Floor, by: i64) {
    let less = |value: i64| value.saturating_sub(by).max(0);
    match floor {
        Floor::Brood => keep.brood = Milli(less(keep.brood.0)),
        Floor::Bees => keep.bees = Hundreds(less(keep.bees.0)),
        Floor::Stores => keep.stores = Grams(less(keep.stores.0)),
        Floor::Drawn => keep.drawn = Milli(less(keep.drawn.0)),
        Floor::Covered => keep.covered = Percent(less(keep.covered.0)),
    }
}

fn raise(draw: &mut Draw, cap: Cap, by: i64) {
    let more = |value: i64| value.saturating_add(by);
    match cap {
        Cap::Frames => {
            let by = u32::try_from(by).unwrap_or(u32::MAX);
            draw.frames = draw.frames.map(|cap| cap.saturating_add(by));
        }
        Cap::Brood => draw.brood = draw.brood.map(|cap| Milli(more(cap.0))),
        Cap::Bees => draw.bees = draw.bees.map(|cap| Hundreds(more(cap.0))),
        Cap::Honey => draw.honey = draw.honey.map(|cap| Grams(more(cap.0))),
    }
}

/// The scenario with limits loosened.
///
/// ```
/// use spareframe_solver::why::{Change, Limit, changed};
/// use spareframe_solver::{BoxId, Scenario};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../doctests/yard.rs");
/// let cells = Change { limit: Limit::Cells, by: 3 };
/// let boxes = Change { limit: Limit::Boxes(BoxId(0)), by: 1 };
/// let more = changed(&yard, &[cells, boxes]);
/// assert_eq!((more.boxes[0].count, Limit::Cells.now(&more)), (3, 7));
/// ```
#[must_use]
pub fn changed(scenario: &Scenario, changes: &[Change]) -> Scenario {
    let mut changed = scenario.clone();
    for change in changes {
        change.apply(&mut changed);
    }
    changed
}
