//! Goals 1 and 2 of yards of 10 to 60 colonies against a constraint solver.
//!
//! Source: the rules of `docs/model.md` as rows of whole numbers (`support/linear.rs`), handed
//! to a solver that learns clauses from conflicts and has no linear relaxation. It decides
//! whether a plan exists that is one step better, and whether one exists that is as good.

mod support;

use std::time::Duration;

use pumpkin_solver::Solver;
use pumpkin_solver::conflict_resolvers::resolvers::ResolutionResolver;
use pumpkin_solver::core::results::SatisfactionResult;
use pumpkin_solver::core::termination::TimeBudget;
use pumpkin_solver::core::variables::TransformableVariable;
use support::linear::{Rows, Sense, Sum};
use support::{for_seeds, generate, proved_goals, seeds};

/// Is there a point of the rows that also keeps `also`? `None` where time ran out.
fn exists(rows: &Rows, also: &[(&Sum, Sense, i64)], seconds: u64) -> Option<bool> {
    let mut solver = Solver::default();
    let narrow = |value: i64| i32::try_from(value).expect("within range");
    let columns: Vec<_> = rows
        .columns
        .iter()
        .map(|&most| solver.new_bounded_integer(0, narrow(most)))
        .collect();
    let also = also.iter().map(|&(sum, sense, rhs)| (sum, sense, rhs));
    let all = rows
        .rows
        .iter()
        .map(|(sum, sense, rhs)| (sum, *sense, *rhs))
        .chain(also);
    for (sum, sense, rhs) in all {
        let terms = |sign: i64| -> Vec<_> {
            sum.iter()
                .filter(|&&(_, each)| each != 0)
                .map(|&(column, each)| columns[column].scaled(narrow(sign * each)))
                .collect()
        };
        let mut at_most = |terms: Vec<_>, rhs: i64| {
            let tag = solver.new_constraint_tag();
            if terms.is_empty() {
                return rhs >= 0;
            }
            solver
                .add_constraint(pumpkin_solver::less_than_or_equals(terms, narrow(rhs), tag))
                .post();
            !solver.is_inconsistent()
        };
        let possible = match sense {
            Sense::AtMost => at_most(terms(1), rhs),
            Sense::AtLeast => at_most(terms(-1), -rhs),
            Sense::Equal => at_most(terms(1), rhs) && at_most(terms(-1), -rhs),
        };
        if !possible {
            return Some(false);
        }
    }
    let mut brancher = solver.default_brancher();
    let mut termination = TimeBudget::starting_now(Duration::from_secs(seconds));
    let mut resolver = ResolutionResolver::default();
    match solver.satisfy(&mut brancher, &mut termination, &mut resolver) {
        SatisfactionResult::Satisfiable(_) => Some(true),
        SatisfactionResult::Unsatisfiable(..) => Some(false),
        SatisfactionResult::Unknown(..) => None,
    }
}

#[test]
fn no_plan_of_a_large_yard_is_worth_more_or_costs_less_honey() {
    for_seeds(seeds(100), |seed| {
        let scenario = generate::narrow_yard(seed);
        let goals = proved_goals(&scenario)?;
        let rows = Rows::of(&scenario);
        let start = std::time::Instant::now();
        let (worth, honey) = (goals.worth.0, goals.honey.0);
        let as_good = exists(
            &rows,
            &[
                (&rows.worth, Sense::AtLeast, worth),
                (&rows.honey, Sense::AtMost, honey),
            ],
            5,
        );
        let t1 = start.elapsed();
        let more = exists(&rows, &[(&rows.worth, Sense::AtLeast, worth + 1)], 5);
        let t2 = start.elapsed();
        let less = if honey == 0 {
            Some(false)
        } else {
            exists(
                &rows,
                &[
                    (&rows.worth, Sense::AtLeast, worth),
                    (&rows.honey, Sense::AtMost, honey - 1),
                ],
                5,
            )
        };
        println!(
            "{seed} {} colonies worth {worth} honey {honey}: {as_good:?} {more:?} {less:?} {t1:?} {t2:?} {:?}",
            scenario.colonies.len(),
            start.elapsed()
        );
        Ok(())
    });
}
