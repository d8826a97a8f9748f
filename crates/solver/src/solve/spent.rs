//! What has already left on the day, in the figures of the optimiser.

use super::done::Done;
use super::tables::item;
use crate::honey;
use crate::plan::Origin;
use crate::scenario::{Colony, ColonyId, Scenario};

/// What the frames and bees that have already left come to.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spent {
    pub honey: i64,
    pub opened: i64,
    pub shaken: i64,
}

impl Spent {
    pub fn of(scenario: &Scenario, done: &Done) -> Self {
        let (mut honey, mut opened, mut shaken) = (0, 0, 0);
        for (index, colony) in scenario.colonies.iter().enumerate() {
            let id = ColonyId(index);
            if done.opened(id) {
                let gone = Gone::of(scenario, colony, id, done);
                honey += gone.charge;
                opened += 1;
                shaken += (gone.bees - gone.riding).max(0);
            }
        }
        Self {
            honey,
            opened,
            shaken,
        }
    }
}

/// What has already left one colony.
#[derive(Default)]
pub(super) struct Gone {
    pub frames: i64,
    pub brood: i64,
    pub bees: i64,
    /// Bees on the frames that have left.
    pub riding: i64,
    /// For frames and bees.
    pub charge: i64,
}

impl Gone {
    pub fn of(scenario: &Scenario, colony: &Colony, id: ColonyId, done: &Done) -> Self {
        let rates = honey::rates(&scenario.combs, colony, &scenario.colony_model);
        let bees = done.bees(id);
        let mut gone = Self {
            bees,
            charge: bees * rates.bees,
            ..Self::default()
        };
        for (index, group) in colony.frames.iter().enumerate() {
            let count = i64::from(done.frames(Origin::Colony(id, index)));
            let item = item(scenario, &group.frame, rates);
            gone.frames += count;
            gone.brood += item.brood * count;
            gone.riding += item.bees * count;
            gone.charge += item.charge * count;
        }
        gone
    }
}
