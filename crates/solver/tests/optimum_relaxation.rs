//! The optimum against the linear relaxation of the obvious model.
//!
//! Source: any plan is a point of the relaxation (rules of `docs/model.md`, rows in
//! `support/linear.rs`), so no plan has more worth, and none of the same worth less cost. The
//! linear solver is one that the solver itself does not use.

mod support;

use minilp::{ComparisonOp, OptimizationDirection, Problem};
use spareframe_solver::*;
use support::linear::{Rows, Sense, Sum};
use support::{Figures, answer, figures, for_large_yards, for_seeds, generate, seeds};

/// Best value of `goal` over the rows and, if given, `also`.
fn relaxed(
    rows: &Rows,
    goal: &Sum,
    direction: OptimizationDirection,
    also: Option<(&Sum, i64)>,
) -> Result<f64, String> {
    let mut problem = Problem::new(direction);
    let mut price = vec![0.0; rows.columns.len()];
    for &(column, each) in goal {
        price[column] += each as f64;
    }
    let columns: Vec<_> = rows
        .columns
        .iter()
        .zip(price)
        .map(|(&most, price)| problem.add_var(price, (0.0, most as f64)))
        .collect();
    let also = also.map(|(sum, rhs)| (sum.clone(), Sense::AtLeast, rhs));
    for (sum, sense, rhs) in rows.rows.iter().chain(&also) {
        // Rows of like size, as the solver's tolerances are absolute.
        let size = sum
            .iter()
            .map(|&(_, each)| each.abs())
            .max()
            .unwrap_or(1)
            .max(1) as f64;
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

/// What a float bound may be off by: a millionth, and a thousandth of a unit.
fn slack(bound: f64) -> f64 {
    1e-3 + bound.abs() * 1e-6
}

fn compare(scenario: &Scenario, then: Option<&Plan>, most: Ceiling) -> Result<(), String> {
    let options = SolveOptions {
        near: then,
        most,
        ..SolveOptions::default()
    };
    let found = answer(scenario, &options)?;
    no_better(
        &Rows::of_all(scenario, then, most),
        figures(scenario, found.as_ref()),
    )
}

/// Whether a plan of these figures is no better than the rows allow.
fn no_better(rows: &Rows, figures: Figures) -> Result<(), String> {
    let Some((worth, cost)) = figures else {
        return Ok(());
    };
    let most = relaxed(rows, &rows.worth, OptimizationDirection::Maximize, None)?;
    if worth as f64 > most + slack(most) {
        return Err(format!(
            "worth {worth}: the relaxation allows {most} at most"
        ));
    }
    let given = Some((&rows.worth, worth));
    let least = relaxed(rows, &rows.cost, OptimizationDirection::Minimize, given)?;
    if ((cost - rows.base) as f64) < least - slack(least) {
        return Err(format!(
            "{cost} g: the relaxation asks for {least} g at least"
        ));
    }
    Ok(())
}

#[test]
fn no_small_yard_does_better_than_its_relaxation() {
    for_seeds(seeds(1000), |seed| {
        let (scenario, then, most) = generate::question(seed);
        compare(&scenario, then.as_ref(), most)
    });
}

#[test]
fn no_full_size_yard_does_better_than_its_relaxation() {
    for_seeds(seeds(500), |seed| {
        compare(&generate::full_size(seed), None, Ceiling::default())
    });
}

#[test]
fn no_large_yard_does_better_than_its_relaxation() {
    for_large_yards(seeds(100), generate::yard, |yard, found| {
        no_better(&Rows::of(yard), figures(yard, found))
    });
}
