//! Goals 1 and 2 of yards of 10 to 60 colonies against a constraint solver.
//!
//! Source: the rules of `docs/model.md` as rows of whole numbers (`support/linear.rs`), handed
//! to a solver that learns clauses from conflicts and has no linear relaxation. It decides
//! whether a plan exists that is one step better, and whether one exists that is as good.

mod support;

use std::sync::atomic::{AtomicUsize, Ordering};

use pumpkin_solver::Solver;
use pumpkin_solver::conflict_resolvers::resolvers::ResolutionResolver;
use pumpkin_solver::core::results::SatisfactionResult;
use pumpkin_solver::core::termination::TerminationCondition;
use pumpkin_solver::core::variables::TransformableVariable;
use support::linear::{Rows, Sense, Sum};
use support::{for_seeds, generate, proved_goals, seeds};

const MOST_STEPS: u32 = 10_000;

/// Steps of the search left: counted, not timed, so that a run can be repeated.
struct Steps(u32);

impl TerminationCondition for Steps {
    fn should_stop(&mut self) -> bool {
        self.0 = self.0.saturating_sub(1);
        self.0 == 0
    }
}

/// Is there a point of the rows that also keeps `also`? `None` where the steps ran out.
fn exists(rows: &Rows, also: &[(&Sum, Sense, i64)]) -> Option<bool> {
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
    let mut termination = Steps(MOST_STEPS);
    let mut resolver = ResolutionResolver::default();
    match solver.satisfy(&mut brancher, &mut termination, &mut resolver) {
        SatisfactionResult::Satisfiable(_) => Some(true),
        SatisfactionResult::Unsatisfiable(..) => Some(false),
        SatisfactionResult::Unknown(..) => None,
    }
}

#[test]
fn no_plan_of_a_yard_of_many_colonies_is_worth_more_or_costs_less_honey() {
    let settled = AtomicUsize::new(0);
    let cases = seeds(320);
    for_seeds(cases.clone(), |seed| {
        let scenario = generate::narrow_yard(seed);
        let goals = proved_goals(&scenario)?;
        let (worth, honey) = (goals.worth.0, goals.honey.0);
        let rows = Rows::of(&scenario);
        let as_good = (&rows.worth, Sense::AtLeast, worth);
        let more = exists(&rows, &[(&rows.worth, Sense::AtLeast, worth + 1)]);
        let equal = exists(&rows, &[as_good, (&rows.honey, Sense::AtMost, honey)]);
        let less = if honey == 0 {
            Some(false)
        } else {
            exists(&rows, &[as_good, (&rows.honey, Sense::AtMost, honey - 1)])
        };
        match (more, equal, less) {
            (Some(true), ..) => return Err(format!("{goals:?}: a plan is worth more")),
            (_, Some(false), _) => return Err(format!("{goals:?}: no such plan")),
            (.., Some(true)) => return Err(format!("{goals:?}: a plan costs less honey")),
            (Some(false), Some(true), Some(false)) => {
                settled.fetch_add(1, Ordering::Relaxed);
            }
            _ => (),
        }
        Ok(())
    });
    // The steps are too few for the rest, which is no disagreement.
    let settled = settled.into_inner();
    println!("{settled} of {} cases settled", cases.end - cases.start);
    assert!(settled as u64 * 10 >= (cases.end - cases.start) * 6);
}
