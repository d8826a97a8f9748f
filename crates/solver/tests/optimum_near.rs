//! Plans near to an earlier one: no worth and no honey is paid for it, and no plan that is as good
//! in both is nearer.
//!
//! Source: `docs/model.md`, "Near to an earlier plan"; the enumeration of `support/enumerate.rs`.

mod support;

use spareframe_solver::*;
use support::rng::Rng;
use support::{changed::changed, enumerate, for_seeds, generate, proved, seeds};

/// The answer near to a plan, checked on the way: proved best, no breach.
fn near(scenario: &Scenario, then: &Plan) -> Result<Option<Stocking>, String> {
    match solve_near(scenario, then, &SolveOptions::default()) {
        Outcome::Nothing => Ok(None),
        Outcome::Unmet(_) if !scenario.gives.is_empty() => Ok(None),
        Outcome::Unmet(unmet) => Err(format!("{unmet:?}")),
        Outcome::TimedOut => Err("stopped without a time limit".into()),
        Outcome::Stocked(stocking) => {
            let (goals, breaches) = check(scenario, &stocking.plan);
            if stocking.proof != Proof::Best || goals != stocking.goals || !breaches.is_empty() {
                return Err(format!("{:?}, {goals:?}: {breaches:?}", stocking.proof));
            }
            Ok(Some(stocking))
        }
    }
}

fn plan_of(scenario: &Scenario) -> Result<Plan, String> {
    Ok(proved(scenario)?.map_or_else(Plan::default, |stocking| stocking.plan))
}

/// The best plan before a change is kept to as far as the enumeration says that it can be.
fn compare(before: &Scenario, seed: u64) -> Result<(), String> {
    let now = changed(before, &mut Rng::new(seed ^ 0xc4));
    compare_with(before, now)
}

fn compare_with(before: &Scenario, now: Scenario) -> Result<(), String> {
    let then = plan_of(before)?;
    let (goals, otherwise) = enumerate::nearest(&now, Some(&then));
    let found = near(&now, &then)?;
    let (by_solver, apart) = match &found {
        Some(found) => (found.goals, found.plan.drawn_otherwise(&then)),
        None => (Goals::default(), otherwise),
    };
    if (by_solver, apart) == (goals, otherwise) {
        Ok(())
    } else {
        Err(format!(
            "solver {by_solver:?}, {apart} otherwise; enumeration {goals:?}, {otherwise} otherwise"
        ))
    }
}

#[test]
fn no_plan_of_a_small_yard_is_nearer_and_as_good() {
    for_seeds(seeds(800), |seed| compare(&generate::small(seed), seed));
}

#[test]
fn no_plan_with_full_size_combs_is_nearer_and_as_good() {
    for_seeds(seeds(400), |seed| compare(&generate::full_size(seed), seed));
}

#[test]
fn no_plan_that_meets_wishes_is_nearer_and_as_good() {
    for_seeds(seeds(800), |seed| {
        let before = generate::small(seed);
        let now = generate::wishes(before.clone(), seed);
        compare_with(&before, now)
    });
}

#[test]
fn where_nothing_changed_the_plan_is_the_earlier_one() {
    let same = |scenario: Scenario| {
        let then = plan_of(&scenario)?;
        let now = near(&scenario, &then)?.map_or_else(Plan::default, |found| found.plan);
        if now == then {
            Ok(())
        } else {
            Err(format!("then {then:?}, now {now:?}"))
        }
    };
    for_seeds(seeds(300), |seed| same(generate::small(seed)));
    for_seeds(seeds(40), |seed| same(generate::narrow_yard(seed)));
    for_seeds(seeds(40), |seed| same(generate::yard(seed)));
}

#[test]
fn in_a_larger_yard_no_worth_and_no_honey_is_paid_for_it() {
    for_seeds(seeds(60), |seed| {
        let before = generate::narrow_yard(seed);
        let then = plan_of(&before)?;
        let now = changed(&before, &mut Rng::new(seed));
        let (Some(plain), Some(near)) = (proved(&now)?, near(&now, &then)?) else {
            return Ok(());
        };
        let (farther, nearer) = (
            plain.plan.drawn_otherwise(&then),
            near.plan.drawn_otherwise(&then),
        );
        let paid = (near.goals.worth, near.goals.honey) != (plain.goals.worth, plain.goals.honey);
        if paid || nearer > farther {
            return Err(format!(
                "{:?} at {nearer}, plain {:?} at {farther}",
                near.goals, plain.goals
            ));
        }
        Ok(())
    });
}

#[test]
fn a_plan_that_names_what_is_not_there_is_kept_to_as_far_as_it_goes() {
    for_seeds(seeds(100), |seed| {
        let scenario = generate::small(seed);
        let mut then = plan_of(&scenario)?;
        for (at, compartment) in then.compartments.iter_mut().enumerate() {
            compartment.box_no += 7 * at as u32;
            compartment.kind.0 += at % 3;
            for placed in &mut compartment.frames {
                placed.line += at % 2;
                if let Origin::Colony(colony, group) = &mut placed.origin {
                    colony.0 += at % 3;
                    *group += at % 2;
                }
            }
            for placed in &mut compartment.bees {
                placed.colony.0 += at % 4;
            }
        }
        let (goals, otherwise) = enumerate::nearest(&scenario, Some(&then));
        let Some(found) = near(&scenario, &then)? else {
            return Ok(());
        };
        let apart = found.plan.drawn_otherwise(&then);
        if (found.goals, apart) == (goals, otherwise) {
            Ok(())
        } else {
            Err(format!(
                "{:?} at {apart}, {goals:?} at {otherwise}",
                found.goals
            ))
        }
    });
}
