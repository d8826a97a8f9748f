//! The limits of a scenario, and how far each can be loosened to any effect.

use std::collections::BTreeSet;

use super::limit::{Cap, Change, Floor, Limit, Unit, changed};
use crate::honey;
use crate::scenario::{
    Ask, BoxKind, Colony, ColonyId, Comb, FrameGroup, FrameState, Line, Scenario, SiteId,
};
use crate::solve::can_be_taken;
use crate::units::share_of;

/// Amounts of one more of something, or of the least step that is looked at.
///
/// Counted things (frames, cells, boxes) go one by one.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Steps {
    /// Thousandths of a frame, above 0.
    pub frame_shares: i64,
    /// Hundreds of bees, above 0.
    pub bees: i64,
    /// Grams of stores, above 0.
    pub stores: i64,
    /// Grams of honey, above 0.
    pub honey: i64,
    /// Whole percent, above 0.
    pub percent: i64,
}

impl Steps {
    /// What "one more" is: a frame, 1000 bees, a kilogram, 10 % (a choice: what a person would try).
    pub const ONE: Self = Self {
        frame_shares: 1000,
        bees: 10,
        stores: 1000,
        honey: 1000,
        percent: 10,
    };
    /// The least step: a tenth of a frame, 500 bees, 100 g of stores, 10 g of honey, 10 % (a choice:
    /// as fine as anyone counts, or finer).
    pub const LEAST: Self = Self {
        frame_shares: 100,
        bees: 5,
        stores: 100,
        honey: 10,
        percent: 10,
    };

    /// The step in a unit; 1 of what is counted.
    #[must_use]
    pub fn of(&self, unit: Unit) -> i64 {
        let step = match unit {
            Unit::FrameShares => self.frame_shares,
            Unit::Bees => self.bees,
            Unit::Stores => self.stores,
            Unit::Honey => self.honey,
            Unit::Percent => self.percent,
            Unit::Frames | Unit::Cells | Unit::Boxes | Unit::Lifted => 1,
        };
        step.max(1)
    }
}

/// A scenario with its limits in a fixed order.
pub(super) struct Yard<'a> {
    pub scenario: &'a Scenario,
    pub limits: Vec<Limit>,
}

impl<'a> Yard<'a> {
    pub fn new(scenario: &'a Scenario) -> Self {
        let mut limits: Vec<Limit> = asks(scenario).into_iter().map(Limit::Frames).collect();
        let cells = next_cells(scenario);
        let fewest = cells.map(|kind| kind.again.bees);
        let fewest = fewest.chain(scenario.boxes.iter().map(|kind| kind.bees));
        if fewest.max().is_some_and(|bees| bees.0 > 0) {
            let sites: BTreeSet<SiteId> = scenario.colonies.iter().map(|c| c.site).collect();
            let reach = |site: &SiteId| arriving(scenario, *site) > 0;
            limits.extend(sites.into_iter().filter(reach).map(Limit::BeesAt));
        }
        if scenario.cells.is_some() {
            limits.push(Limit::Cells);
        }
        for (id, kind) in (0..).map(crate::BoxId).zip(&scenario.boxes) {
            limits.push(Limit::Boxes(id));
            if kind.whole && kind.compartments > 1 {
                limits.push(Limit::Whole(id));
            }
        }
        if scenario.honey_cap.is_some() {
            limits.push(Limit::HoneyCap);
        }
        for (id, colony) in (0..).map(ColonyId).zip(&scenario.colonies) {
            limits_of(id, colony, &mut limits);
        }
        Self { scenario, limits }
    }

    /// A limit loosened so far that more would do nothing more.
    pub fn lifted(&self, limit: Limit) -> Change {
        let by = match limit {
            Limit::Floor(..) | Limit::Rides(_) => limit.now(self.scenario),
            Limit::Cap(colony, cap) => self.all_of(colony, cap),
            Limit::HoneyCap => {
                let ids = (0..self.scenario.colonies.len()).map(ColonyId);
                ids.map(|id| self.all_of(id, Cap::Honey)).sum()
            }
            Limit::Frames(ask) => self.wanted(&ask),
            Limit::BeesAt(site) => self.bees(site),
            Limit::Cells => self.compartments(|_| 1),
            Limit::Boxes(id) => self.boxes(id.0),
            Limit::Whole(_) | Limit::Hold(_) => 1,
        };
        Change {
            limit,
            by: by.max(1),
        }
    }

    /// The limits of a colony.
    pub fn of_colony(&self, id: ColonyId) -> impl Iterator<Item = Limit> {
        let limits = self.limits.iter().copied();
        limits.filter(move |limit| limit.colony() == Some(id))
    }

    /// These limits lifted.
    pub fn lift(&self, limits: impl IntoIterator<Item = Limit>) -> Vec<Change> {
        limits.into_iter().map(|limit| self.lifted(limit)).collect()
    }

    /// The scenario with these limits lifted.
    pub fn without(&self, limits: impl IntoIterator<Item = Limit>) -> Scenario {
        changed(self.scenario, &self.lift(limits))
    }

    /// Loosened by one more.
    pub fn one_more(&self, limit: Limit, one: &Steps) -> Change {
        let by = one.of(limit.unit());
        let most = if limit.is_floor() {
            limit.now(self.scenario)
        } else {
            i64::MAX
        };
        Change {
            limit,
            by: by.min(most),
        }
    }

    /// The amounts looked at, least first: how many, and each by its number from 1. Floors and caps
    /// go to multiples of the step, as a person would write them.
    pub fn amounts(&self, limit: Limit, least: &Steps) -> (i64, impl Fn(i64) -> Change) {
        let step = least.of(limit.unit());
        let now = limit.now(self.scenario);
        let most = self.lifted(limit).by;
        let first = match limit {
            Limit::Floor(..) | Limit::Rides(_) => now - (now - 1).div_euclid(step) * step,
            Limit::Cap(..) | Limit::HoneyCap => (now.div_euclid(step) + 1) * step - now,
            _ => step,
        };
        let count = 1 + ((most - first).max(0) + step - 1) / step;
        let top = if limit.is_floor() { now } else { i64::MAX };
        (count, move |number| Change {
            limit,
            by: (first + (number - 1) * step).min(top),
        })
    }

    /// All that a colony has of what a cap is on; for honey, all that it could be charged.
    fn all_of(&self, id: ColonyId, cap: Cap) -> i64 {
        let scenario = self.scenario;
        let Some(colony) = scenario.colonies.get(id.0) else {
            return 0;
        };
        let groups = colony.frames.iter().filter_map(|group| {
            let comb = scenario.combs.get(group.frame.comb.0)?;
            Some((i64::from(group.count), group.frame, comb))
        });
        let bees = || can_be_taken(colony);
        match cap {
            Cap::Frames => groups.map(|(count, ..)| count).sum(),
            Cap::Brood => groups.map(|(count, frame, _)| count * frame.brood.0).sum(),
            Cap::Bees => bees(),
            Cap::Honey => {
                let rates = honey::rates(&scenario.combs, colony, &scenario.colony_model);
                let frames = groups
                    .clone()
                    .map(|(count, frame, comb)| count * honey::frame_charge(comb, &frame, rates).0);
                frames.sum::<i64>() + bees() * honey::hundred_charge(rates).0
            }
        }
    }

    /// A figure of one compartment, over all compartments and one box more of each kind.
    fn compartments(&self, each: impl Fn(&BoxKind) -> i64) -> i64 {
        let kinds = self.scenario.boxes.iter();
        kinds
            .map(|kind| (i64::from(kind.count) + 1) * i64::from(kind.compartments) * each(kind))
            .sum()
    }

    /// Frames that all compartments could use for the lines that a frame of this kind may serve.
    fn wanted(&self, ask: &Ask) -> i64 {
        let of = |lines: &[Line]| -> i64 {
            let lines = lines.iter().filter(|line| {
                line.ask == *ask || line.substitutes.iter().any(|other| other.ask == *ask)
            });
            lines.map(|line| i64::from(line.count)).sum()
        };
        let again = next_cells(self.scenario).map(|kind| of(&kind.again.lines));
        self.compartments(|kind| of(&kind.lines)) + again.sum::<i64>()
    }

    /// Hundreds of bees to be taken at a site so that enough arrive in all compartments.
    fn bees(&self, site: SiteId) -> i64 {
        let stay = arriving(self.scenario, site).max(1);
        let again = next_cells(self.scenario).map(|kind| kind.again.bees.0);
        (self.compartments(|kind| kind.bees.0) + again.sum::<i64>()) / stay + 1
    }

    /// More boxes of a kind than all frames, or all bees, could stock.
    fn boxes(&self, index: usize) -> i64 {
        let Some(kind) = self.scenario.boxes.get(index) else {
            return 1;
        };
        let frames: i64 = kind.lines.iter().map(|line| i64::from(line.count)).sum();
        let ids = (0..self.scenario.colonies.len()).map(ColonyId);
        let fill = if frames > 0 {
            let at_hand: i64 = ids.map(|id| self.all_of(id, Cap::Frames)).sum();
            let spare = self.scenario.store_room.iter();
            let spare: i64 = spare.map(|spare| i64::from(spare.count)).sum();
            (at_hand + spare) / frames
        } else {
            100 * ids.map(|id| self.all_of(id, Cap::Bees)).sum::<i64>() / kind.bees.0.max(1)
        };
        (fill / i64::from(kind.compartments.max(1)) + 1).min(MOST_BOXES)
    }
}

/// Most boxes that are tried (a choice: as many as a file may name).
const MOST_BOXES: i64 = 10_000;

/// The kind of each compartment that stands and wants a cell.
pub(super) fn next_cells(scenario: &Scenario) -> impl Iterator<Item = &BoxKind> {
    let stand = scenario.standing.iter().filter(|stands| stands.wants_cell);
    stand.filter_map(|stands| scenario.boxes.get(stands.kind.0))
}

/// Every ask of a line or a substitute once, in the order of the scenario.
fn asks(scenario: &Scenario) -> Vec<Ask> {
    let mut asks = Vec::new();
    let lines = scenario.boxes.iter().flat_map(|kind| &kind.lines);
    for line in lines.chain(next_cells(scenario).flat_map(|kind| &kind.again.lines)) {
        let others = line.substitutes.iter().map(|other| other.ask);
        for ask in std::iter::once(line.ask).chain(others) {
            if !asks.contains(&ask) {
                asks.push(ask);
            }
        }
    }
    asks
}

/// Percent of the bees taken at a site that stay at the worst of the sites with boxes, of those
/// where any stay.
fn arriving(scenario: &Scenario, site: SiteId) -> i64 {
    let near = |kind: &BoxKind| {
        let row = scenario.distances.get(site.0);
        let metres = row.and_then(|row| row.get(kind.site.0));
        metres.is_some_and(|&metres| metres < scenario.drift.homing_metres)
    };
    let stay = scenario.boxes.iter().map(|kind| match near(kind) {
        true => 100 - scenario.drift.flying.0,
        false => 100,
    });
    stay.filter(|&stay| stay > 0).min().unwrap_or(0)
}

fn limits_of(id: ColonyId, colony: &Colony, limits: &mut Vec<Limit>) {
    if colony.hold.is_some() {
        limits.push(Limit::Hold(id));
    }
    let keep = colony.keep;
    for (floor, value) in [
        (Floor::Brood, keep.brood.0),
        (Floor::Bees, keep.bees.0),
        (Floor::Stores, keep.stores.0),
        (Floor::Drawn, keep.drawn.0),
        (Floor::Covered, keep.covered.0),
    ] {
        if value > 0 {
            limits.push(Limit::Floor(id, floor));
        }
    }
    let on_brood = |group: &FrameGroup| group.frame.brood.0 > 0 && group.frame.bees.0 > 0;
    if colony.rides.0 > 0 && colony.frames.iter().any(on_brood) {
        limits.push(Limit::Rides(id));
    }
    let draw = colony.draw;
    for (cap, given) in [
        (Cap::Frames, draw.frames.is_some()),
        (Cap::Brood, draw.brood.is_some()),
        (Cap::Bees, draw.bees.is_some()),
        (Cap::Honey, draw.honey.is_some() && colony.crop.is_some()),
    ] {
        if given {
            limits.push(Limit::Cap(id, cap));
        }
    }
}

/// What a colony holds that a floor is under, before the draw; `None` where it may give whatever
/// that is.
pub(super) fn held(scenario: &Scenario, colony: &Colony, floor: Floor) -> Option<i64> {
    let sum = |of: &dyn Fn(&FrameState, &Comb) -> i64| -> i64 {
        let groups = colony.frames.iter().filter_map(|group| {
            let comb = scenario.combs.get(group.frame.comb.0)?;
            Some(i64::from(group.count) * of(&group.frame, comb))
        });
        groups.sum()
    };
    match floor {
        Floor::Brood => Some(sum(&|frame, _| frame.brood.0)),
        Floor::Drawn => Some(sum(&|frame, _| frame.drawn.0)),
        Floor::Stores => Some(sum(&|frame, comb| share_of(frame.stores, comb.stores.0))),
        Floor::Bees => Some(colony.extra_bees.0 + sum(&|frame, _| frame.bees.0)),
        Floor::Covered => None,
    }
}
