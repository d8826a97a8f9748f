//! From a scenario to the best plan.

mod again;
mod assemble;
mod backend;
mod bees;
mod bound;
mod choice;
mod curve;
mod early;
mod model;
mod options;
mod regions;
mod rows;
mod search;
mod sweep;
mod tables;

use std::time::Duration;

pub(crate) use again::{Again, Reached};

use crate::check::check;
use crate::plan::{Goals, Plan};
use crate::scenario::Scenario;

pub use curve::{Curve, Point, curve};

/// How good the answer is known to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// No plan is better in the order of the goals, as far as they were pursued.
    Best,
    /// Valid, but a goal is not proved: the first goal open and the best value it may still have.
    Open {
        /// 1 worth, 2 honey, 3 colonies opened, 4 bees shaken.
        goal: u8,
        /// Bound in that goal's unit (worth in thousandths, mg, colonies, bees).
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
    let tables = tables::Tables::new(scenario);
    if tables.kinds.iter().all(|kind| kind.most == 0) {
        return Outcome::Nothing;
    }
    let search = search::search(&tables, options);
    let open = |(goal, bound, timed_out)| Proof::Open {
        goal,
        bound,
        timed_out,
    };
    let proof = search.open.map_or(Proof::Best, open);
    let Some(choice) = search.choice else {
        return Outcome::TimedOut;
    };
    if choice.compartments.iter().all(|&count| count == 0) && proof == Proof::Best {
        return Outcome::Nothing;
    }
    let Some(plan) = assemble::assemble(scenario, &tables, &choice) else {
        return Outcome::TimedOut;
    };
    let (goals, _) = check(scenario, &plan);
    Outcome::Stocked(Stocking { plan, goals, proof })
}
