//! The optimum of small scenarios against all plans, gone through in exact integers.
//!
//! Rules and goals: `docs/model.md`. The enumeration: `support/enumerate.rs`.

use super::support::{as_enumerated, for_seeds, generate, seeds, shrink::made_small};
use spareframe_solver::*;

fn compare(scenario: &Scenario) -> Result<(), String> {
    made_small(scenario, as_enumerated)
}

#[test]
fn the_best_plan_of_a_small_yard_is_the_best_of_all_plans() {
    for_seeds(seeds(1000), |seed| compare(&generate::small(seed)));
}

#[test]
fn the_best_plan_with_full_size_combs_is_the_best_of_all_plans() {
    for_seeds(seeds(500), |seed| compare(&generate::full_size(seed)));
}

#[test]
fn the_best_plan_of_a_yard_of_many_colonies_is_the_best_of_all_plans() {
    for_seeds(seeds(2), |seed| compare(&generate::narrow_yard(seed)));
}
