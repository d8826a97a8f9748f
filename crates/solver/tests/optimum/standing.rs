//! Compartments that stand: new stockings and next cells together are the best that can be had.
//!
//! Source: `docs/model.md`, "What stands"; the enumeration of `support/enumerate.rs`.

use super::support::{
    as_enumerated, for_seeds, generate, near_as_enumerated, plan_of, seeds, shrink::made_small,
};
use spareframe_solver::*;

fn compare(scenario: &Scenario) -> Result<(), String> {
    scenario.validate().map_err(|found| format!("{found:?}"))?;
    made_small(scenario, as_enumerated)
}

#[test]
fn next_cells_and_new_stockings_together_are_the_best_of_all_plans() {
    for_seeds(seeds(1000), |seed| {
        compare(&generate::standing(generate::small(seed), seed))
    });
    for_seeds(seeds(300), |seed| {
        compare(&generate::standing(generate::full_size(seed), seed))
    });
}

#[test]
fn whatever_is_done_on_top_of_what_stands_the_rest_is_the_best_of_all_rests() {
    for_seeds(seeds(1000), |seed| {
        let scenario = generate::standing(generate::small(seed), seed);
        compare(&generate::begun(scenario, seed))
    });
}

#[test]
fn near_to_the_plan_before_bees_stood_is_as_near_as_can_be() {
    for_seeds(seeds(400), |seed| {
        let before = generate::small(seed);
        let plan = plan_of(&before)?;
        near_as_enumerated(&generate::standing(before, seed), &plan)
    });
}
