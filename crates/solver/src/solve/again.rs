//! The same scenario again, with something changed.

use std::sync::atomic::{AtomicBool, Ordering};

use super::allocate::{allocate, spare};
use super::engine::{Model, Near};
use super::instance::Instance;
use super::master::{Clock, Master, Solution};
use super::minimise::{Beat, beating, minimise, minimise_within};
use super::today::Today;
use super::{Ceiling, Goal, Outcome, Proof};
use crate::plan::{Cost, Goals, Plan};
use crate::scenario::{Prices, Scenario};
use crate::units::{Grams, Worth};

/// Relaxations that a search for a reason may take (a choice: nearly all take fewer than 300), and the sets that
/// small yards count as.
const RELAXATIONS: usize = 1000;
const SETS: usize = 50;

/// Notable where no cost is: worth alone counts.
pub(crate) const WHATEVER: Grams = Grams(i64::MAX);

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

    /// By a solution, at these prices.
    fn by(best: &Solution, prices: &Prices) -> Self {
        Self {
            worth: Worth(best.worth),
            cost: best.cost,
            total: best.cost.total(prices),
        }
    }

    /// More worth, or as much for less cost.
    pub fn beats(&self, other: &Self) -> bool {
        self.worth > other.worth || (self.worth == other.worth && self.total < other.total)
    }
}

/// A scenario with its answer, to be asked what changes of it reach. No change takes anything away, but for [`Again::less`].
pub(crate) struct Again<'a> {
    known: Option<Answered>,
    /// A plan of equal worth is better if it costs so much less at least; and costs are found to within it.
    notable: Grams,
    clock: Clock<'a>,
    /// A search ended without an answer.
    unsure: AtomicBool,
}

/// What is reached as things stand.
struct Answered {
    reach: Reach,
    today: Today,
}

impl<'a> Again<'a> {
    /// Of a scenario and its answer. Once the clock is over, every answer is that it is not known.
    pub fn new(scenario: &Scenario, found: &Outcome, clock: Clock<'a>, notable: Grams) -> Self {
        let mut again = Self {
            known: None,
            notable: notable.max(Grams(1)),
            clock,
            unsure: AtomicBool::new(false),
        };
        let reach = again.reached(scenario, found);
        again.known = reach.map(|reach| Answered {
            reach,
            today: Today::new(scenario, &again.beat(&reach), clock),
        });
        again.unsure = AtomicBool::new(again.known.is_none());
        again
    }

    /// What an answer reaches, where it is proved closely enough.
    fn reached(&self, scenario: &Scenario, found: &Outcome) -> Option<Reach> {
        let best = match found {
            Outcome::Stocked(best) => best,
            Outcome::Nothing | Outcome::Unmet(_) => return Some(Reach::default()),
            Outcome::TimedOut => return None,
        };
        let reach = Reach::of(&best.goals, &scenario.prices);
        let least = match best.proof {
            Proof::Best => reach.total.0,
            Proof::Open {
                goal: Goal::Cost,
                bound,
                ..
            } => bound,
            Proof::Open { .. } => return None,
        };
        (reach.total.0 - least < self.notable.0).then_some(reach)
    }

    /// Whether any search so far ended without an answer.
    pub fn unsure(&self) -> bool {
        self.unsure.load(Ordering::Relaxed)
    }

    /// Whether what is reached as things stand is proved.
    pub fn proved(&self) -> bool {
        self.known.is_some()
    }

    /// What is reached as things stand; nothing where that is not known.
    pub fn today(&self) -> Reach {
        let known = self.known.as_ref();
        known.map(|known| known.reach).unwrap_or_default()
    }

    /// What is reached after a change, if that is better than today; else what is reached today. `None`
    /// where that is not known.
    pub fn reach(&self, changed: &Scenario) -> Option<Reach> {
        let today = self.known.as_ref()?.reach;
        Some(self.better(changed, &today)?.unwrap_or(today))
    }

    /// Whether a changed scenario reaches something better than today; `None` where that is not known.
    pub fn improves(&self, changed: &Scenario) -> Option<bool> {
        self.beats(changed, &self.known.as_ref()?.reach)
    }

    /// Whether a changed scenario may reach something better than today, as bounds alone say.
    pub fn may_improve(&self, changed: &Scenario) -> bool {
        if self.clock.over() {
            return true;
        }
        let instance = Instance::new(changed, None, &Ceiling::default());
        self.known.as_ref().is_none_or(|known| {
            let mut master = Master::changed(&instance, self.clock, Some(&known.today));
            !known
                .today
                .excludes(&mut master, &self.beat(&known.reach))
                .1
        })
    }

    /// Whether a changed scenario reaches something better than this; `None` where that is not known.
    pub fn beats(&self, changed: &Scenario, now: &Reach) -> Option<bool> {
        let beat = Beat {
            any: true,
            ..self.beat(now)
        };
        self.any(changed, beat)
    }

    fn beat(&self, now: &Reach) -> Beat {
        Beat {
            worth: now.worth.0,
            cost: (self.notable < WHATEVER).then(|| now.total.0 - self.notable.0 + 1),
            in_hand: None,
            no_more: false,
            any: false,
            near: Near {
                within: self.notable.0,
                from: (self.notable.0 > 1).then_some(now.total.0),
            },
            work: 0,
        }
    }

    fn better(&self, changed: &Scenario, now: &Reach) -> Option<Option<Reach>> {
        let reach = |_: &Instance, best: Solution| Reach::by(&best, &changed.prices);
        self.beating(changed, self.beat(now), reach)
    }

    /// What is made of the best plan that beats another, if any does; `None` where that is not known.
    fn beating<T>(
        &self,
        changed: &Scenario,
        beat: Beat,
        made: impl FnOnce(&Instance, Solution) -> T,
    ) -> Option<Option<T>> {
        let known = self.known.as_ref()?;
        let clock = self.clock;
        if clock.over() {
            self.unsure.store(true, Ordering::Relaxed);
            return None;
        }
        let instance = Instance::new(changed, None, &Ceiling::default());
        let mut master = Master::changed(&instance, clock, Some(&known.today));
        let (no_more, none) = known.today.excludes(&mut master, &beat);
        if none {
            return Some(None);
        }
        let beat = Beat {
            no_more,
            work: RELAXATIONS * master.sets().max(SETS),
            ..beat
        };
        master.start_with(&known.today.basis);
        let minimum = beating(master, beat);
        let known = match minimum.worth {
            None => !minimum.stopped,
            Some(_) if beat.any => minimum.best.is_some(),
            Some(_) => minimum.settled(&instance, beat.near),
        };
        let best = minimum.worth.and(minimum.best);
        if !known {
            // A plan that beats it is an answer, though there may be better ones.
            let best = best.filter(|best| {
                let cost = best.cost.total(&changed.prices);
                !beat.any && beat.beaten(best.worth, cost)
            });
            self.unsure.fetch_or(best.is_none(), Ordering::Relaxed);
            return best.map(|best| Some(made(&instance, best)));
        }
        Some(best.map(|best| made(&instance, best)))
    }

    /// Whether any plan beats another; `None` where that is not known.
    fn any(&self, changed: &Scenario, beat: Beat) -> Option<bool> {
        Some(self.beating(changed, beat, |_, _| ())?.is_some())
    }

    /// What is reached after a change that lets more worth be stocked, with a plan of it; `None` where that is not known,
    /// or it lets no more.
    pub fn plan(&self, changed: &Scenario) -> Option<(Reach, Plan)> {
        let beat = Beat {
            cost: None,
            ..self.beat(&self.today())
        };
        self.beating(changed, beat, |instance, best| {
            planned(changed, instance, best)
        })??
    }

    /// What is reached where something was taken away, with a plan of it; `None` where that is not known.
    pub fn less(&self, changed: &Scenario) -> Option<(Reach, Plan)> {
        let near = self.beat(&self.known.as_ref()?.reach).near;
        let instance = Instance::new(changed, None, &Ceiling::default());
        let master = Master::new(&instance, self.clock);
        let work = RELAXATIONS * master.sets().max(SETS);
        let known = !self.clock.over();
        let minimum = known.then(|| minimise_within(master, near, work));
        let minimum = minimum.filter(|minimum| minimum.settled(&instance, near));
        let found = minimum.and_then(|minimum| planned(changed, &instance, minimum.best?));
        self.unsure.fetch_or(found.is_none(), Ordering::Relaxed);
        found
    }

    /// Whether a change lets more worth be stocked; `None` where that is not known.
    pub fn more(&self, changed: &Scenario) -> Option<bool> {
        let worth = self.known.as_ref()?.reach.worth.0;
        self.any(changed, above(worth))
    }

    /// Whether a change lets so much worth be stocked; `None` where that is not known.
    pub fn at_least(&self, changed: &Scenario, worth: Worth) -> Option<bool> {
        self.any(changed, above(worth.0 - 1))
    }

    /// Greatest worth after a change, whatever it costs within the caps; `None` where that is not known.
    pub fn worth(&self, changed: &Scenario) -> Option<Worth> {
        if self.clock.over() {
            self.unsure.store(true, Ordering::Relaxed);
            return None;
        }
        let free = whatever_it_costs(changed);
        let instance = Instance::new(&free, None, &Ceiling::default());
        let minimum = minimise(&instance, self.clock);
        let worth = minimum.best.map_or(0, |best| best.worth);
        if minimum.stopped || minimum.worth.is_some_and(|most| most > worth) {
            self.unsure.store(true, Ordering::Relaxed);
            return None;
        }
        Some(Worth(worth))
    }
}

/// What a solution reaches, with its plan.
fn planned(scenario: &Scenario, instance: &Instance, best: Solution) -> Option<(Reach, Plan)> {
    let reach = Reach::by(&best, &scenario.prices);
    let totals = spare(scenario, instance, best.totals);
    Some((reach, allocate(scenario, instance, &totals, None)?))
}

/// Any plan of more worth than this.
fn above(worth: i64) -> Beat {
    Beat {
        worth,
        cost: None,
        in_hand: None,
        no_more: false,
        any: true,
        near: Near::EXACT,
        work: 0,
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
