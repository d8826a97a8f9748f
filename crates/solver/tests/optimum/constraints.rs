//! Both goals of small yards and of yards of more colonies against a constraint solver.
//!
//! Source: the rules of `docs/model.md` as rows of whole numbers (`support/linear.rs`), handed
//! to a solver that learns clauses from conflicts and has no linear relaxation. It decides
//! whether a plan exists that is one step better, and whether one exists that is as good.

use super::support::linear::{Rows, Sense, Sum};
use super::support::{
    Figures, answer, both, enumerate, figures, for_seeds, generate, proved_figures, seeds,
};
use spareframe_solver::SolveOptions;
use std::ops::Range;
use std::sync::atomic::{AtomicU64, Ordering};

const MOST_STEPS: u32 = 10_000;

fn exists(rows: &Rows, also: &[(&Sum, Sense, i64)]) -> Option<bool> {
    spareframe_oracles::exists(&rows.model, also, MOST_STEPS)
}

/// Whether the rows agree that so much can be had and no more: `None` where the steps ran out.
fn agrees(rows: &Rows, figures: Figures) -> Result<Option<()>, String> {
    let (worth, cost) = figures.unwrap_or((0, 0));
    let more = exists(rows, &[(&rows.worth, Sense::AtLeast, worth + 1)]);
    if more == Some(true) {
        return Err(format!("{figures:?}: a plan is worth more"));
    }
    if figures.is_none() {
        return Ok(more.map(|_| ()));
    }
    let as_good = (&rows.worth, Sense::AtLeast, worth);
    let costs = |most: i64| {
        exists(
            rows,
            &[as_good, (&rows.cost, Sense::AtMost, most - rows.base)],
        )
    };
    match (costs(cost), costs(cost - 1)) {
        (Some(false), _) => Err(format!("{figures:?}: no such plan")),
        (_, Some(true)) => Err(format!("{figures:?}: a plan costs less")),
        (equal, less) => Ok(more.and(equal).and(less).map(|_| ())),
    }
}

/// Runs `case` for all seeds and says how many of 100 were settled; the steps are too few for the rest,
/// which is no disagreement.
fn settled(cases: Range<u64>, case: impl Fn(u64) -> Result<Option<()>, String> + Sync) -> u64 {
    let settled = AtomicU64::new(0);
    for_seeds(cases.clone(), |seed| {
        let done = u64::from(case(seed)?.is_some());
        settled.fetch_add(done, Ordering::Relaxed);
        Ok(())
    });
    let (settled, all) = (settled.into_inner(), cases.end - cases.start);
    println!("{settled} of {all} cases settled");
    settled * 100 / all
}

/// The enumeration and the rows are two readings of the same definition.
#[test]
fn the_best_of_all_plans_gone_through_is_the_best_that_the_rows_allow() {
    let settled = settled(seeds(400), |seed| {
        let (scenario, then, most) = generate::question(seed);
        let best = enumerate::best_of(&scenario, then.as_ref(), most);
        let rows = Rows::of_all(&scenario, then.as_ref(), most);
        agrees(&rows, both(best))
    });
    assert!(settled >= 90);
}

#[test]
fn no_plan_of_a_small_yard_is_worth_more_or_costs_less() {
    let settled = settled(seeds(300), |seed| {
        let (scenario, then, most) = generate::question(seed ^ 0x5000);
        let options = SolveOptions {
            near: then.as_ref(),
            most,
            ..SolveOptions::default()
        };
        let found = answer(&scenario, &options)?;
        let rows = Rows::of_all(&scenario, then.as_ref(), most);
        agrees(&rows, figures(&scenario, found.as_ref()))
    });
    assert!(settled >= 90);
}

#[test]
fn no_plan_of_a_yard_of_many_colonies_is_worth_more_or_costs_less() {
    let settled = settled(seeds(200), |seed| {
        let scenario = generate::narrow_yard(seed);
        agrees(&Rows::of(&scenario), proved_figures(&scenario)?)
    });
    assert!(settled >= 40);
}
