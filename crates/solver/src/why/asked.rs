//! Changes of a scenario and what they reach, each asked of the solver once at most.

use std::collections::BTreeMap;
use std::sync::{Mutex, MutexGuard, PoisonError};

use super::limit::{Change, Limit, changed};
use super::yard::Yard;
use super::{Best, Offer, Refused, WhyOptions};
use crate::plan::Plan;
use crate::scenario::Scenario;
use crate::solve::{Again, Clock, Outcome, Reach};

/// A scenario, its limits, and all that is known of its changes.
pub(super) struct Asked<'a> {
    pub yard: Yard<'a>,
    pub again: Again<'a>,
    pub options: &'a WhyOptions<'a>,
    known: Mutex<Known>,
}

/// Changes are in the order of their limits.
#[derive(Default)]
struct Known {
    reached: BTreeMap<Vec<Change>, Reach>,
    /// These reach what is reached today.
    idle: Vec<Vec<Change>>,
    /// These let no more worth be stocked.
    fail: Vec<Vec<Change>>,
    /// These do.
    help: Vec<Vec<Change>>,
}

impl<'a> Asked<'a> {
    pub fn new(scenario: &'a Scenario, found: &Outcome, options: &'a WhyOptions<'a>) -> Self {
        let clock = Clock {
            cancel: options.cancel,
            ..Clock::of(options.time_limit)
        };
        Self {
            yard: Yard::new(scenario),
            again: Again::new(scenario, found, clock, options.notable),
            options,
            known: Mutex::default(),
        }
    }

    /// What is reached with some limits lifted; `None` where that is not known.
    pub fn without(&self, limits: impl IntoIterator<Item = Limit>) -> Option<Reach> {
        self.reach(&self.yard.lift(limits))
    }

    /// What is reached after changes; `None` where that is not known.
    pub fn reach(&self, changes: &[Change]) -> Option<Reach> {
        let key = in_order(changes);
        if let Some(reach) = self.reach_known(&key) {
            return Some(reach);
        }
        let reach = self.again.reach(&changed(self.yard.scenario, changes))?;
        let today = self.again.today();
        let mut known = self.known();
        if reach.beats(&today) {
            known.reached.insert(key, reach);
        } else {
            known.idle.push(key);
        }
        Some(reach)
    }

    fn reach_known(&self, key: &[Change]) -> Option<Reach> {
        let known = self.known();
        // What is less than something that changes nothing changes nothing.
        if known.idle.iter().any(|idle| within(key, idle)) {
            return Some(self.again.today());
        }
        known.reached.get(key).copied()
    }

    /// Whether something better may be reached with some limits lifted, as bounds alone say.
    pub fn may_improve(&self, limits: impl IntoIterator<Item = Limit>) -> bool {
        let key = in_order(&self.yard.lift(limits));
        let may = self.again.may_improve(&changed(self.yard.scenario, &key));
        if !may {
            self.known().idle.push(key);
        }
        may
    }

    /// Whether something better is reached with some limits lifted; `None` where that is not known.
    pub fn improves(&self, limits: impl IntoIterator<Item = Limit>) -> Option<bool> {
        let key = in_order(&self.yard.lift(limits));
        if let Some(reach) = self.reach_known(&key) {
            return Some(reach.beats(&self.again.today()));
        }
        let better = self.again.improves(&changed(self.yard.scenario, &key))?;
        if !better {
            self.known().idle.push(key);
        }
        Some(better)
    }

    /// Whether changes let more worth be stocked; `None` where that is not known.
    pub fn more(&self, changes: &[Change]) -> Option<bool> {
        let key = in_order(changes);
        if let Some(more) = self.more_known(&key) {
            return Some(more);
        }
        let more = self.again.more(&changed(self.yard.scenario, changes))?;
        let mut known = self.known();
        match more {
            true => known.help.push(key),
            false => known.fail.push(key),
        }
        Some(more)
    }

    fn more_known(&self, key: &[Change]) -> Option<bool> {
        let today = self.again.today().worth;
        let known = self.known();
        if let Some(reach) = known.reached.get(key) {
            return Some(reach.worth > today);
        }
        let mut none = known.fail.iter().chain(&known.idle);
        if none.any(|more| within(key, more)) {
            return Some(false);
        }
        let some = known.help.iter().any(|less| within(less, key));
        some.then_some(true)
    }

    fn known(&self) -> MutexGuard<'_, Known> {
        self.known.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// A plan after changes, if one is known; `fewest` where no fewer changes do it.
    pub fn offer(&self, changes: Vec<Change>, fewest: bool) -> Result<Option<Offer>, Refused> {
        let changed = changed(self.yard.scenario, &changes);
        let Some((reach, plan)) = self.again.plan(&changed) else {
            return Ok(None);
        };
        let best = self.agreed(&changed, reach, &plan)?;
        Ok(Some(Offer {
            changes,
            fewest,
            best,
            plan,
        }))
    }

    /// What a plan reaches, as the check counts it.
    pub fn agreed(&self, scenario: &Scenario, reach: Reach, plan: &Plan) -> Result<Best, Refused> {
        let (goals, breaches) = crate::check(scenario, plan);
        let planned = Reach::of(&goals, &scenario.prices);
        // Bees that ride at no cost may change what makes it.
        match breaches.is_empty() && !reach.beats(&planned) {
            true => Ok(Best::from(planned)),
            false => Err(Refused),
        }
    }
}

/// One change for each limit, in the order of the limits.
fn in_order(changes: &[Change]) -> Vec<Change> {
    let mut changes = changes.to_vec();
    changes.sort_unstable();
    changes
}

/// Whether all that some changes loosen others loosen as far; both in order.
fn within(some: &[Change], others: &[Change]) -> bool {
    let mut rest = others.iter();
    some.iter().all(|change| {
        let same = rest.find(|other| other.limit >= change.limit);
        same.is_some_and(|other| other.limit == change.limit && other.by >= change.by)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scenario::{BoxId, ColonyId};

    #[test]
    fn changes_lie_within_others_that_loosen_as_much() {
        let of = |limit, by| Change { limit, by };
        let (cells, boxes) = (Limit::Cells, Limit::Boxes(BoxId(0)));
        let hold = Limit::Hold(ColonyId(0));
        let all = in_order(&[of(hold, 1), of(boxes, 3), of(cells, 2)]);
        assert!(within(&[], &[]) && within(&[], &all) && within(&all, &all));
        assert!(within(&[of(boxes, 2)], &all));
        assert!(within(&in_order(&[of(hold, 1), of(cells, 2)]), &all));
        assert!(!within(&[of(boxes, 4)], &all));
        assert!(!within(&[of(Limit::HoneyCap, 1)], &all));
        assert!(!within(&all, &all[..2]));
    }
}
