//! What has already left on the day, in the figures of the optimiser.

use std::collections::{BTreeMap, BTreeSet};

use super::Share;
use super::done::Done;
use super::kinds::frame_at;
use crate::honey::{self, HoneyRates};
use crate::plan::{Cost, Origin};
use crate::scenario::{Colony, ColonyId, FrameState, Scenario};
use crate::units::{Grams, share_of};

/// What has already left one colony.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Gone {
    pub frames: i64,
    /// Thousandths of a frame.
    pub brood: i64,
    /// Hundreds.
    pub bees: i64,
    /// Brood cells.
    pub cells: i64,
    /// Grams, for frames and bees.
    pub charge: i64,
}

impl Gone {
    pub fn of(scenario: &Scenario, id: ColonyId, rates: HoneyRates, done: &Done) -> Self {
        let bees = done.bees(id);
        let mut gone = Self {
            bees,
            charge: bees.saturating_mul(honey::hundred_charge(rates).0),
            ..Self::default()
        };
        for (index, group) in scenario.colonies[id.0].frames.iter().enumerate() {
            let count = i64::from(done.frames(Origin::Colony(id, index)));
            gone.frames += count;
            gone.brood += count * group.frame.brood.0;
            gone.cells += count * cells(scenario, &group.frame);
            gone.charge += count * charge(scenario, &group.frame, rates);
        }
        gone
    }
}

/// Brood cells of a frame.
pub(super) fn cells(scenario: &Scenario, frame: &FrameState) -> i64 {
    let comb = scenario.combs.get(frame.comb.0);
    comb.map_or(0, |comb| share_of(frame.brood, comb.cells))
}

/// Grams of honey charged for a frame.
pub(super) fn charge(scenario: &Scenario, frame: &FrameState, rates: HoneyRates) -> i64 {
    let comb = scenario.combs.get(frame.comb.0);
    comb.map_or(0, |comb| honey::frame_charge(comb, frame, rates).0)
}

/// Hundreds of bees of a colony before anything was done.
pub(super) fn all_bees(colony: &Colony) -> i64 {
    let groups = colony.frames.iter();
    groups.fold(colony.extra_bees.0, |sum, group| {
        sum.saturating_add(group.frame.bees.0.saturating_mul(group.count.into()))
    })
}

/// Hundreds of bees that can be taken: those on frames without the queen; all of a colony that is taken apart.
pub(crate) fn can_be_taken(colony: &Colony) -> i64 {
    if colony.apart {
        return all_bees(colony);
    }
    let groups = colony.frames.iter().filter(|group| !group.queen);
    groups.fold(0, |sum, group| {
        sum.saturating_add(group.frame.bees.0.saturating_mul(group.count.into()))
    })
}

/// What the burden of a colony is reckoned from; `None` where it carries none.
pub(super) fn share(scenario: &Scenario, colony: &Colony, gone: &Gone) -> Option<Share> {
    let groups = colony.frames.iter();
    let cells_before = groups
        .map(|group| i64::from(group.count) * cells(scenario, &group.frame))
        .sum();
    (!colony.apart).then_some(Share {
        bees_before: all_bees(colony),
        bees_gone: gone.bees,
        cells_before,
        cells_gone: gone.cells,
    })
}

/// What is done comes to, with the frames drawn otherwise than in an earlier plan that drew these.
pub(super) fn base(
    scenario: &Scenario,
    done: &Done,
    then: Option<&BTreeMap<(ColonyId, usize), u64>>,
) -> Cost {
    let mut cost = Cost {
        substitutes: substitutes(scenario, done),
        otherwise: then.map_or(0, |then| otherwise(scenario, done, then)),
        ..Cost::default()
    };
    for (index, colony) in scenario.colonies.iter().enumerate() {
        let id = ColonyId(index);
        if done.opened(id) {
            let rates = honey::rates(&scenario.combs, colony, &scenario.colony_model);
            let gone = Gone::of(scenario, id, rates, done);
            cost.honey += Grams(gone.charge);
            cost.opened += 1;
            cost.burden += share(scenario, colony, &gone).map_or(0, |share| share.burden(0, 0));
        }
    }
    cost
}

/// Places in the orders of preference of the frames that are done.
fn substitutes(scenario: &Scenario, done: &Done) -> i64 {
    let records = done.records.values();
    let places = records.filter_map(|record| {
        let asked = scenario.asked(record.kind, record.box_no, record.place)?;
        let places = record.frames.iter().filter_map(|placed| {
            let frame = frame_at(scenario, placed.origin)?;
            let place = asked.lines.get(placed.line)?.place_of(frame)?;
            Some(i64::try_from(place).unwrap_or(i64::MAX) * i64::from(placed.count))
        });
        Some(places.sum::<i64>())
    });
    places.sum()
}

/// Frames drawn otherwise where nothing more is taken.
fn otherwise(scenario: &Scenario, done: &Done, then: &BTreeMap<(ColonyId, usize), u64>) -> i64 {
    let colonies = scenario.colonies.iter().enumerate();
    let groups = colonies.flat_map(|(at, c)| (0..c.frames.len()).map(move |g| (ColonyId(at), g)));
    let groups: BTreeSet<_> = groups.chain(then.keys().copied()).collect();
    let apart = groups.iter().map(|group| {
        let gone = u64::from(done.frames(Origin::Colony(group.0, group.1)));
        then.get(group).copied().unwrap_or(0).abs_diff(gone)
    });
    apart.fold(0, |sum, count| {
        sum.saturating_add(i64::try_from(count).unwrap_or(i64::MAX))
    })
}

impl Share {
    /// Whole percent that a colony has given when so many hundreds of bees and so many brood cells
    /// more are taken.
    pub fn percent(&self, bees: i64, cells: i64) -> i64 {
        let part = |taken: i64, before: i64| match before > 0 {
            true => (100 * taken + before - 1) / before,
            false => 0,
        };
        part(self.bees_gone + bees, self.bees_before)
            .max(part(self.cells_gone + cells, self.cells_before))
    }

    /// Points of burden then.
    pub fn burden(&self, bees: i64, cells: i64) -> i64 {
        points(self.percent(bees, cells))
    }
}

/// Points of burden of a share in percent.
pub(crate) fn points(percent: i64) -> i64 {
    let beyond = [0, 20, 40, 60, 80].map(|from| (percent - from).max(0));
    beyond.iter().sum()
}
