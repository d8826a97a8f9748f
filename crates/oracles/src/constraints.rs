//! A solver that learns clauses from conflicts and has no linear relaxation.

use crate::{Model, Sense, Sum};
use pumpkin_solver::Solver;
use pumpkin_solver::conflict_resolvers::resolvers::ResolutionResolver;
use pumpkin_solver::core::results::SatisfactionResult;
use pumpkin_solver::core::termination::TerminationCondition;
use pumpkin_solver::core::variables::TransformableVariable;

/// Steps of the search left: counted, not timed, so that a run can be repeated.
struct Steps(u32);

impl TerminationCondition for Steps {
    fn should_stop(&mut self) -> bool {
        self.0 = self.0.saturating_sub(1);
        self.0 == 0
    }
}

/// Is there a point in whole numbers that keeps the model and `also`? `None` where so many steps were too few.
///
/// # Panics
/// If a figure is beyond 32 bits, the range of that solver.
#[must_use]
pub fn exists(model: &Model, also: &[(&Sum, Sense, i64)], steps: u32) -> Option<bool> {
    let mut solver = Solver::default();
    let narrow = |value: i64| i32::try_from(value).expect("within range");
    let columns: Vec<_> = model
        .columns
        .iter()
        .map(|&most| solver.new_bounded_integer(0, narrow(most)))
        .collect();
    let also = also.iter().map(|&(sum, sense, rhs)| (sum, sense, rhs));
    let all = model
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
    let mut termination = Steps(steps);
    let mut resolver = ResolutionResolver::default();
    match solver.satisfy(&mut brancher, &mut termination, &mut resolver) {
        SatisfactionResult::Satisfiable(_) => Some(true),
        SatisfactionResult::Unsatisfiable(..) => Some(false),
        SatisfactionResult::Unknown(..) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_are_found_and_their_absence_is_proved() {
        let model = Model {
            columns: vec![3, 3],
            rows: vec![(vec![(0, 2), (1, 3)], Sense::Equal, 12)],
        };
        let first = vec![(0, 1)];
        assert_eq!(exists(&model, &[], 1000), Some(true));
        let three = [(&first, Sense::AtLeast, 3)];
        assert_eq!(exists(&model, &three, 1000), Some(true));
        let one = [(&first, Sense::Equal, 1)];
        assert_eq!(exists(&model, &one, 1000), Some(false));
    }
}
