//! From a scenario to the best plan.

mod again;
mod allocate;
mod begun;
mod cheapest;
mod columns;
mod curve;
mod direct;
mod flow;
mod greedy;
mod instance;
mod kind_by_kind;
mod master;
mod minimise;
mod progress;
#[cfg(test)]
mod tests;
mod today;
mod wishes;

use std::cmp::Reverse;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

pub(crate) use again::{Again, Reach, WHATEVER};
pub use curve::{Curve, Point, curve};
#[doc(hidden)]
pub use direct::direct_goals;
pub(crate) use instance::can_be_taken;
pub use progress::{Progress, Reached};
pub(crate) use wishes::may_give;

use spareframe_engine as engine;

use allocate::{Totals, allocate, spare};
use begun::finish_begun;
pub(crate) use flow::Network;
use instance::Instance;
use kind_by_kind::kind_by_kind;
pub(crate) use master::Clock;
use minimise::minimise;

use crate::check::{check, check_near};
use crate::plan::{Goals, Plan};
use crate::scenario::{Give, Scenario};
use crate::units::{Grams, Worth};

/// A goal, in the order in which they are pursued.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Goal {
    /// Most worth.
    Worth,
    /// Least cost.
    Cost,
}

/// How good the answer is known to be. Every bound rests on whole numbers alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// No plan is better in the order of the goals.
    Best,
    /// Valid, but a goal is not proved: the first goal open and the best value it may still have.
    Open {
        /// The first goal that is not proved.
        goal: Goal,
        /// Bound in that goal's unit: worth in thousandths, cost in grams.
        bound: i64,
        /// The time limit, or whoever called it off, stopped it.
        timed_out: bool,
    },
}

/// A plan with its figures.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stocking {
    /// What goes where.
    pub plan: Plan,
    /// What it reaches; near to an earlier plan with frames drawn otherwise.
    pub goals: Goals,
    /// How sure that is.
    pub proof: Proof,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// At least one compartment is stocked.
    Stocked(Stocking),
    /// Proved: not one compartment can be stocked. What is begun stays as it is.
    Nothing,
    /// Stopped by the time limit before any plan was found.
    TimedOut,
    /// Proved: no plan meets the wishes. Those that cannot be met whatever the others are; where
    /// there are none such, all of them.
    Unmet(Vec<Unmet>),
}

/// A wish that is not met.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unmet {
    /// The wish.
    pub give: Give,
    /// Why.
    pub cause: Cause,
}

/// Why a wish cannot be met.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// The colony is on hold.
    Hold,
    /// There are not so many frames without the queen.
    TooFew,
    /// The colony's floors and caps leave fewer frames that serve a line.
    Limits,
    /// The colony could, but not so that every frame serves a line of a compartment that can be
    /// stocked, beside the other wishes.
    Together,
}

/// The most that may be stocked. What is finished counts even beyond it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Ceiling {
    /// Most compartments; default no ceiling.
    pub compartments: Option<u64>,
    /// Most worth; default no ceiling.
    pub worth: Option<Worth>,
}

/// What to look for, and for how long.
///
/// ```
/// use spareframe_solver::{Outcome, Scenario, SolveOptions, Worth, solve};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let mut yard: Scenario = include!("../../doctests/yard.rs");
/// let Outcome::Stocked(best) = solve(&yard, &SolveOptions::default()) else { panic!() };
/// // On the day the nucleus has a brood frame less. Near to the first plan, two frames are drawn otherwise.
/// yard.colonies[1].frames[0].count = 2;
/// let near = SolveOptions { near: Some(&best.plan), ..SolveOptions::default() };
/// let Outcome::Stocked(now) = solve(&yard, &near) else { panic!() };
/// assert_eq!((now.goals.worth, now.goals.cost.otherwise), (Worth(3_000), 2));
/// ```
#[derive(Debug, Clone, Copy, Default)]
pub struct SolveOptions<'a> {
    /// Stop after so long with the best so far; default none.
    pub time_limit: Option<Duration>,
    /// Stop as soon as this is true, as if the time limit had come; default never.
    pub cancel: Option<&'a AtomicBool>,
    /// Told how far the search has come; default nobody.
    pub progress: Option<&'a Progress>,
    /// An earlier plan to stay near to; default none.
    pub near: Option<&'a Plan>,
    /// The most that may be stocked; default all there is.
    pub most: Ceiling,
}

/// Finds the best plan. A pure function of its arguments, but for what a time limit cuts off.
///
/// ```
/// use spareframe_solver::{Ceiling, Outcome, Proof, Scenario, SolveOptions, Worth, solve};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../doctests/yard.rs");
/// let Outcome::Stocked(best) = solve(&yard, &SolveOptions::default()) else { panic!() };
/// assert_eq!((best.goals.worth, best.proof), (Worth(4_000), Proof::Best));
///
/// let most = Ceiling { compartments: Some(1), ..Ceiling::default() };
/// let Outcome::Stocked(one) = solve(&yard, &SolveOptions { most, ..Default::default() }) else { panic!() };
/// assert_eq!(one.plan.compartments.len(), 1);
///
/// let none_left = Scenario { cells: Some(vec![]), ..yard };
/// assert_eq!(solve(&none_left, &SolveOptions::default()), Outcome::Nothing);
/// ```
#[must_use]
pub fn solve(scenario: &Scenario, options: &SolveOptions) -> Outcome {
    solve_below(scenario, options, None)
}

/// The same among plans that cost less than so much, all that is done in it.
fn solve_below(scenario: &Scenario, options: &SolveOptions, below: Option<Grams>) -> Outcome {
    let clock = Clock {
        cancel: options.cancel,
        progress: options.progress,
        ..Clock::of(options.time_limit)
    };
    let instance = Instance {
        below: below.map(|grams| grams.0),
        ..Instance::new(scenario, options.near, &options.most)
    };
    let first = kind_by_kind(scenario, &instance, options, clock);
    let rank = |of: &Stocking| rank(scenario, &of.goals);
    let outcome = match (searched(scenario, &instance, options, clock), first) {
        (Outcome::Stocked(found), Some(first)) if rank(&first) < rank(&found) => {
            let proof = found.proof;
            Outcome::Stocked(Stocking { proof, ..first })
        }
        (Outcome::TimedOut, Some(first)) => Outcome::Stocked(first),
        (found, _) => found,
    };
    if let Outcome::Stocked(found) = &outcome {
        clock.tell(|now| *now = Reached::by(found, &scenario.prices));
    }
    outcome
}

/// Of two plans the better has the lower rank.
fn rank(scenario: &Scenario, goals: &Goals) -> (Reverse<Worth>, Grams) {
    (Reverse(goals.worth), goals.cost.total(&scenario.prices))
}

fn searched(
    scenario: &Scenario,
    instance: &Instance,
    options: &SolveOptions,
    clock: Clock,
) -> Outcome {
    let unmet = wishes::unmet(scenario, instance);
    if !unmet.is_empty() {
        return Outcome::Unmet(unmet);
    }
    let minimum = minimise(instance, clock);
    if minimum.worth.is_none() {
        return Outcome::Unmet(wishes::together(scenario));
    }
    let proof = minimum.proof(instance);
    let stocks = |totals: &Totals| totals.compartments.iter().any(|&count| count > 0);
    let best = match proof {
        Proof::Best => minimum.best.map(|best| finish_begun(instance, best, clock)),
        Proof::Open { .. } => minimum.best,
    };
    let totals = best.map(|best| best.totals);
    if proof == Proof::Best && !totals.as_ref().is_some_and(stocks) {
        return Outcome::Nothing;
    }
    let totals = totals.map(|totals| spare(scenario, instance, totals));
    let plan = totals.and_then(|totals| allocate(scenario, instance, &totals, options.near));
    let found = plan.map(|plan| (check(scenario, &plan).0, plan));
    match nearer(scenario, instance, options.near, found) {
        Some((goals, plan)) => Outcome::Stocked(Stocking { plan, goals, proof }),
        None => Outcome::TimedOut,
    }
}

/// The plan found, or the earlier plan where that breaks no rule and the one found is no better.
fn nearer(
    scenario: &Scenario,
    instance: &Instance,
    earlier: Option<&Plan>,
    found: Option<(Goals, Plan)>,
) -> Option<(Goals, Plan)> {
    let Some(earlier) = earlier else {
        return found;
    };
    let mut earlier = earlier.clone();
    earlier.put_in_order();
    let found = found.map(|(_, plan)| (check_near(scenario, &plan, &earlier).0, plan));
    let (own, breaches) = check(scenario, &earlier);
    let stands = breaches.is_empty() && within(instance, &earlier, &own);
    let better = found
        .as_ref()
        .is_some_and(|(goals, _)| rank(scenario, goals) < rank(scenario, &own));
    if stands && !better && !earlier.compartments.is_empty() {
        return Some((own, earlier));
    }
    found
}

/// Whether a plan stays below the ceilings.
fn within(instance: &Instance, plan: &Plan, goals: &Goals) -> bool {
    let count = i64::try_from(plan.compartments.len()).unwrap_or(i64::MAX);
    instance.most_compartments.is_none_or(|most| count <= most)
        && instance.most_worth.is_none_or(|most| goals.worth.0 <= most)
}
