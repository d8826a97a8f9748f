//! From a scenario to the best plan.

mod again;
mod assemble;
mod backend;
mod bees;
mod bound;
mod choice;
mod curve;
mod done;
mod early;
mod finish;
mod kinds;
mod model;
mod near;
mod options;
mod placing;
mod regions;
mod rows;
mod search;
mod spent;
mod sweep;
mod tables;
mod variant;
mod wishes;

use std::time::Duration;

pub(crate) use again::{Again, Reached};

use crate::check::check;
use crate::plan::{Goals, Plan};
use crate::scenario::{Give, Scenario};

pub use curve::{Curve, Point, curve};

/// How good the answer is known to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// No plan is better in the order of the goals, as far as they were pursued.
    Best,
    /// Valid, but a goal is not proved: the first goal open and the best value it may still have.
    Open {
        /// 1 worth, 2 honey, 3 colonies opened, 4 bees shaken; 5, between 2 and 3, frames drawn
        /// otherwise than in an earlier plan.
        goal: u8,
        /// Bound in that goal's unit (worth in thousandths, mg, colonies, bees, frames).
        bound: i64,
        /// The time limit stopped it.
        timed_out: bool,
    },
}

/// A plan with its figures.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stocking {
    /// What goes where.
    pub plan: Plan,
    /// What it reaches.
    pub goals: Goals,
    /// How sure that is.
    pub proof: Proof,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// At least one compartment is stocked.
    Stocked(Stocking),
    /// Proved: not one compartment can be stocked.
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

/// The last goal that is pursued. Plans are valid whichever it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub enum Until {
    /// Most worth; whatever it costs within the caps.
    Worth,
    /// Then least honey given up.
    Honey,
    /// All four goals.
    #[default]
    Shaken,
}

/// Limits of the search.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct SolveOptions {
    /// Stop after so long with the best so far; default none.
    pub time_limit: Option<Duration>,
    /// The last goal that is pursued; default all of them. A proof is of the goals pursued.
    pub until: Until,
}

/// Finds the best plan. A pure function of its arguments, but for what a time limit cuts off.
///
/// ```
/// use spareframe_solver::{Outcome, Scenario, SolveOptions, solve};
/// let empty = Scenario::default();
/// assert_eq!(solve(&empty, &SolveOptions::default()), Outcome::Nothing);
/// ```
#[must_use]
pub fn solve(scenario: &Scenario, options: &SolveOptions) -> Outcome {
    find(scenario, None, options)
}

/// Finds the best plan that stays near to an earlier one: as much worth and as little honey given
/// up as the plan of [`solve`], then the fewest frames drawn otherwise ([`Plan::drawn_otherwise`]),
/// then the fewest colonies opened and bees shaken. Compartments keep their numbers, frames and bees
/// as far as that allows. Where no goal is better without it, the answer is the earlier plan itself.
///
/// The earlier plan may name what the scenario no longer has, and break its rules.
///
/// ```
/// use spareframe_solver::{Outcome, Plan, Scenario, SolveOptions, solve_near};
/// let empty = Scenario::default();
/// let answer = solve_near(&empty, &Plan::default(), &SolveOptions::default());
/// assert_eq!(answer, Outcome::Nothing);
/// ```
#[must_use]
pub fn solve_near(scenario: &Scenario, earlier: &Plan, options: &SolveOptions) -> Outcome {
    find(scenario, Some(earlier), options)
}

fn find(scenario: &Scenario, earlier: Option<&Plan>, options: &SolveOptions) -> Outcome {
    let deadline = search::Deadline::new(options.time_limit);
    let mut tables = tables::Tables::near(scenario, earlier);
    let (mut outcome, placed) = find_in(scenario, &tables, earlier, options);
    if !placed && tables.count_no_surplus() {
        // Compartments went over by more than others can be short of.
        outcome = find_in(scenario, &tables, earlier, options).0;
    }
    match outcome {
        Outcome::Stocked(best) if earlier.is_none() => {
            let best = finish::finish(scenario, &tables, options, &deadline, best);
            Outcome::Stocked(best)
        }
        other => other,
    }
}

/// The answer, and whether what was chosen could be put into compartments.
fn find_in(
    scenario: &Scenario,
    tables: &tables::Tables,
    earlier: Option<&Plan>,
    options: &SolveOptions,
) -> (Outcome, bool) {
    let unmet = wishes::unmet(scenario, tables);
    if !unmet.is_empty() {
        return (Outcome::Unmet(unmet), true);
    }
    if tables.kinds.iter().all(|kind| kind.most == 0) {
        let outcome = match tables.wishes {
            true => Outcome::Unmet(wishes::together(scenario)),
            false => Outcome::Nothing,
        };
        return (outcome, true);
    }
    let then = earlier.map(|plan| near::Then::new(scenario, tables, plan));
    let search = search::search_near(tables, then.as_ref(), options);
    let open = |(goal, bound, timed_out)| Proof::Open {
        goal,
        bound,
        timed_out,
    };
    let proof = search.open.map_or(Proof::Best, open);
    let nothing = |choice: &choice::Choice| choice.compartments.iter().all(|&count| count == 0);
    if proof == Proof::Best && search.choice.as_ref().is_some_and(nothing) {
        return (Outcome::Nothing, true);
    }
    if search.choice.is_none() && proof == Proof::Best && tables.wishes {
        return (Outcome::Unmet(wishes::together(scenario)), true);
    }
    let chosen = search.choice.is_some();
    let plan = search.choice.and_then(|mut choice| {
        if let Some(then) = &then {
            then.settle_bees(tables, &mut choice);
        }
        assemble::assemble_near(scenario, tables, &choice, then.as_ref())
    });
    let placed = !chosen || plan.is_some();
    let found = plan.map(|plan| (check(scenario, &plan).0, plan));
    let best = match then {
        Some(then) => then.unless_better(found),
        None => found,
    };
    let outcome = best.map_or(Outcome::TimedOut, |(goals, plan)| {
        Outcome::Stocked(Stocking { plan, goals, proof })
    });
    (outcome, placed)
}
