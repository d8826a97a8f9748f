//! What a plan takes from each colony and leaves there.

use super::figures::{Content, up};
use super::rest::Two;
use crate::honey;
use crate::plan::{Compartment, Origin};
use crate::scenario::{Colony, Scenario};

/// What the plan takes, by origin; only of what exists.
pub(super) struct Taken {
    /// Frames, by colony and frame group.
    pub groups: Vec<Vec<i128>>,
    /// Hundreds of bees, by colony.
    pub bees: Vec<Two>,
    /// Frames, by entry of the store room.
    pub store_room: Vec<i128>,
}

impl Taken {
    pub(super) fn of<'a>(
        scenario: &Scenario,
        compartments: impl IntoIterator<Item = &'a Compartment>,
    ) -> Self {
        let groups = |colony: &Colony| vec![0; colony.frames.len()];
        let mut taken = Self {
            groups: scenario.colonies.iter().map(groups).collect(),
            bees: vec![Two::default(); scenario.colonies.len()],
            store_room: vec![0; scenario.store_room.len()],
        };
        for compartment in compartments {
            taken.add(compartment);
        }
        taken
    }

    fn add(&mut self, compartment: &Compartment) {
        for placed in &compartment.frames {
            if let Some(slot) = self.slot(placed.origin) {
                *slot += i128::from(placed.count);
            }
        }
        for placed in &compartment.bees {
            if let Some(bees) = self.bees.get_mut(placed.colony.0) {
                bees.add(placed);
            }
        }
    }

    fn slot(&mut self, origin: Origin) -> Option<&mut i128> {
        match origin {
            Origin::Colony(colony, group) => self.groups.get_mut(colony.0)?.get_mut(group),
            Origin::StoreRoom(entry) => self.store_room.get_mut(entry),
        }
    }
}

/// What leaves a colony.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Drawn {
    /// What the frames hold; its `bees` are those taken, not those on the frames.
    pub content: Content,
    pub frames: i128,
    pub bees: Two,
    /// Grams charged.
    pub honey: i128,
}

impl Drawn {
    pub(super) fn any(&self) -> bool {
        self.frames > 0 || self.bees.all() > 0
    }
}

/// One colony's account.
pub(super) struct Account {
    pub before: Content,
    /// Hundreds of bees that can be taken, before anything was done.
    pub can_be_taken: i128,
    /// All that leaves, what is done included.
    pub drawn: Drawn,
    /// What is done.
    pub done: Drawn,
    /// Something is taken besides what is done.
    pub gives_more: bool,
    /// The colony carries no burden.
    pub apart: bool,
}

impl Account {
    pub(super) fn after(&self) -> Content {
        self.before.less(self.drawn.content)
    }

    pub(super) fn after_done(&self) -> Content {
        self.before.less(self.done.content)
    }

    /// Whole percent of its bees or of its brood cells that it gives, whichever is more, rounded up.
    pub(super) fn share(&self) -> i128 {
        let of = |taken: i128, before: i128| match before {
            1.. => up(100 * taken, before),
            _ => 0,
        };
        let taken = self.drawn.content;
        of(taken.bees, self.before.bees).max(of(taken.cells, self.before.cells))
    }

    pub(super) fn burden(&self) -> i128 {
        let share = self.share();
        let beyond = [0, 20, 40, 60, 80].map(|step| (share - step).max(0));
        if self.apart { 0 } else { beyond.iter().sum() }
    }
}

/// Accounts in the order of the scenario.
pub(super) fn accounts(scenario: &Scenario, taken: &Taken, done: &Taken) -> Vec<Account> {
    let now = taken.groups.iter().zip(&taken.bees);
    let then = done.groups.iter().zip(&done.bees);
    let gone = now.zip(then);
    let colonies = scenario.colonies.iter().zip(gone);
    colonies
        .map(|(colony, (now, then))| Account {
            before: before(scenario, colony),
            can_be_taken: can_be_taken(colony),
            drawn: drawn(scenario, colony, now.0, *now.1),
            done: drawn(scenario, colony, then.0, *then.1),
            gives_more: now.0 != then.0 || now.1.all() != then.1.all(),
            apart: colony.apart,
        })
        .collect()
}

fn before(scenario: &Scenario, colony: &Colony) -> Content {
    let mut before = Content {
        bees: colony.extra_bees.0.into(),
        ..Content::default()
    };
    for group in &colony.frames {
        let content = Content::of(&scenario.combs, &group.frame);
        before.add(content, group.count.into());
    }
    before
}

/// Bees on frames without the queen; where a colony is taken apart, all its bees.
fn can_be_taken(colony: &Colony) -> i128 {
    let groups = colony.frames.iter();
    let groups = groups.filter(|group| colony.apart || !group.queen);
    let on = groups.map(|group| i128::from(group.count) * i128::from(group.frame.bees.0));
    let beside = if colony.apart { colony.extra_bees.0 } else { 0 };
    on.sum::<i128>() + i128::from(beside)
}

fn drawn(scenario: &Scenario, colony: &Colony, groups: &[i128], bees: Two) -> Drawn {
    let mut drawn = Drawn {
        bees,
        ..Drawn::default()
    };
    // Rates are simulated, which takes a while; where nothing leaves, nothing is charged.
    let leaves = bees.all() > 0 || groups.iter().any(|&count| count > 0);
    let crop = colony.crop.filter(|_| leaves);
    let rates = crop.map(|_| honey::rates(&scenario.combs, colony, &scenario.colony_model));
    for (group, &count) in colony.frames.iter().zip(groups) {
        let content = Content::of(&scenario.combs, &group.frame);
        drawn.content.add(content, count);
        drawn.frames += count;
        let charge = rates.map_or(0, |rates| content.charge(rates));
        drawn.honey = drawn.honey.saturating_add(charge.saturating_mul(count));
    }
    drawn.content.bees = bees.all();
    let hundred = rates.map_or(0, |rates| up(rates.bees.into(), 10_000));
    let charge = hundred.saturating_mul(bees.all());
    drawn.honey = drawn.honey.saturating_add(charge);
    drawn
}
