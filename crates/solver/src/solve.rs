//! From a scenario to the best plan.
use crate::{Goals, Plan, Scenario};
use std::time::Duration;

/// How good the answer is known to be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Proof {
    /// No plan is better in the order of the goals.
    Best,
    /// Valid, but a goal is not proved: the first goal open and the best value it may still have.
    Open {
        /// 1..=4.
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

/// Limits of the search.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct SolveOptions {
    /// Stop after so long with the best so far; default none.
    pub time_limit: Option<Duration>,
}

/// Finds the best plan. A pure function of its arguments (but for the time limit).
#[must_use]
pub fn solve(_scenario: &Scenario, _options: &SolveOptions) -> Outcome {
    Outcome::Nothing
}
