//! Who watches a search, or calls it off, changes no plan, and is told what holds.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;

use super::support::{for_seeds, generate, seeds};
use spareframe_solver::*;

/// What an answer says, as whoever watched is to be told in the end.
fn said(scenario: &Scenario, stocking: &Stocking) -> Reached {
    let (worth, cost) = (stocking.goals.worth, stocking.goals.cost);
    let cost = cost.total(&scenario.prices);
    let (most, least) = match stocking.proof {
        Proof::Best => (worth, Some(cost)),
        Proof::Open {
            goal: Goal::Cost,
            bound,
            ..
        } => (worth, Some(Grams(bound))),
        Proof::Open {
            goal: Goal::Worth,
            bound,
            ..
        } => (Worth(bound), None),
    };
    Reached {
        best: Some((worth, cost)),
        most: Some(most),
        least,
    }
}

/// That what was told on the way agrees with the answer.
fn holds(told: &Reached, end: &Reached) -> Result<(), String> {
    let rank = |best: Option<(Worth, Grams)>| best.map(|(worth, cost)| (worth, -cost.0));
    let best = rank(told.best) <= rank(end.best);
    let most = told.most.is_none_or(|most| Some(most) >= end.most);
    let least = told.most != end.most || told.least <= end.least;
    let cost = told.least.is_none_or(|least| least >= Grams(0));
    match best && most && least && cost {
        true => Ok(()),
        false => Err(format!("{told:?} on the way to {end:?}")),
    }
}

/// Searches, and looks at the progress all the while.
fn watched(
    scenario: &Scenario,
    options: &SolveOptions,
    mut look: impl FnMut(Reached),
) -> (Outcome, Reached) {
    let progress = Progress::default();
    let options = SolveOptions {
        progress: Some(&progress),
        ..*options
    };
    let outcome = std::thread::scope(|scope| {
        let search = scope.spawn(|| solve(scenario, &options));
        while !search.is_finished() {
            look(progress.reached());
            std::thread::sleep(Duration::from_micros(50));
        }
        search.join().expect("no search panics")
    });
    (outcome, progress.reached())
}

#[test]
fn who_watches_gets_the_same_plan_is_told_what_holds_and_in_the_end_its_figures() {
    let on_the_way = AtomicBool::new(false);
    for_seeds(seeds(20), |seed| {
        let scenario = match seed % 2 {
            0 => generate::yard(seed),
            _ => generate::apiary(seed),
        };
        let options = SolveOptions::default();
        let mut told = Vec::new();
        let (outcome, end) = watched(&scenario, &options, |now| {
            if told.last() != Some(&now) {
                told.push(now);
            }
        });
        if outcome != solve(&scenario, &options) {
            return Err("another plan".into());
        }
        let Outcome::Stocked(stocking) = outcome else {
            return Ok(());
        };
        if end != said(&scenario, &stocking) {
            return Err(format!("{end:?} of {:?}", stocking.goals));
        }
        let between = told.iter().any(|now| now.best.is_some() && *now != end);
        on_the_way.fetch_or(between, Ordering::Relaxed);
        told.iter().try_for_each(|now| holds(now, &end))
    });
    assert!(on_the_way.into_inner(), "told at the end alone");
}

#[test]
fn no_time_limit_is_too_long() {
    let scenario = generate::apiary(0);
    let options = SolveOptions {
        time_limit: Some(Duration::MAX),
        ..SolveOptions::default()
    };
    let without = SolveOptions::default();
    assert_eq!(solve(&scenario, &options), solve(&scenario, &without));
}

#[test]
fn called_off_before_it_begins_a_search_finds_no_plan() {
    let cancel = AtomicBool::new(true);
    let options = SolveOptions {
        cancel: Some(&cancel),
        ..SolveOptions::default()
    };
    assert_eq!(solve(&generate::apiary(0), &options), Outcome::TimedOut);
}

#[test]
fn called_off_on_the_way_the_best_plan_so_far_is_the_answer() {
    for_seeds(seeds(20), |seed| {
        let scenario = generate::apiary(seed);
        let cancel = AtomicBool::new(false);
        let options = SolveOptions {
            cancel: Some(&cancel),
            ..SolveOptions::default()
        };
        let mut told = Reached::default();
        let (outcome, _) = watched(&scenario, &options, |now| {
            if now.best.is_some() && told.best.is_none() {
                told = now;
                cancel.store(true, Ordering::Relaxed);
            }
        });
        match outcome {
            Outcome::Stocked(stocking) => {
                let (_, breaches) = check(&scenario, &stocking.plan);
                assert_eq!(breaches, []);
                holds(&told, &said(&scenario, &stocking))
            }
            Outcome::Nothing if told.best.is_none() => Ok(()),
            other => Err(format!("{other:?} after {told:?}")),
        }
    });
}
