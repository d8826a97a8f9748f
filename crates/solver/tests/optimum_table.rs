//! The optimum of yards of 10 to 60 colonies by an exact table.
//!
//! Rules and goals: `docs/model.md`. The table: `support/table.rs`; on small yards it is itself
//! held against the enumeration of all plans.

mod support;

use support::{enumerate, for_seeds, generate, proved_goals, seeds, table};

#[test]
fn the_table_finds_the_best_of_all_plans_of_a_small_yard() {
    for_seeds(seeds(200), |seed| {
        let mut scenario = generate::narrow_yard(seed);
        scenario.colonies.truncate(4);
        for kind in &mut scenario.boxes {
            kind.count = kind.count.min(2);
        }
        let (by_table, by_enumeration) = (table::best(&scenario), enumerate::best(&scenario));
        if by_table == by_enumeration {
            Ok(())
        } else {
            Err(format!(
                "table {by_table:?}, enumeration {by_enumeration:?}"
            ))
        }
    });
}

#[test]
fn the_best_plan_of_a_yard_of_many_colonies_is_the_best_of_all_plans() {
    for_seeds(seeds(300), |seed| {
        let scenario = generate::narrow_yard(seed);
        let by_table = table::best(&scenario);
        let by_solver = proved_goals(&scenario)?;
        if by_solver == by_table {
            Ok(())
        } else {
            Err(format!("solver {by_solver:?}, table {by_table:?}"))
        }
    });
}
