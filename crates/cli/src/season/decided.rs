//! A season with today's round of it in real frames.

use super::{Agreed, Planned, agree, settled};
use spareframe_season::{Listed, Outlook, RELAXATIONS, plan_listed};
use spareframe_solver::{Outcome, Scenario, SolveOptions, solve};

/// A season, decided.
#[derive(Debug)]
pub(crate) struct Decided {
    /// As it agrees with today's round.
    pub agreed: Agreed,
    /// The season before today's frames were settled.
    pub base: Planned,
    /// Today's round.
    pub today: Outcome,
}

impl Decided {
    /// The season as it is planned.
    pub fn outlook(&self) -> &Outlook {
        &self.agreed.outlook
    }

    /// How far each want is met.
    pub fn met(&self) -> Vec<i64> {
        let wants = self.outlook().wants.iter();
        wants.map(|met| met.count).collect()
    }
}

/// Decides a season; `listed` is what colonies may give in one that has them in common. `None` where none is found.
pub(crate) fn decided(
    scenario: &Scenario,
    planned: Planned,
    listed: &Listed,
    options: &SolveOptions,
) -> Option<Decided> {
    let decide = |planned: &Planned| {
        let listed = listed.again(&planned.season);
        plan_listed(&planned.season, &listed, RELAXATIONS)
    };
    let agreed = agree(scenario, planned, &decide, options)?;
    let options = SolveOptions {
        most: agreed.most,
        ..*options
    };
    let today = solve(&agreed.yard, &options);
    let base = agreed.planned.clone();
    let agreed = settled(agreed, &today, &decide);
    Some(Decided {
        agreed,
        base,
        today,
    })
}
