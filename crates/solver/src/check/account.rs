//! What a plan takes and leaves, in wide integers.

use super::Holding;
use crate::honey::{self, HoneyRates};
use crate::plan::{Compartment, Origin};
use crate::scenario::{Colony, Comb, FrameState, Scenario};
use crate::units::{Bees, Grams, Milli};

pub(super) fn narrow(value: i128) -> i64 {
    i64::try_from(value).unwrap_or(if value < 0 { i64::MIN } else { i64::MAX })
}

/// A share of a whole, rounded half up. A share outside 0..=1000 counts as the nearest of
/// these, so that no sum can overflow.
pub(super) fn part(share: Milli, whole: i64) -> i128 {
    let twice = 2 * i128::from(share.0.clamp(0, 1000)) * i128::from(whole);
    (twice + 1000).div_euclid(2000)
}

/// Figures of one frame, or sums of them.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Content {
    pub brood: i128,
    pub bees: i128,
    pub stores: i128,
    pub drawn: i128,
    pub open_cells: i128,
    pub sealed_cells: i128,
}

impl Content {
    pub(super) fn of(combs: &[Comb], frame: &FrameState) -> Self {
        let shares = Self {
            brood: i128::from(frame.brood.0),
            drawn: i128::from(frame.drawn.0),
            ..Self::default()
        };
        let Some(comb) = combs.get(frame.comb.0) else {
            return shares;
        };
        let sealed_cells = part(frame.sealed, comb.cells);
        Self {
            bees: part(frame.bees, comb.bees.0),
            stores: part(frame.stores, comb.stores.0),
            open_cells: part(frame.brood, comb.cells) - sealed_cells,
            sealed_cells,
            ..shares
        }
    }

    pub(super) fn add(&mut self, other: Self, times: i128) {
        self.brood += times * other.brood;
        self.bees += times * other.bees;
        self.stores += times * other.stores;
        self.drawn += times * other.drawn;
        self.open_cells += times * other.open_cells;
        self.sealed_cells += times * other.sealed_cells;
    }

    pub(super) fn less(mut self, other: Self) -> Self {
        self.add(other, -1);
        self
    }

    pub(super) fn narrow(self) -> Holding {
        Holding {
            brood: Milli(narrow(self.brood)),
            bees: Bees(narrow(self.bees)),
            stores: Grams(narrow(self.stores)),
            drawn: Milli(narrow(self.drawn)),
        }
    }
}

/// What the plan takes, by origin.
pub(super) struct Taken {
    /// Frames, by colony and frame group; only groups that exist.
    pub groups: Vec<Vec<i128>>,
    /// Bees, by colony; only positive entries of the plan.
    pub bees: Vec<i128>,
    /// Frames, by entry of the store room.
    pub store_room: Vec<i128>,
}

impl Taken {
    pub(super) fn of<'a>(
        scenario: &Scenario,
        compartments: impl IntoIterator<Item = &'a Compartment>,
    ) -> Self {
        let mut taken = Self {
            groups: scenario
                .colonies
                .iter()
                .map(|c| vec![0; c.frames.len()])
                .collect(),
            bees: vec![0; scenario.colonies.len()],
            store_room: vec![0; scenario.store_room.len()],
        };
        for compartment in compartments {
            for placed in &compartment.frames {
                let slot = match placed.origin {
                    Origin::Colony(colony, group) => taken
                        .groups
                        .get_mut(colony.0)
                        .and_then(|groups| groups.get_mut(group)),
                    Origin::StoreRoom(entry) => taken.store_room.get_mut(entry),
                };
                if let Some(slot) = slot {
                    *slot += i128::from(placed.count);
                }
            }
            for placed in &compartment.bees {
                if let Some(slot) = taken.bees.get_mut(placed.colony.0) {
                    *slot += i128::from(placed.bees.0.max(0));
                }
            }
        }
        taken
    }
}

/// One colony's account in wide integers.
pub(super) struct Account {
    pub before: Content,
    /// What leaves; its `bees` are those taken, not those on the frames taken.
    pub drawn: Content,
    pub frames: i128,
    pub bees: i128,
    pub bees_on_frames: i128,
    pub honey: i128,
    /// Bees that what is done took, and those of them that were shaken.
    pub done_bees: i128,
    pub done_shaken: i128,
    /// Bees on the frames that what is done took.
    pub done_on_frames: i128,
    /// Honey charged for what is done.
    pub done_honey: i128,
    /// Something is taken besides what is done.
    pub gives_more: bool,
}

impl Account {
    pub(super) fn opened(&self) -> bool {
        self.frames > 0 || self.bees > 0
    }

    pub(super) fn shaken(&self) -> i128 {
        let rest = self.bees - self.done_bees - (self.bees_on_frames - self.done_on_frames);
        self.done_shaken + rest.max(0)
    }
}

pub(super) fn accounts(scenario: &Scenario, taken: &Taken, done: &Taken) -> Vec<Account> {
    let now = taken.groups.iter().zip(&taken.bees);
    let before = done.groups.iter().zip(&done.bees);
    scenario
        .colonies
        .iter()
        .zip(now.zip(before))
        .map(|(colony, ((groups, &bees), (done_groups, &done_bees)))| {
            let done = account(scenario, colony, done_groups, done_bees);
            Account {
                done_bees,
                done_shaken: (done_bees - done.bees_on_frames).max(0),
                done_on_frames: done.bees_on_frames,
                done_honey: done.honey,
                gives_more: groups != done_groups || bees != done_bees,
                ..account(scenario, colony, groups, bees)
            }
        })
        .collect()
}

fn account(scenario: &Scenario, colony: &Colony, groups: &[i128], bees: i128) -> Account {
    let mut before = Content {
        bees: i128::from(colony.extra_bees.0),
        ..Content::default()
    };
    let mut drawn = Content::default();
    let mut frames = 0;
    for (group, &count) in colony.frames.iter().zip(groups) {
        let content = Content::of(&scenario.combs, &group.frame);
        before.add(content, i128::from(group.count));
        drawn.add(content, count);
        frames += count;
    }
    let bees_on_frames = drawn.bees;
    drawn.bees = bees;
    let mut honey = 0;
    if frames > 0 || bees > 0 {
        let HoneyRates {
            bees: per_bee,
            sealed,
            open,
            stores: _,
        } = honey::rates(&scenario.combs, colony, &scenario.colony_model);
        honey = drawn
            .sealed_cells
            .saturating_mul(sealed.into())
            .saturating_add(drawn.open_cells.saturating_mul(open.into()))
            .saturating_add(bees.saturating_mul(per_bee.into()));
        if colony.crop.is_some() {
            honey = honey.saturating_add(drawn.stores.saturating_mul(1000));
        }
    }
    Account {
        before,
        drawn,
        frames,
        bees,
        bees_on_frames,
        honey,
        done_bees: 0,
        done_shaken: 0,
        done_on_frames: 0,
        done_honey: 0,
        gives_more: true,
    }
}

pub(super) fn all_honey(accounts: &[Account]) -> i128 {
    accounts
        .iter()
        .fold(0, |sum, account| sum.saturating_add(account.honey))
}
