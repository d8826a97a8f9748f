//! The same scenario again, with something changed.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use super::cheapest::MOST_WORK;
use super::instance::Instance;
use super::master::{Clock, Solution};
use super::minimise::{Beat, beating};
use super::{Ceiling, Outcome, Proof, SolveOptions, solve};
use crate::plan::{Cost, Goals, Plan};
use crate::scenario::{Prices, Scenario};
use crate::units::{Grams, Worth};

/// Work that a search for a reason may take (a choice: a fifth of what one for the plan may).
const WORK: usize = MOST_WORK / 5;

/// What a plan reaches.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Reach {
    /// Worth of what is stocked.
    pub worth: Worth,
    /// What makes the cost.
    pub cost: Cost,
    /// The whole cost.
    pub total: Grams,
}

impl Reach {
    /// At these prices.
    pub fn of(goals: &Goals, prices: &Prices) -> Self {
        Self {
            worth: goals.worth,
            cost: goals.cost,
            total: goals.cost.total(prices),
        }
    }

    /// More worth, or as much for less cost.
    pub fn beats(&self, other: &Self) -> bool {
        self.worth > other.worth || (self.worth == other.worth && self.total < other.total)
    }
}

/// A scenario that is solved once, to be asked what changes of it reach. Every change takes nothing
/// away.
pub(crate) struct Again {
    today: Option<Reach>,
    /// A plan of equal worth is better if it costs so much less at least.
    notable: Grams,
    deadline: Option<Instant>,
    /// A search ended without an answer.
    unsure: AtomicBool,
}

impl Again {
    /// Solves the scenario as it stands. Past the time limit, if there is one, every answer is that it
    /// is not known.
    pub fn new(scenario: &Scenario, time_limit: Option<Duration>, notable: Grams) -> Self {
        let mut again = Self {
            today: None,
            notable: notable.max(Grams(1)),
            deadline: time_limit.and_then(|limit| Instant::now().checked_add(limit)),
            unsure: AtomicBool::new(false),
        };
        again.today = again.solved(scenario).map(|(reach, _)| reach);
        again
    }

    /// Whether any search so far ended without an answer.
    pub fn unsure(&self) -> bool {
        self.unsure.load(Ordering::Relaxed)
    }

    /// Whether what is reached as things stand is proved.
    pub fn proved(&self) -> bool {
        self.today.is_some()
    }

    /// What is reached as things stand; nothing where that is not known.
    pub fn today(&self) -> Reach {
        self.today.unwrap_or_default()
    }

    /// What is reached after a change, if that is better than today; else what is reached today. `None`
    /// where that is not known.
    pub fn reach(&self, changed: &Scenario) -> Option<Reach> {
        let today = self.today?;
        Some(self.better(changed, &today)?.unwrap_or(today))
    }

    /// Whether a changed scenario reaches something better than today; `None` where that is not known.
    pub fn improves(&self, changed: &Scenario) -> Option<bool> {
        self.beats(changed, &self.today?)
    }

    /// Whether a changed scenario reaches something better than this; `None` where that is not known.
    pub fn beats(&self, changed: &Scenario, now: &Reach) -> Option<bool> {
        let beat = Beat {
            any: true,
            ..self.beat(now)
        };
        Some(self.beating(changed, beat)?.is_some())
    }

    fn beat(&self, now: &Reach) -> Beat {
        Beat {
            worth: now.worth.0,
            cost: Some(now.total.0 - self.notable.0 + 1),
            any: false,
            work: WORK,
        }
    }

    fn better(&self, changed: &Scenario, now: &Reach) -> Option<Option<Reach>> {
        let found = self.beating(changed, self.beat(now))?;
        Some(found.map(|best| Reach {
            worth: Worth(best.worth),
            cost: best.cost,
            total: best.cost.total(&changed.prices),
        }))
    }

    /// The best plan that beats another, if any does; `None` where that is not known.
    fn beating(&self, changed: &Scenario, beat: Beat) -> Option<Option<Solution>> {
        let clock = Clock {
            until: self.deadline,
            ..Clock::default()
        };
        if clock.over() {
            self.unsure.store(true, Ordering::Relaxed);
            return None;
        }
        let instance = Instance::new(changed, None, &Ceiling::default());
        let minimum = beating(&instance, clock, beat);
        let known = match minimum.worth {
            None => !minimum.stopped,
            Some(_) if beat.any => minimum.best.is_some(),
            Some(_) => minimum.proof(&instance) == Proof::Best,
        };
        if !known {
            self.unsure.store(true, Ordering::Relaxed);
            return None;
        }
        Some(minimum.worth.and(minimum.best))
    }

    /// What is reached after a change, with a plan of it; `None` where that is not known or nothing is
    /// stocked.
    pub fn plan(&self, changed: &Scenario) -> Option<(Reach, Plan)> {
        let (reach, plan) = self.solved(changed)?;
        Some((reach, plan?))
    }

    /// Whether a change lets more worth be stocked; `None` where that is not known.
    pub fn more(&self, changed: &Scenario) -> Option<bool> {
        let beat = Beat {
            worth: self.today?.worth.0,
            cost: None,
            any: true,
            work: WORK,
        };
        Some(self.beating(&whatever_it_costs(changed), beat)?.is_some())
    }

    /// Greatest worth after a change, whatever it costs within the caps; `None` where that is not known.
    pub fn worth(&self, changed: &Scenario) -> Option<Worth> {
        let free = whatever_it_costs(changed);
        self.solved(&free).map(|(reach, _)| reach.worth)
    }

    fn solved(&self, scenario: &Scenario) -> Option<(Reach, Option<Plan>)> {
        let found = self.search(scenario);
        if found.is_none() {
            self.unsure.store(true, Ordering::Relaxed);
        }
        found
    }

    fn search(&self, scenario: &Scenario) -> Option<(Reach, Option<Plan>)> {
        let now = Instant::now();
        let left = self.deadline.map(|end| end.saturating_duration_since(now));
        if left.is_some_and(|left| left.is_zero()) {
            return None;
        }
        let options = SolveOptions {
            time_limit: left,
            ..SolveOptions::default()
        };
        match solve(scenario, &options) {
            Outcome::Stocked(best) if best.proof == Proof::Best => {
                let reach = Reach::of(&best.goals, &scenario.prices);
                Some((reach, Some(best.plan)))
            }
            Outcome::Nothing | Outcome::Unmet(_) => Some((Reach::default(), None)),
            Outcome::Stocked(_) | Outcome::TimedOut => None,
        }
    }
}

/// The scenario with nothing that costs anything; honey is still counted where a cap is on it.
fn whatever_it_costs(scenario: &Scenario) -> Scenario {
    let mut free = scenario.clone();
    free.prices = Prices {
        burden: Grams(0),
        substitute: Grams(0),
        opened: Grams(0),
        otherwise: Grams(0),
    };
    if free.honey_cap.is_none() {
        for colony in &mut free.colonies {
            colony.crop = colony.crop.filter(|_| colony.draw.honey.is_some());
        }
    }
    free
}
