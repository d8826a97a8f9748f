//! The optimum of small scenarios against all plans, gone through in exact integers.
//!
//! Rules and goals: `docs/model.md`. The enumeration and why it misses nothing:
//! `support/enumerate.rs`.

mod support;

use spareframe_solver::*;
use support::{enumerate, for_seeds, generate, proved_goals, seeds, shrink::shrink};

/// Compares all four goals of one scenario; a case that fails is made small first.
fn compare(scenario: &Scenario) -> Result<(), String> {
    let fails = |scenario: &Scenario| differs(scenario).is_err();
    differs(scenario).map_err(|error| {
        let small = shrink(scenario, fails);
        let why = differs(&small).expect_err("fails still");
        format!("{error}\nmade small: {why}\n{small:#?}")
    })
}

fn differs(scenario: &Scenario) -> Result<(), String> {
    let by_enumeration = enumerate::best(scenario);
    let by_solver = proved_goals(scenario)?;
    if by_solver == by_enumeration {
        Ok(())
    } else {
        Err(format!(
            "solver {by_solver:?}, enumeration {by_enumeration:?}"
        ))
    }
}

#[test]
fn the_best_plan_of_a_small_yard_is_the_best_of_all_plans() {
    for_seeds(seeds(1000), |seed| compare(&generate::small(seed)));
}

#[test]
fn the_best_plan_with_full_size_combs_is_the_best_of_all_plans() {
    for_seeds(seeds(1000), |seed| compare(&generate::full_size(seed)));
}
