//! Plans near to an earlier one: frames drawn otherwise are a part of the cost, and no plan costs less.
//!
//! Source: `docs/model.md`, "Near to an earlier plan"; the enumeration of `support/enumerate.rs`.

use super::support::rng::Rng;
use super::support::{
    changed::changed, for_large_yards, for_seeds, generate, near, near_as_enumerated, plan_of,
    proved, seeds,
};
use spareframe_solver::*;

/// Near to the best plan before a change.
fn after_a_change(before: &Scenario, seed: u64) -> Result<(), String> {
    let now = changed(before, &mut Rng::new(seed ^ 0xc4));
    near_as_enumerated(&now, &plan_of(before)?)
}

#[test]
fn no_plan_of_a_small_yard_costs_less_near_to_the_plan_before_a_change() {
    for_seeds(seeds(600), |seed| {
        after_a_change(&generate::small(seed), seed)
    });
}

#[test]
fn no_plan_with_full_size_combs_costs_less_near_to_the_plan_before_a_change() {
    for_seeds(seeds(200), |seed| {
        after_a_change(&generate::full_size(seed), seed)
    });
}

#[test]
fn near_to_any_plan_whatever_no_plan_costs_less() {
    for_seeds(seeds(600), |seed| {
        let scenario = generate::small(seed);
        near_as_enumerated(&scenario, &generate::earlier(&scenario, seed))
    });
}

#[test]
fn no_plan_that_meets_wishes_costs_less_near_to_one_without() {
    for_seeds(seeds(600), |seed| {
        let before = generate::small(seed);
        let now = generate::wishes(before.clone(), seed);
        near_as_enumerated(&now, &plan_of(&before)?)
    });
}

#[test]
fn on_a_begun_day_no_plan_costs_less_near_to_another() {
    for_seeds(seeds(600), |seed| {
        let scenario = generate::begun(generate::small(seed), seed);
        near_as_enumerated(&scenario, &generate::earlier(&scenario, seed))
    });
}

#[test]
fn where_nothing_changed_the_plan_is_the_earlier_one() {
    let same = |scenario: &Scenario, then: Option<&Stocking>| {
        let then = then.map_or_else(Plan::default, |found| found.plan.clone());
        let now = near(scenario, &then)?.map_or_else(Plan::default, |found| found.plan);
        match now == then {
            true => Ok(()),
            false => Err(format!("then {then:?}, now {now:?}")),
        }
    };
    let small = |scenario: Scenario| same(&scenario, proved(&scenario)?.as_ref());
    for_seeds(seeds(300), |seed| small(generate::small(seed)));
    for_seeds(seeds(2), |seed| small(generate::narrow_yard(seed)));
    for_large_yards(seeds(40), generate::yard, |yard, then| {
        match then.is_none_or(|then| then.proof == Proof::Best) {
            true => same(yard, then),
            // Something better may yet be found.
            false => Ok(()),
        }
    });
}

#[test]
fn in_a_larger_yard_no_worth_is_paid_for_it_and_no_more_than_it_saves() {
    for_seeds(seeds(60), |seed| {
        let before = generate::narrow_yard(seed);
        let then = plan_of(&before)?;
        let now = changed(&before, &mut Rng::new(seed));
        let (Some(plain), Some(near)) = (proved(&now)?, near(&now, &then)?) else {
            return Ok(());
        };
        let mut kept = plain.goals.cost;
        kept.otherwise = plain.plan.drawn_otherwise(&then) as i64;
        let own = near.goals.cost.total(&now.prices);
        let without = Cost {
            otherwise: 0,
            ..near.goals.cost
        };
        let sound = near.goals.worth == plain.goals.worth
            && own <= kept.total(&now.prices)
            && without.total(&now.prices) >= plain.goals.cost.total(&now.prices);
        match sound {
            true => Ok(()),
            false => Err(format!("{:?}, plain {:?}", near.goals, plain.goals)),
        }
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
        near_as_enumerated(&scenario, &then)
    });
}
