//! The search of one domain, among the options that can still matter.

use super::backend::{Answer, Effort};
use super::bound::{Aim, Bound, Domain, Goal};
use super::choice::Choice;
use super::model::Decision;
use super::search::{Deadline, Open};
use super::tables::Tables;

/// A share of its cost that no plan is above another.
const ANY: f64 = 1e9;

/// With no more than this left in question a search takes less time than a bound for goal 3.
pub(super) const TINY: i64 = 60;

/// With no more than this left in question a search takes less time than a bound for goal 4.
pub(super) const SMALL: i64 = 150;

/// More than this left in question is not searched for goals 3 and 4, where it could take hours.
pub(super) const LARGE: i64 = 400;

/// Most trouble that the searches for one of the goals after honey may take together, before the goal
/// is left unproved: some seconds. Most need a hundredth of it.
pub(super) const TROUBLE: u64 = 16_000_000;

/// Trouble that one such search may take before its domain is halved instead: halves are often
/// settled with less than the whole.
pub(super) const PIECE: u64 = TROUBLE / 10;

/// What the searches for one goal may still take.
///
/// Trouble is counted in nodes of branch and bound times columns of the model, which unlike time
/// is the same on every machine.
pub(super) struct Budget<'a> {
    pub deadline: &'a Deadline,
    /// Trouble left; no end of it where `None`.
    pub trouble: Option<u64>,
}

impl Budget<'_> {
    /// Solves with no more than a piece of what is left.
    pub fn solve(&mut self, decision: &Decision, gap: f64) -> Answer {
        self.solve_within(decision, gap, PIECE)
    }

    fn solve_within(&mut self, decision: &Decision, gap: f64, most: u64) -> Answer {
        let columns = decision.model.columns().max(1) as u64;
        let most = self.trouble.map_or(most, |left| left.min(most));
        let effort = Effort {
            time: self.deadline.left(),
            nodes: Some(most.div_ceil(columns)),
            gap,
        };
        let (answer, nodes) = decision.model.solve_within(effort);
        let trouble = nodes.saturating_mul(columns);
        self.trouble = self.trouble.map(|left| left.saturating_sub(trouble));
        answer
    }

    /// The same; where there is no end of trouble, with ever more of it until the answer is complete,
    /// or what the search was stopped with is `enough`.
    fn insist(&mut self, decision: &Decision, gap: f64, enough: impl Fn(&[f64]) -> bool) -> Answer {
        let mut piece = PIECE;
        loop {
            match self.solve_within(decision, gap, piece) {
                Answer::Stopped(values) if enough(&values) => return Answer::Stopped(values),
                Answer::Stopped(_) | Answer::Empty
                    if self.trouble.is_none() && !self.deadline.passed() =>
                {
                    piece = piece.saturating_mul(4);
                }
                answer => return answer,
            }
        }
    }

    /// Whether nothing is left.
    pub fn spent(&self) -> bool {
        self.trouble == Some(0)
    }

    /// Why a search was stopped.
    fn stopped(&self) -> Open {
        match self.deadline.passed() {
            true => Open::TimedOut,
            false => Open::GaveUp,
        }
    }
}

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
    budget: &mut Budget,
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
        // Values that are counts differ by 1 at least, and with nothing between the bound and what is
        // looked for, whatever is found is the best.
        let gap = match (goal.aim, within) {
            (Aim::Opened | Aim::Otherwise, _) if held && within <= least => ANY,
            (Aim::Opened | Aim::Otherwise, 1..) if held => 0.99 / within as f64,
            _ => 0.0,
        };
        let answer = if part.is_empty() {
            Answer::Impossible
        } else {
            budget.insist(&decision, gap, |values| {
                let found = decision.read(values);
                found.is_some_and(|found| found.value(tables, goal.aim) <= least)
            })
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
                // What a search was stopped with can be as good as the bound.
                let open = value.is_none_or(|value| value > least);
                return (best, least, open.then(|| budget.stopped()));
            }
            Answer::Empty => return (best, least, Some(budget.stopped())),
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
