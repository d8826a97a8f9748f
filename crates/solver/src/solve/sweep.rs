//! The search of one domain, among the options that can still matter.

use super::backend::Answer;
use super::bound::{Aim, Bound, Domain, Goal};
use super::choice::Choice;
use super::model::Decision;
use super::search::{Deadline, Open};
use super::tables::Tables;

/// With no more than this left in question a search takes less time than a bound for goal 3.
pub(super) const TINY: i64 = 60;

/// With no more than this left in question a search takes less time than a bound for goal 4.
pub(super) const SMALL: i64 = 150;

/// More than this left in question is not searched for goals 3 and 4, where it could take hours.
pub(super) const LARGE: i64 = 400;

/// Searches one domain, given its bound and what its values are not below, for a value below
/// `reached`; returns what it found, what the domain's
/// values are not below, and why the search is not complete.
///
/// A bound says how good a plan may be and, for each option, how much worse it must at least
/// become with it. So the search first looks only at the options that a plan at the bound can
/// use, and widens until the best it finds is no worse than what it has looked through.
pub(super) fn sweep(
    tables: &Tables,
    (domain, bound, mut least): (&Domain, &Bound, i64),
    goal: Goal,
    mut reached: Option<i64>,
    deadline: &Deadline,
) -> (Option<Choice>, i64, Option<Open>) {
    let granule = granule(tables, goal.aim);
    let mut best = None;
    let mut reach = if bound.is_blind() {
        i64::MAX / 4
    } else {
        least
    };
    let mut stride = granule.max(match goal.aim {
        Aim::Honey => 1000,
        Aim::Shaken => 20,
        Aim::Worth | Aim::Otherwise | Aim::Opened => 1,
    });
    loop {
        if reached.is_some_and(|value| value <= least) {
            return (best, least, None);
        }
        // Only what is better than the best known is of interest.
        let most = reached.map(|value| value - granule);
        let within = most.map_or(reach, |most| reach.min(most));
        let mut part = domain.clone();
        bound.narrow(tables, &mut part, within);
        let counts = matches!(goal.aim, Aim::Otherwise | Aim::Opened | Aim::Shaken);
        if counts && part.size() > LARGE {
            return (best, least, Some(Open::GaveUp));
        }
        let mut decision = Decision::new(tables, &part, goal);
        let held = counts && within < i64::MAX / 4;
        if held {
            decision.hold_down(within);
        }
        let answer = if part.is_empty() {
            Answer::Impossible
        } else {
            decision.model.solve(deadline.left())
        };
        match answer {
            Answer::Best(values) => {
                let Some(found) = decision.read(&values) else {
                    return (best, least, Some(Open::GaveUp));
                };
                let value = found.value(tables, goal.aim);
                if reached.is_none_or(|reached| value < reached) {
                    reached = Some(value);
                    best = Some(found);
                }
                least = round_up(within + 1, granule);
                if value <= within || part.size() == domain.size() {
                    return (best, value.min(reached.unwrap_or(value)), None);
                }
                // What was found may lie far above the bound, and all below it is much.
                reach = match goal.aim {
                    Aim::Honey => value.min(within.saturating_add(stride)),
                    _ => value,
                };
                stride = stride.saturating_mul(4);
            }
            Answer::Stopped(values) => {
                let found = decision.read(&values);
                let value = found.as_ref().map(|found| found.value(tables, goal.aim));
                if value.is_some_and(|value| reached.is_none_or(|reached| value < reached)) {
                    best = found;
                }
                return (best, least, Some(Open::TimedOut));
            }
            Answer::Empty => return (best, least, Some(Open::TimedOut)),
            Answer::Failed => return (best, least, Some(Open::GaveUp)),
            Answer::Impossible => {
                least = round_up(within.saturating_add(1), granule);
                if part.size() == domain.size() && !held {
                    return (best, i64::MAX, None);
                }
                reach = within.saturating_add(stride);
                stride = stride.saturating_mul(4);
            }
        }
    }
}

pub(super) fn round_up(value: i64, granule: i64) -> i64 {
    let over = value.rem_euclid(granule);
    if over == 0 {
        value
    } else {
        value.saturating_add(granule - over)
    }
}

/// What every value of an aim is a multiple of.
pub(super) fn granule(tables: &Tables, aim: Aim) -> i64 {
    if aim != Aim::Worth {
        return 1;
    }
    let worths = tables.kinds.iter().map(|kind| kind.worth * kind.step);
    worths.fold(0, gcd).max(1)
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
