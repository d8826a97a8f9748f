//! The optimum against the linear relaxation of the obvious model.
//!
//! Source: any plan is a point of the relaxation (rules of `docs/model.md`, rows in
//! `support/linear.rs`), so no plan has more worth, and none of the same worth less cost. The
//! linear solver is one that the solver itself does not use.

use super::support::linear::Rows;
use super::support::{Figures, answer, figures, for_large_yards, for_seeds, generate, seeds};
use spareframe_oracles::{Direction, relaxed};
use spareframe_solver::*;

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
    let most = relaxed(&rows.model, &rows.worth, Direction::Most, None)?;
    if worth as f64 > most + slack(most) {
        return Err(format!(
            "worth {worth}: the relaxation allows {most} at most"
        ));
    }
    let given = Some((&rows.worth, worth));
    let least = relaxed(&rows.model, &rows.cost, Direction::Least, given)?;
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
