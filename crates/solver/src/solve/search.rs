//! The four goals in turn: a bound, the options that can still matter, a search among them.

use std::time::{Duration, Instant};

use super::backend::Answer;
use super::bound::{Aim, Bound, Domain, Goal};
use super::choice::Choice;
use super::model::Decision;
use super::options::{DrawOption, lean, list};
use super::tables::Tables;

/// The result of all goals.
pub(super) struct Search {
    pub choice: Option<Choice>,
    /// The first goal that is not proved, its bound, and whether time ran out.
    pub open: Option<(u8, i64, bool)>,
}

struct Deadline(Option<Instant>);

impl Deadline {
    fn left(&self) -> Option<Duration> {
        self.0
            .map(|end| end.saturating_duration_since(Instant::now()))
    }
}

/// Why a goal is not proved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Open {
    TimedOut,
    GaveUp,
}

/// What one goal came to.
struct Step {
    choice: Option<Choice>,
    bound: Bound,
    /// No plan has a lesser value.
    least: i64,
    open: Option<Open>,
}

/// Pursues the four goals in their order.
pub(super) fn search(tables: &Tables, limit: Option<Duration>) -> Search {
    let deadline = Deadline(limit.and_then(|limit| Instant::now().checked_add(limit)));
    let lists: Vec<_> = tables
        .donors
        .iter()
        .map(|donor| list(donor, tables.classes.len()))
        .collect();
    let mut open = None;
    let cut = lists.iter().any(|list| list.cut);
    let full: Vec<Vec<DrawOption>> = lists.into_iter().map(|list| list.options).collect();

    // Goals 1 to 3 do not look at the bees on the frames, so shorter lists do.
    let mut domain = domain(tables, full.iter().map(|options| lean(options)).collect());
    let mut choice: Option<Choice> = None;
    let mut passed: Vec<(Bound, i64)> = Vec::new();
    let mut goal = Goal {
        aim: Aim::Worth,
        worth: None,
        honey: tables.honey_cap,
        opened: None,
    };
    for (number, aim) in [
        (1, Aim::Worth),
        (2, Aim::Honey),
        (3, Aim::Opened),
        (4, Aim::Shaken),
    ] {
        goal.aim = aim;
        if aim == Aim::Shaken {
            domain = self::domain(tables, full.clone());
            for (bound, value) in &passed {
                bound.narrow(tables, &mut domain, *value);
            }
        }
        // Earlier choices may hold frames that nobody needs, whose bees would count as riding.
        let known = choice.as_ref().filter(|_| aim != Aim::Shaken);
        let step = pursue(tables, &domain, goal, known, &deadline);
        let reason = step.open.or((cut && number == 1).then_some(Open::GaveUp));
        if let Some(reason) = reason {
            open.get_or_insert((number, step.least, reason == Open::TimedOut));
        }
        let Some(best) = step.choice else { break };
        let value = best.value(tables, aim);
        match aim {
            Aim::Worth if value == 0 => {
                choice = Some(best);
                break;
            }
            Aim::Worth => goal.worth = Some(-value),
            Aim::Honey => goal.honey = Some(value),
            Aim::Opened => goal.opened = Some(value),
            Aim::Shaken => {}
        }
        if aim != Aim::Worth {
            step.bound.narrow(tables, &mut domain, value);
            passed.push((step.bound, value));
        }
        choice = Some(best);
    }
    let open = open
        .map(|(goal, bound, timed_out)| (goal, if goal == 1 { -bound } else { bound }, timed_out));
    Search { choice, open }
}

fn domain(tables: &Tables, options: Vec<Vec<DrawOption>>) -> Domain {
    Domain {
        closed: vec![true; options.len()],
        options,
        kinds: tables.kinds.iter().map(|kind| (0, kind.most)).collect(),
    }
}

/// Finds the least value of a goal over a domain.
///
/// A bound says how good a plan may be and, for each option, how much worse it must at least
/// become with it. So the search first looks only at the options that a plan at the bound can
/// use, and widens until the best it finds is no worse than what it has looked through.
fn pursue(
    tables: &Tables,
    domain: &Domain,
    goal: Goal,
    known: Option<&Choice>,
    deadline: &Deadline,
) -> Step {
    let prices = Decision::roomy(tables, domain, goal).prices(goal);
    let bound = Bound::new(tables, domain, goal, &prices);
    let granule = granule(tables, goal.aim);
    let up = |value: i64| {
        value.div_euclid(granule) * granule
            + if value.rem_euclid(granule) == 0 {
                0
            } else {
                granule
            }
    };
    let mut least = up(bound.least());
    let mut best = known.cloned();
    let mut reach = least;
    let mut stride = granule.max(match goal.aim {
        Aim::Honey => 1000,
        Aim::Shaken => 20,
        Aim::Worth | Aim::Opened => 1,
    });
    let open = loop {
        let reached = best.as_ref().map(|choice| choice.value(tables, goal.aim));
        if reached.is_some_and(|value| value <= least) {
            break None;
        }
        let reach_now = reached.map_or(reach, |value| reach.min(value));
        let mut part = domain.clone();
        bound.narrow(tables, &mut part, reach_now);
        let decision = Decision::new(tables, &part, goal);
        match decision.model.solve(deadline.left()) {
            Answer::Best(values) => {
                let Some(found) = decision.read(&values) else {
                    break Some(Open::GaveUp);
                };
                let value = found.value(tables, goal.aim);
                if reached.is_none_or(|reached| value <= reached) {
                    best = Some(found);
                }
                if value <= reach_now || part.size() == domain.size() {
                    break None;
                }
                if reached == Some(reach_now) {
                    // The known plan lies in this part, so the engine is wrong.
                    break Some(Open::GaveUp);
                }
                if reached.is_some_and(|reached| value >= reached) {
                    reach = reach.saturating_add(stride);
                } else {
                    reach = value;
                }
            }
            Answer::Stopped(values) => {
                let found = decision.read(&values);
                let value = found.as_ref().map(|found| found.value(tables, goal.aim));
                if value.is_some_and(|value| reached.is_none_or(|reached| value < reached)) {
                    best = found;
                }
                break Some(Open::TimedOut);
            }
            Answer::Empty => break Some(Open::TimedOut),
            Answer::Impossible if reached.is_some_and(|value| reach_now >= value) => {
                // The known plan lies in this part, so the engine is wrong.
                break Some(Open::GaveUp);
            }
            Answer::Impossible => {
                if goal.aim == Aim::Worth && reach_now >= 0 {
                    break Some(Open::GaveUp);
                }
                least = up(reach_now.saturating_add(1));
                reach = reach_now.saturating_add(stride);
                stride = stride.saturating_mul(4);
            }
            Answer::Failed => break Some(Open::GaveUp),
        }
    };
    if open.is_none() {
        least = best
            .as_ref()
            .map_or(least, |choice| choice.value(tables, goal.aim));
    }
    Step {
        choice: best,
        bound,
        least,
        open,
    }
}

/// What every value of an aim is a multiple of.
fn granule(tables: &Tables, aim: Aim) -> i64 {
    if aim != Aim::Worth {
        return 1;
    }
    let worths = tables.kinds.iter().map(|kind| kind.worth * kind.step);
    worths.fold(0, gcd).max(1)
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
