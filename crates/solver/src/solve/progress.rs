//! How far a search has come, for whoever waits.

use std::sync::{Mutex, PoisonError};

use super::{Goal, Proof, Stocking};
use crate::scenario::Prices;
use crate::units::{Grams, Worth};

/// Told by a search how far it has come, and read from another thread. It changes no answer.
///
/// ```
/// use spareframe_solver::{Grams, Progress, Reached, Scenario, SolveOptions, Worth, solve};
/// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
/// let yard: Scenario = include!("../../doctests/yard.rs");
/// let progress = Progress::default();
/// let options = SolveOptions { progress: Some(&progress), ..SolveOptions::default() };
/// std::thread::scope(|scope| {
///     let search = scope.spawn(|| solve(&yard, &options));
///     while !search.is_finished() {
///         let Reached { best, most, least } = progress.reached();
///         // Show them.
///     }
/// });
/// let best = Some((Worth(4_000), Grams(7_203)));
/// let (most, least) = (Some(Worth(4_000)), Some(Grams(7_203)));
/// assert_eq!(progress.reached(), Reached { best, most, least });
/// ```
#[derive(Debug, Default)]
pub struct Progress(Mutex<Reached>);

/// What a search has found and excluded so far.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Reached {
    /// Worth and cost of the best plan so far.
    pub best: Option<(Worth, Grams)>,
    /// No plan is worth more; `None` where that is not known yet.
    pub most: Option<Worth>,
    /// No plan of so much worth costs less; `None` where that is not known yet.
    pub least: Option<Grams>,
}

impl Reached {
    /// By an answer, with its proof.
    pub(super) fn by(found: &Stocking, prices: &Prices) -> Self {
        let (worth, cost) = (found.goals.worth, found.goals.cost.total(prices));
        let (most, least) = match found.proof {
            Proof::Best => (worth, Some(cost)),
            Proof::Open {
                goal: Goal::Worth,
                bound,
                ..
            } => (Worth(bound), None),
            Proof::Open {
                goal: Goal::Cost,
                bound,
                ..
            } => (worth, Some(Grams(bound))),
        };
        Self {
            best: Some((worth, cost)),
            most: Some(most),
            least,
        }
    }

    /// No plan is worth more: where that is new, nothing is known of the cost.
    pub(super) fn no_more(&mut self, most: Worth) {
        if self.most != Some(most) {
            (self.most, self.least) = (Some(most), None);
        }
    }
}

impl Progress {
    /// How far the search has come.
    #[must_use]
    pub fn reached(&self) -> Reached {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub(super) fn tell(&self, change: impl FnOnce(&mut Reached)) {
        change(&mut self.0.lock().unwrap_or_else(PoisonError::into_inner));
    }
}
