//! A linear solver: columns may be fractions.

use crate::{Model, Sense, Sum};
use minilp::{ComparisonOp, OptimizationDirection, Problem};

/// Which way a goal is better.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// Greatest is best.
    Most,
    /// Least is best.
    Least,
}

/// Best value of `goal` over the model and, if given, a sum that is at least so much.
///
/// # Errors
/// Where the solver finds none.
pub fn relaxed(
    model: &Model,
    goal: &Sum,
    direction: Direction,
    at_least: Option<(&Sum, i64)>,
) -> Result<f64, String> {
    let mut problem = Problem::new(match direction {
        Direction::Most => OptimizationDirection::Maximize,
        Direction::Least => OptimizationDirection::Minimize,
    });
    let mut price = vec![0.0; model.columns.len()];
    for &(column, each) in goal {
        price[column] += each as f64;
    }
    let columns: Vec<_> = model
        .columns
        .iter()
        .zip(price)
        .map(|(&most, price)| problem.add_var(price, (0.0, most as f64)))
        .collect();
    let also = at_least.map(|(sum, rhs)| (sum.clone(), Sense::AtLeast, rhs));
    for (sum, sense, rhs) in model.rows.iter().chain(&also) {
        // Rows of like size, as the solver's tolerances are absolute.
        let sizes = sum.iter().map(|&(_, each)| each.abs());
        let size = sizes.max().unwrap_or(1).max(1) as f64;
        let terms: Vec<_> = sum
            .iter()
            .filter(|&&(_, each)| each != 0)
            .map(|&(column, each)| (columns[column], each as f64 / size))
            .collect();
        let sense = match sense {
            Sense::AtMost => ComparisonOp::Le,
            Sense::AtLeast => ComparisonOp::Ge,
            Sense::Equal => ComparisonOp::Eq,
        };
        problem.add_constraint(terms, sense, *rhs as f64 / size);
    }
    problem
        .solve()
        .map(|solution| solution.objective())
        .map_err(|error| format!("relaxation: {error}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fractions_are_allowed() {
        let goal = vec![(0, 1), (1, 1)];
        let model = Model {
            columns: vec![3, 3],
            rows: vec![(vec![(0, 2), (1, 4)], Sense::AtMost, 10)],
        };
        let best = relaxed(&model, &goal, Direction::Most, None).expect("a point");
        assert!((best - 4.0).abs() < 1e-9, "{best}");
        let least = Some((&goal, 2));
        let least = relaxed(&model, &goal, Direction::Least, least).expect("a point");
        assert!((least - 2.0).abs() < 1e-9, "{least}");
    }
}
