//! Most worth over an instance, with the least cost for it: which worth to ask for next.

use super::cheapest::{MOST_WORK, cheapest};
use super::engine::{Limits, Model, Near, Objective, Simplex, branch_and_bound, whole};
use super::greedy::greedy;
use super::instance::Instance;
use super::master::{Clock, Master, Solution, Tag};
use super::{Goal, Proof};
use crate::plan::Cost;
use crate::units::{Grams, Worth};

/// Worths asked for one by one (a choice: mostly few are, and each takes a few relaxations).
const ONE_BY_ONE: u32 = 12;
/// Any plan of so much worth may take so small a part of the work (a choice).
const FIRST: usize = 10;

/// Where a search ended.
pub(crate) struct Minimum {
    /// The best found; `None` where nothing meets the wishes, or nothing was found in time.
    pub best: Option<Solution>,
    /// No plan is worth more, in thousandths; `None` where no plan exists at all.
    pub worth: Option<i64>,
    /// No plan of the best's worth costs less, in grams with what is done.
    pub cost: i64,
    /// It was stopped.
    pub stopped: bool,
}

impl Minimum {
    /// Whether no plan is worth more than the best, and its cost is near enough to the least of such worth.
    pub fn settled(&self, instance: &Instance, near: Near) -> bool {
        let best = self.best.as_ref();
        best.is_some_and(|best| {
            let cost = best.cost.total(&instance.prices).0;
            Some(best.worth) == self.worth && near.below(cost) <= self.cost
        })
    }

    /// What is proved of the best.
    pub fn proof(&self, instance: &Instance) -> Proof {
        let (worth, cost) = self.best.as_ref().map_or((0, i64::MAX), |best| {
            (best.worth, best.cost.total(&instance.prices).0)
        });
        let most = self.worth.unwrap_or(0);
        let open = |goal, bound| Proof::Open {
            goal,
            bound,
            timed_out: self.stopped,
        };
        if worth < most {
            open(Goal::Worth, most)
        } else if self.cost < cost {
            open(Goal::Cost, self.cost)
        } else {
            Proof::Best
        }
    }
}

/// What a plan has to beat to be of interest.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Beat {
    /// Thousandths: it is worth more,
    pub worth: i64,
    /// or as much and costs less than this, in grams with what is done; `None`: more worth alone counts.
    pub cost: Option<i64>,
    /// A plan of so much worth is in hand, thousandths: none that is worth less is looked for.
    pub in_hand: Option<i64>,
    /// No plan is worth more: so much is known.
    pub no_more: bool,
    /// Any such plan will do.
    pub any: bool,
    /// How near to the least a cost will do.
    pub near: Near,
    /// Work that each search may take.
    pub work: usize,
}

impl Beat {
    fn nothing() -> Self {
        Self {
            worth: -1,
            cost: Some(i64::MAX),
            in_hand: None,
            no_more: false,
            any: false,
            near: Near::EXACT,
            work: MOST_WORK,
        }
    }

    /// Whether a plan of this worth and cost beats it.
    pub fn beaten(&self, worth: i64, cost: Grams) -> bool {
        worth > self.worth || worth == self.worth && self.cost.is_some_and(|most| cost.0 < most)
    }

    fn limits(&self, below: i64, first: bool) -> Limits {
        Limits {
            below,
            near: self.near,
            work: self.work,
            first,
        }
    }
}

/// Finds the best of an instance. Worth is asked for from the greatest that the relaxation allows
/// downwards, and the search for a plan of it is the search for the least cost; see [`Range`] where that takes
/// long.
pub(crate) fn minimise(instance: &Instance, clock: Clock) -> Minimum {
    minimise_within(Master::new(instance, clock), Near::EXACT, MOST_WORK)
}

/// The same, where a cost will do that is near enough to the least, and each search may take so much work.
pub(crate) fn minimise_within(master: Master, near: Near, work: usize) -> Minimum {
    let (instance, clock) = (master.instance, master.clock);
    let in_hand = match clock.called_off() {
        true => None,
        false => greedy(&master),
    };
    let total = |s: &Solution| s.cost.total(&instance.prices).0;
    let in_hand = in_hand.filter(|own| instance.below.is_none_or(|below| total(own) < below));
    let beat = Beat {
        in_hand: in_hand.as_ref().map(|own| own.worth),
        near,
        work,
        ..Beat::nothing()
    };
    let mut minimum = beating(master, beat);
    let price = |s: &Solution| (-s.worth, total(s));
    let found = minimum.best.as_ref().map(price);
    let better = |own: &Solution| found.is_none_or(|found| price(own) < found);
    minimum.best = in_hand.filter(better).or(minimum.best);
    minimum
}

/// The same of plans that beat another; where there is none, no worth is named.
pub(crate) fn beating(mut master: Master, beat: Beat) -> Minimum {
    let instance = master.instance;
    let mut simplex = master.simplex();
    let least = beat.worth.div_euclid(master.unit);
    let done = instance.base.total(&instance.prices).0;
    let beat = Beat {
        near: beat.near.less(done),
        ..beat
    };
    let mut minimum = Minimum {
        best: None,
        worth: None,
        cost: done,
        stopped: false,
    };
    let most = match beat.no_more {
        true => Some(least),
        false => most_worth(&master, &mut simplex),
    };
    let Some(top) = most else { return minimum };
    if beat.any {
        let equal = beat.cost.map(|cost| (least, cost - done));
        for (ask, below) in std::iter::once((least + 1, i64::MAX)).chain(equal) {
            if ask > top {
                continue;
            }
            master.ask(ask);
            simplex.rows_changed(&master);
            let limits = beat.limits(below, true);
            let found = branch_and_bound(&mut master, &mut simplex, limits);
            if found.best.is_some() || found.bound < i64::MAX {
                minimum.stopped = found.best.is_none();
                minimum.worth = Some(ask * master.unit);
                minimum.best = found.best.map(|(_, solution)| solution);
                return minimum;
            }
        }
        return minimum;
    }
    let in_hand = beat.in_hand.map(|worth| worth / master.unit);
    let mut range = Range {
        high: top,
        low: (beat.worth >= 0).then_some(least).or(in_hand),
        asked: 0,
    };
    let every = instance.below.map_or(i64::MAX, |below| below - done);
    // The greatest worth that is neither reached nor excluded.
    let mut open = None;
    let lowest = least + i64::from(beat.cost.is_none());
    let lowest = lowest.max(in_hand.unwrap_or(0));
    while range.high >= lowest.max(0) {
        master
            .clock
            .tell(|now| now.no_more(Worth(open.unwrap_or(range.high) * master.unit)));
        let (ask, best) = range.next(open.is_some());
        master.ask(ask);
        simplex.rows_changed(&master);
        let found = if best {
            let as_much = ask * master.unit <= beat.worth;
            let below = beat.cost.filter(|_| as_much).map(|cost| cost - done);
            let below = below.unwrap_or(i64::MAX).min(every);
            cheapest(&mut master, &mut simplex, beat.limits(below, false))
        } else {
            let limits = Limits {
                work: beat.work / FIRST,
                ..beat.limits(every, true)
            };
            branch_and_bound(&mut master, &mut simplex, limits)
        };
        minimum.stopped = master.stop();
        match found.best {
            Some((_, solution)) if best => {
                minimum.worth = Some(open.unwrap_or(ask) * master.unit);
                minimum.cost = found.bound.saturating_add(done).max(0);
                minimum.best = Some(solution);
                return minimum;
            }
            Some((_, solution)) => range.low = Some(solution.worth / master.unit),
            None if found.bound == i64::MAX => range.high = ask - 1,
            None => {
                open = open.or(Some(range.high));
                if minimum.stopped || best && range.low == Some(ask) {
                    break;
                }
                range.high = ask - 1;
            }
        }
    }
    minimum.worth = open.map(|open| open * master.unit);
    minimum.best = master.aside.take();
    minimum
}

/// The greatest worth that the relaxation allows, in units of the worth row; `None` where it allows no plan at all.
fn most_worth(master: &Master, simplex: &mut Simplex<Tag>) -> Option<i64> {
    simplex.take_up(master, Objective::Worth);
    simplex.search(master, i128::MAX);
    match simplex.bound {
        i128::MAX => None,
        i128::MIN => Some(all_worth(master)),
        bound => Some(-whole(bound)),
    }
}

/// Worth that may be the greatest, in units of the worth row.
struct Range {
    /// No plan is worth more, or none is looked for.
    high: i64,
    /// A plan is worth so much.
    low: Option<i64>,
    asked: u32,
}

impl Range {
    /// The worth to ask for next, and whether for the best plan of it rather than any. At first the best, from
    /// the top down; where that takes too long, any, in steps that double and then halve what is left.
    fn next(&mut self, any: bool) -> (i64, bool) {
        if any {
            self.asked = self.asked.max(ONE_BY_ONE);
        }
        self.asked += 1;
        let steps = self.asked.saturating_sub(ONE_BY_ONE);
        match self.low {
            _ if steps == 0 => (self.high, true),
            Some(low) if low >= self.high => (self.high, true),
            Some(low) => (low + (self.high - low + 1) / 2, false),
            None => {
                let jump = 1_i64 << steps.min(40);
                ((self.high - jump).max(0), self.high == 0)
            }
        }
    }
}

/// A plan of as much worth as another and no more cost, if one is found within so many relaxations.
pub(crate) fn as_good(
    instance: &Instance,
    best: &Solution,
    relaxations: usize,
    clock: Clock,
) -> Option<Solution> {
    let mut master = Master::new(instance, clock);
    master.ask(best.worth / master.unit);
    let mut simplex = Simplex::new(&master);
    let cost = |cost: &Cost| cost.total(&instance.prices).0;
    let limits = Limits {
        below: cost(&best.cost) - cost(&instance.base) + 1,
        near: Near::EXACT,
        work: relaxations * master.sets(),
        first: false,
    };
    let (_, found) = branch_and_bound(&mut master, &mut simplex, limits).best?;
    (cost(&found.cost) <= cost(&best.cost)).then_some(found)
}

/// All worth there is, in units of the worth row.
fn all_worth(master: &Master) -> i64 {
    let kinds = master.instance.kinds.iter();
    kinds.map(|kind| kind.worth / master.unit * kind.most).sum()
}
