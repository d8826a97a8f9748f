//! A first plan with compartments of one kind alone, where rows are so many that the search of the whole may not
//! come to one in time.

use super::instance::Instance;
use super::master::Clock;
use super::{Goal, Outcome, Proof, SolveOptions, Stocking, rank, searched};
use crate::scenario::{BoxId, Scenario};

/// Lines of all kinds beyond which such a plan is looked for, if there is a time limit (a choice: rows grow with
/// them, and simplex steps with rows).
const WIDE: usize = 100;

/// The best plan with compartments of one kind beside those that are begun, so far as a quarter of the time
/// allows. Its proof says nothing but that more worth may be had.
pub(super) fn kind_by_kind(
    scenario: &Scenario,
    instance: &Instance,
    options: &SolveOptions,
    clock: Clock,
) -> Option<Stocking> {
    let limit = options.time_limit.filter(|_| instance.needs.len() > WIDE)?;
    let clock = Clock {
        cancel: clock.cancel,
        ..Clock::of(Some(limit / 4))
    };
    let all = scenario.boxes.iter();
    let all = all.map(|kind| kind.worth.0 * i64::from(kind.count) * i64::from(kind.compartments));
    let proof = Proof::Open {
        goal: Goal::Worth,
        bound: all.sum(),
        timed_out: true,
    };
    let kinds = (0..scenario.boxes.len()).take_while(|_| !clock.over());
    let found = kinds.filter_map(|kind| {
        let alone = alone(scenario, BoxId(kind));
        let own = Instance {
            below: instance.below,
            ..Instance::new(&alone, options.near, &options.most)
        };
        match searched(&alone, &own, options, clock) {
            Outcome::Stocked(found) => Some(Stocking { proof, ..found }),
            _ => None,
        }
    });
    found.min_by_key(|found| rank(scenario, &found.goals))
}

/// The scenario without boxes of other kinds, but for those that are begun.
fn alone(scenario: &Scenario, kind: BoxId) -> Scenario {
    let mut alone = scenario.clone();
    for (at, other) in alone.boxes.iter_mut().enumerate() {
        let begun = scenario.done.iter().any(|done| done.kind.0 == at);
        if at != kind.0 && !begun {
            other.count = 0;
        }
    }
    alone
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;
    use crate::solve::solve;
    use crate::support::generate;

    #[test]
    fn in_a_wide_yard_with_a_time_limit_the_best_of_one_kind_is_at_hand() {
        let mut yard = generate::apiary(3);
        let limited = SolveOptions {
            time_limit: Some(Duration::from_secs(1_000)),
            ..SolveOptions::default()
        };
        let first = |yard: &Scenario, options: &SolveOptions| {
            let instance = Instance::new(yard, None, &options.most);
            kind_by_kind(yard, &instance, options, Clock::default())
        };
        assert_eq!(first(&yard, &limited), None);
        let kinds = yard.boxes.clone();
        for copy in 1..13 {
            yard.boxes.extend(kinds.clone().into_iter().map(|mut kind| {
                kind.name = format!("{} {copy}", kind.name);
                kind
            }));
        }
        assert_eq!(first(&yard, &SolveOptions::default()), None);
        let alone = kinds.iter().enumerate().map(|(at, _)| {
            let alone = alone(&yard, BoxId(at));
            match solve(&alone, &SolveOptions::default()) {
                Outcome::Stocked(best) => rank(&yard, &best.goals),
                other => panic!("{other:?}"),
            }
        });
        let first = first(&yard, &limited).expect("each kind alone can be stocked");
        assert_eq!(Some(rank(&yard, &first.goals)), alone.min());
    }
}
