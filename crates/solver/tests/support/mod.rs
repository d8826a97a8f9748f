//! What the tests of the optimum share: a generator of scenarios and ways to the optimum that
//! do not go through the solver.
#![allow(
    dead_code,
    unused_imports,
    reason = "each test binary uses a part of it"
)]

pub mod changed;
pub mod enumerate;
pub mod generate;
pub mod linear;
pub mod plain;
pub mod rng;
pub mod shrink;
pub mod split;
pub mod ways;

use std::panic::{AssertUnwindSafe, catch_unwind};

use enumerate::Best;
use spareframe_solver::{
    Ceiling, Goal, Outcome, Plan, Proof, Scenario, SolveOptions, Stocking, check, solve,
};

/// The solver's answer, checked on the way: no breach (rules: `docs/model.md`), and the check's figures are
/// those of the answer. `None` is nothing to stock, or wishes that are not met.
pub fn checked(scenario: &Scenario, options: &SolveOptions) -> Result<Option<Stocking>, String> {
    let stocking = match solve(scenario, options) {
        Outcome::Nothing => return Ok(None),
        Outcome::Unmet(unmet) if unmet.is_empty() || scenario.gives.is_empty() => {
            return Err(format!("{unmet:?} of {:?}", scenario.gives));
        }
        Outcome::Unmet(_) => return Ok(None),
        Outcome::TimedOut => return Err("stopped without a time limit".into()),
        Outcome::Stocked(stocking) => stocking,
    };
    let (mut goals, breaches) = check(scenario, &stocking.plan);
    if !breaches.is_empty() {
        return Err(format!("breaches: {breaches:?}"));
    }
    if let Some(then) = options.near {
        goals.cost.otherwise = stocking.plan.drawn_otherwise(then) as i64;
    }
    if goals != stocking.goals {
        let said = stocking.goals;
        return Err(format!("check says {goals:?}, the answer {said:?}"));
    }
    Ok(Some(stocking))
}

/// The same, proved best.
pub fn answer(scenario: &Scenario, options: &SolveOptions) -> Result<Option<Stocking>, String> {
    let found = checked(scenario, options)?;
    match found.as_ref().map(|stocking| stocking.proof) {
        None | Some(Proof::Best) => Ok(found),
        Some(open) => Err(format!("not proved: {open:?}")),
    }
}

/// Larger yards whose cost may stay open at the work limit: one in so many, no more than 1 % and 10 g above the bound.
/// Worth never may, nor may either goal in a yard that is small enough to enumerate.
const MAY_BE_OPEN: usize = 20;

/// Runs `case` on larger yards with their answers. Where the cost is left open, its bound must be one, and such
/// yards are counted.
pub fn for_large_yards(
    seeds: std::ops::Range<u64>,
    yard: impl Fn(u64) -> Scenario + Sync,
    case: impl Fn(&Scenario, Option<&Stocking>) -> Result<(), String> + Sync,
) {
    let open = std::sync::atomic::AtomicUsize::new(0);
    let cases = seeds.clone().count();
    for_seeds(seeds, |seed| {
        let scenario = yard(seed);
        let found = checked(&scenario, &SolveOptions::default())?;
        if let Some(stocking) = found.as_ref().filter(|found| found.proof != Proof::Best) {
            open.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
            cost_alone_is_open(&scenario, stocking)?;
        }
        case(&scenario, found.as_ref())
    });
    let open = open.into_inner();
    println!("{open} of {cases} stay open");
    assert!(
        open <= 1 + cases / MAY_BE_OPEN,
        "{open} of {cases} stay open"
    );
}

/// That just the cost is open, with a bound below it by 1 % and 10 g at most, and that colonies named the other way round
/// do not cost less than the bound says.
fn cost_alone_is_open(scenario: &Scenario, stocking: &Stocking) -> Result<(), String> {
    let cost = stocking.goals.cost.total(&scenario.prices).0;
    let Proof::Open {
        goal: Goal::Cost,
        bound,
        timed_out: false,
    } = stocking.proof
    else {
        return Err(format!("{:?}", stocking.proof));
    };
    let mut other = scenario.clone();
    let names = scenario.colonies.iter().rev();
    for (colony, of) in other.colonies.iter_mut().zip(names) {
        colony.name.clone_from(&of.name);
    }
    let other = figures(&other, checked(&other, &SolveOptions::default())?.as_ref());
    let worth = stocking.goals.worth.0;
    let sound = bound < cost
        && 100 * (bound + 10) >= 99 * cost
        && other.is_some_and(|other| other.0 == worth && other.1 >= bound);
    match sound {
        true => Ok(()),
        false => Err(format!(
            "cost {cost}, bound {bound}, {other:?} the other way round"
        )),
    }
}

/// The answer without options.
pub fn proved(scenario: &Scenario) -> Result<Option<Stocking>, String> {
    answer(scenario, &SolveOptions::default())
}

/// Worth and grams of cost.
pub type Figures = Option<(i64, i64)>;

/// The two figures of an answer.
pub fn figures(scenario: &Scenario, stocking: Option<&Stocking>) -> Figures {
    let cost = |s: &Stocking| s.goals.cost.total(&scenario.prices).0;
    stocking.map(|s| (s.goals.worth.0, cost(s)))
}

/// The two figures of the enumeration.
pub fn both(best: Option<Best>) -> Figures {
    best.map(|best| (best.worth, best.cost))
}

/// The two figures of the solver's checked answer.
pub fn proved_figures(scenario: &Scenario) -> Result<Figures, String> {
    Ok(figures(scenario, proved(scenario)?.as_ref()))
}

/// The proved answer near to an earlier plan.
pub fn near(scenario: &Scenario, then: &Plan) -> Result<Option<Stocking>, String> {
    let options = SolveOptions {
        near: Some(then),
        ..SolveOptions::default()
    };
    answer(scenario, &options)
}

/// The proved plan; an empty one where nothing is stocked.
pub fn plan_of(scenario: &Scenario) -> Result<Plan, String> {
    Ok(proved(scenario)?.map_or_else(Plan::default, |stocking| stocking.plan))
}

/// Figures in the order of the goals, the best last.
pub fn rank(figures: Figures) -> impl Ord + std::fmt::Debug {
    figures.map(|(worth, cost)| (worth, std::cmp::Reverse(cost)))
}

/// That the solver reaches what going through all plans does.
pub fn as_enumerated(scenario: &Scenario) -> Result<(), String> {
    same(proved_figures(scenario)?, both(enumerate::best(scenario)))
}

/// The same near to an earlier plan.
pub fn near_as_enumerated(now: &Scenario, then: &Plan) -> Result<(), String> {
    let found = near(now, then)?;
    let best = enumerate::best_of(now, Some(then), Ceiling::default());
    same(figures(now, found.as_ref()), both(best))
}

/// Whether the solver and an oracle say the same.
pub fn same(solver: Figures, oracle: Figures) -> Result<(), String> {
    match solver == oracle {
        true => Ok(()),
        false => Err(format!("solver {solver:?}, oracle {oracle:?}")),
    }
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

/// Runs `case` for each seed on all cores, and panics with the lowest seeds that fail.
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
