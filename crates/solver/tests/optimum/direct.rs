//! The optimum by branch and bound on columns against one mixed-integer program of the same instance, by a
//! solver of another kind.
//!
//! Source: rules and goals of `docs/model.md`; the rows in `src/solve/direct`.

use std::sync::atomic::{AtomicU64, Ordering};

use super::support::{for_seeds, generate, proved, seeds};
use spareframe_solver::*;

/// Compares worth and cost; what is done costs even where nothing is stocked.
fn compare(scenario: &Scenario, told: &AtomicU64) -> Result<(), String> {
    let Some(direct) = direct_goals(scenario) else {
        return Ok(());
    };
    told.fetch_add(1, Ordering::Relaxed);
    let found = proved(scenario)?.map(|found| {
        let cost = found.goals.cost.total(&scenario.prices);
        (found.goals.worth, cost)
    });
    match found {
        Some(found) if found != direct => Err(format!("solver {found:?}, direct {direct:?}")),
        None if direct.0 > Worth(0) => Err(format!("solver nothing, direct {direct:?}")),
        _ => Ok(()),
    }
}

/// Nearly all are told: the other solver seldom gives up.
fn compare_all(cases: u64, scenario: impl Fn(u64) -> Scenario + Sync) {
    let told = AtomicU64::new(0);
    let seeds = seeds(cases);
    let all = seeds.end - seeds.start;
    for_seeds(seeds, |seed| compare(&scenario(seed), &told));
    let told = told.into_inner();
    assert!(told * 10 >= all * 9, "{told} of {all} told");
}

#[test]
fn the_best_plan_of_a_small_yard_is_that_of_one_mixed_integer_program() {
    compare_all(300, generate::small);
}

#[test]
fn the_best_rest_of_a_day_is_that_of_one_mixed_integer_program() {
    compare_all(300, |seed| generate::begun(generate::small(seed), seed));
}

#[test]
fn the_best_plan_with_full_size_combs_is_that_of_one_mixed_integer_program() {
    compare_all(100, generate::full_size);
}
