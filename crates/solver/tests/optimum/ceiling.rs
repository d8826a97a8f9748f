//! The best plan that stocks at most so many compartments, or so much worth.
//!
//! Source: `docs/model.md`, "At most so much"; the enumeration of `support/enumerate.rs`.

use super::support::{
    answer, both, enumerate, figures, for_seeds, generate, proved, proved_figures, same, seeds,
};
use spareframe_solver::*;

fn under(scenario: &Scenario, most: Ceiling) -> Result<Option<Stocking>, String> {
    let options = SolveOptions {
        most,
        ..SolveOptions::default()
    };
    answer(scenario, &options)
}

fn compare(scenario: &Scenario, most: Ceiling) -> Result<(), String> {
    let found = under(scenario, most)?;
    let best = enumerate::best_of(scenario, None, most);
    same(figures(scenario, found.as_ref()), both(best))
        .map_err(|error| format!("{most:?}: {error}"))
}

fn compartments(most: u64) -> Ceiling {
    Ceiling {
        compartments: Some(most),
        worth: None,
    }
}

#[test]
fn under_a_ceiling_the_best_of_all_plans_below_it_is_found() {
    for_seeds(seeds(600), |seed| {
        compare(&generate::small(seed), generate::ceiling(seed))
    });
    for_seeds(seeds(200), |seed| {
        compare(&generate::full_size(seed), generate::ceiling(seed))
    });
}

#[test]
fn what_is_finished_counts_even_beyond_the_ceiling() {
    for_seeds(seeds(600), |seed| {
        let scenario = generate::begun(generate::small(seed), seed);
        compare(&scenario, generate::ceiling(seed))
    });
}

#[test]
fn a_ceiling_above_all_there_is_changes_nothing() {
    for_seeds(seeds(200), |seed| {
        let scenario = generate::small(seed);
        let free = proved(&scenario)?;
        let capped = under(&scenario, compartments(1000))?;
        match free == capped {
            true => Ok(()),
            false => Err(format!("{free:?}, under a ceiling {capped:?}")),
        }
    });
}

#[test]
fn a_higher_ceiling_never_lowers_the_worth_and_the_last_is_the_best_of_all() {
    let case = |scenario: Scenario| {
        let all: u32 = scenario
            .boxes
            .iter()
            .map(|b| b.count * b.compartments)
            .sum();
        let mut last = None;
        for most in 0..=u64::from(all) {
            let found = under(&scenario, compartments(most))?;
            let stocked = found.as_ref().map_or(0, |s| s.plan.compartments.len());
            let now = figures(&scenario, found.as_ref());
            let worth = |figures: super::support::Figures| figures.map_or(0, |(worth, _)| worth);
            if stocked as u64 > most || worth(now) < worth(last) {
                return Err(format!("at most {most}: {stocked}, {last:?}, then {now:?}"));
            }
            last = now;
        }
        same(proved_figures(&scenario)?, last)
    };
    for_seeds(seeds(200), |seed| case(generate::small(seed)));
    for_seeds(seeds(2), |seed| case(generate::narrow_yard(seed)));
}
