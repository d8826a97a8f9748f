//! What the tests of the optimum share: a generator of scenarios and ways to the optimum that
//! do not go through the solver.
#![allow(dead_code, reason = "each test binary uses a part of it")]

pub mod changed;
pub mod enumerate;
pub mod generate;
pub mod linear;
pub mod rng;
pub mod shrink;
pub mod split;
pub mod table;

use std::panic::{AssertUnwindSafe, catch_unwind};

use spareframe_solver::{Goals, Outcome, Proof, Scenario, SolveOptions, Stocking, check, solve};

/// How the error of a case begins in which only colonies opened or bees shaken are not proved.
const OPEN: &str = "not proved";

/// One case in so many may end there, and the answer says so (a choice; 3 of the first 1000 do).
const MAY_BE_OPEN: u64 = 200;

/// The solver's answer, checked on the way: proved best, no breach (rules: `docs/model.md`),
/// and the check's figures are those of the answer. `None` is nothing to stock.
pub fn proved(scenario: &Scenario) -> Result<Option<Stocking>, String> {
    match solve(scenario, &SolveOptions::default()) {
        Outcome::Nothing => Ok(None),
        Outcome::Unmet(unmet) if unmet.is_empty() || scenario.gives.is_empty() => {
            Err(format!("{unmet:?} of {:?}", scenario.gives))
        }
        Outcome::Unmet(_) => Ok(None),
        Outcome::TimedOut => Err("stopped without a time limit".into()),
        Outcome::Stocked(stocking) => {
            let (goals, breaches) = check(scenario, &stocking.plan);
            if !breaches.is_empty() {
                return Err(format!("breaches: {breaches:?}"));
            }
            if goals != stocking.goals {
                return Err(format!(
                    "check says {goals:?}, the answer {:?}",
                    stocking.goals
                ));
            }
            match stocking.proof {
                Proof::Best => Ok(Some(stocking)),
                Proof::Open { goal: 3 | 4, .. } => Err(format!("{OPEN}: {:?}", stocking.proof)),
                Proof::Open { .. } => Err(format!("worth or honey open: {:?}", stocking.proof)),
            }
        }
    }
}

/// The goals of the solver's checked answer; all 0 where it stocks nothing.
pub fn proved_goals(scenario: &Scenario) -> Result<Goals, String> {
    proved(scenario).map(|stocking| stocking.map_or_else(Goals::default, |s| s.goals))
}

/// The seeds 0.. of a test: so many, or as many as `SPAREFRAME_CASES` says, from
/// `SPAREFRAME_FIRST_SEED` on. CI sets neither.
pub fn seeds(usual: u64) -> std::ops::Range<u64> {
    let set = |name: &str| {
        let value = std::env::var(name).ok()?;
        Some(value.parse().expect("a whole number"))
    };
    let first = set("SPAREFRAME_FIRST_SEED").unwrap_or(0);
    first..first + set("SPAREFRAME_CASES").unwrap_or(usual)
}

/// Runs `case` for each seed on all cores, and panics with the lowest seeds that fail. A few of many
/// may end with goals 3 or 4 [not proved](OPEN).
pub fn for_seeds(seeds: std::ops::Range<u64>, case: impl Fn(u64) -> Result<(), String> + Sync) {
    let workers = std::thread::available_parallelism().map_or(1, usize::from) as u64;
    let mut failed: Vec<(u64, String)> = std::thread::scope(|scope| {
        let handles: Vec<_> = (0..workers)
            .map(|worker| {
                let (case, seeds) = (&case, seeds.clone());
                scope.spawn(move || {
                    seeds
                        .filter(|seed| seed % workers == worker)
                        .filter_map(|seed| {
                            let result = catch_unwind(AssertUnwindSafe(|| case(seed)));
                            let error = result.unwrap_or_else(|_| Err("panicked".into())).err()?;
                            Some((seed, error))
                        })
                        .collect::<Vec<_>>()
                })
            })
            .collect();
        handles
            .into_iter()
            .flat_map(|handle| handle.join().expect("a case panicked"))
            .collect()
    });
    failed.sort();
    let open = failed
        .iter()
        .filter(|(_, error)| error.starts_with(OPEN))
        .count() as u64;
    if open <= (seeds.end - seeds.start) / MAY_BE_OPEN {
        failed.retain(|(_, error)| !error.starts_with(OPEN));
    }
    let lines: Vec<String> = failed
        .iter()
        .take(10)
        .map(|(seed, error)| format!("seed {seed}: {error}"))
        .collect();
    assert!(
        failed.is_empty(),
        "{} seeds fail:\n{}",
        failed.len(),
        lines.join("\n")
    );
}
