//! What is done, and what of the plan is still to be done.

use super::breach::Spot;
use crate::plan::{Compartment, Origin, PlacedBees};
use crate::scenario::{BoxKind, ColonyId, Scenario, SiteId};
use std::collections::BTreeMap;

/// Frames by line and origin.
pub(super) type Frames = BTreeMap<(usize, Origin), i128>;
/// Hundreds of bees of each colony.
pub(super) type Bees = BTreeMap<ColonyId, Two>;

/// Hundreds of bees that ride, and of loose ones.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Two {
    pub riding: i128,
    pub loose: i128,
}

impl Two {
    pub(super) fn all(self) -> i128 {
        self.riding + self.loose
    }

    pub(super) fn add(&mut self, placed: &PlacedBees) {
        self.riding += i128::from(placed.riding.0.max(0));
        self.loose += i128::from(placed.loose.0.max(0));
    }

    /// What is left of these. A record says how many bees went, and need not tell those that rode from
    /// the loose ones as the plan does: what it has too many of one sort are of the other.
    fn less(self, gone: Self) -> Self {
        let all = (self.all() - gone.all()).max(0);
        let riding = (self.riding - gone.riding).clamp(0, all);
        Self {
            riding,
            loose: all - riding,
        }
    }
}

/// What is in a compartment.
#[derive(Debug, Clone, Default)]
pub(super) struct Inside {
    pub frames: Frames,
    pub bees: Bees,
}

impl Inside {
    pub(super) fn add(&mut self, compartment: &Compartment) {
        for placed in &compartment.frames {
            *self.frames.entry((placed.line, placed.origin)).or_default() +=
                i128::from(placed.count);
        }
        for placed in &compartment.bees {
            self.bees.entry(placed.colony).or_default().add(placed);
        }
    }

    pub(super) fn of(compartment: &Compartment) -> Self {
        let mut inside = Self::default();
        inside.add(compartment);
        inside
    }

    /// What is still to be put in where this much is done.
    pub(super) fn less(&self, done: &Self) -> Self {
        let frames = self.frames.iter().map(|(&key, &count)| {
            let gone = done.frames.get(&key).copied().unwrap_or(0);
            (key, (count - gone).max(0))
        });
        let bees = self.bees.iter().map(|(&colony, &bees)| {
            let gone = done.bees.get(&colony).copied().unwrap_or_default();
            (colony, bees.less(gone))
        });
        Self {
            frames: frames.collect(),
            bees: bees.collect(),
        }
    }

    pub(super) fn is_empty(&self) -> bool {
        self.frames.values().all(|&count| count == 0) && self.bees.values().all(|b| b.all() == 0)
    }

    /// Bees that stay of these at a site: all, and of the loose ones alone.
    pub(super) fn staying(&self, scenario: &Scenario, site: SiteId) -> (i128, i128) {
        let mut sums = (0, 0);
        for (&colony, bees) in &self.bees {
            let stay = stay(scenario, colony, site);
            sums.0 += stay * bees.all();
            sums.1 += stay * bees.loose;
        }
        sums
    }
}

/// Records by compartment.
pub(super) struct Done(pub BTreeMap<Spot, Inside>);

impl Done {
    pub(super) fn of(scenario: &Scenario) -> Self {
        let mut done = BTreeMap::<Spot, Inside>::new();
        for record in &scenario.done {
            done.entry(Spot::of(record)).or_default().add(record);
        }
        Self(done)
    }

    /// What is still to be put into a compartment.
    pub(super) fn to_come(&self, compartment: &Compartment) -> Inside {
        let inside = Inside::of(compartment);
        match self.0.get(&Spot::of(compartment)) {
            Some(done) => inside.less(done),
            None => inside,
        }
    }

    /// Bees held already by a compartment that is begun.
    pub(super) fn held(&self, scenario: &Scenario, spot: Spot, kind: &BoxKind) -> Option<i128> {
        let done = self.0.get(&spot)?;
        Some(done.staying(scenario, kind.site).0)
    }
}

/// Percent that stay of the bees of a colony taken to a site, which is the number of bees that stay of
/// each hundred. A distance that is not given counts as 0 m, a colony that does not exist gives none.
pub(super) fn stay(scenario: &Scenario, colony: ColonyId, site: SiteId) -> i128 {
    let Some(colony) = scenario.colonies.get(colony.0) else {
        return 0;
    };
    let row = scenario.distances.get(colony.site.0);
    let metres = row.and_then(|row| row.get(site.0)).copied().unwrap_or(0);
    if metres < scenario.drift.homing_metres {
        100 - i128::from(scenario.drift.flying.0.clamp(0, 100))
    } else {
        100
    }
}
