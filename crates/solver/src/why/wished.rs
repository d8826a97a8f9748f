//! Why a colony cannot give what is wished of it.

use super::{Cap, Change, Floor, Limit, changed};
use crate::scenario::{Give, Scenario};
use crate::solve::may_give;

/// Floors and caps of a colony that forbid a wish, in sets: without those of a set, the colony could give so many
/// frames. Each is of one limit, where one is enough; else there is one set, of which all are needed. None where the colony can give them as it is, or cannot whatever its limits are.
///
/// ```
/// use spareframe_solver::{ColonyId, Give, Grams, Scenario, why};
/// let mut yard: Scenario = include!("../../doctests/yard.rs");
/// let give = Give { colony: ColonyId(0), group: None, frames: 1 };
/// assert!(why::forbidding(&yard, &give).is_empty());
///
/// // Above what there is in the colony.
/// yard.colonies[0].keep.stores = Grams(90_000);
/// let stores = why::Limit::Floor(ColonyId(0), why::Floor::Stores);
/// assert_eq!(why::forbidding(&yard, &give), [vec![stores]]);
/// ```
#[must_use]
pub fn forbidding(scenario: &Scenario, give: &Give) -> Vec<Vec<Limit>> {
    let floors = Floor::ALL.map(|floor| Limit::Floor(give.colony, floor));
    let caps = Cap::ALL.map(|cap| Limit::Cap(give.colony, cap));
    let mut all: Vec<Limit> = floors.into_iter().chain(caps).collect();
    if may_give(scenario, give) || !lifted(scenario, give, &all) {
        return Vec::new();
    }
    let alone = all.iter().map(|&limit| vec![limit]);
    let alone: Vec<_> = alone
        .filter(|limit| lifted(scenario, give, limit))
        .collect();
    if !alone.is_empty() {
        return alone;
    }
    for limit in all.clone() {
        let others: Vec<Limit> = all
            .iter()
            .copied()
            .filter(|&other| other != limit)
            .collect();
        if lifted(scenario, give, &others) {
            all = others;
        }
    }
    vec![all]
}

/// Whether a colony could give what is wished without these limits.
fn lifted(scenario: &Scenario, give: &Give, limits: &[Limit]) -> bool {
    let change = |&limit: &Limit| {
        let by = match limit.is_floor() {
            true => limit.now(scenario),
            false => i64::from(u32::MAX),
        };
        Change { limit, by }
    };
    let changes: Vec<Change> = limits.iter().map(change).collect();
    may_give(&changed(scenario, &changes), give)
}
