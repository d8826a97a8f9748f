//! Good plans before all is searched: in large domains, and beside a known plan.

use super::backend::Answer;
use super::bound::{Aim, Bound, Domain, Goal};
use super::choice::Choice;
use super::model::Decision;
use super::regions::WHOLE;
use super::search::{Deadline, Region};
use super::sweep::{Budget, PIECE};
use super::tables::Tables;

/// What is looked for beside a known plan, with the same colonies opened and the same compartments.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Beside {
    /// Fewer bees shaken.
    Better,
    /// As good in all goals, with the least sum of places in the orders of preference, and then
    /// the fewest frames from colonies.
    Tidier,
}

/// Searches beside a known plan. `None` where nothing is found or too much is in question.
pub(super) fn beside(
    tables: &Tables,
    regions: &[Region],
    goal: Goal,
    known: &Choice,
    what: Beside,
    deadline: &Deadline,
) -> Option<Choice> {
    let shaken = known.value(tables, Aim::Shaken);
    regions.iter().find_map(|region| {
        let mut part = region.domain.clone();
        for (range, &count) in part.kinds.iter_mut().zip(&known.compartments) {
            if count < range.0 || count > range.1 {
                return None;
            }
            *range = (count, count);
        }
        for (donor, take) in known.takes.iter().enumerate() {
            match take {
                Some(_) => part.closed[donor] = false,
                None => part.options[donor].clear(),
            }
        }
        if part.size() > WHOLE {
            return None;
        }
        let mut decision = Decision::new(tables, &part, goal);
        decision.hold_down(shaken);
        if what == Beside::Tidier {
            decision.prefer();
        }
        let mut budget = Budget {
            deadline,
            trouble: Some(PIECE),
        };
        let (Answer::Best(values) | Answer::Stopped(values)) = budget.solve(&decision, 0.0) else {
            return None;
        };
        let found = decision.read(&values)?;
        found.no_worse(tables, known, goal).then_some(found)
    })
}

/// Rounds of a dive.
const ROUNDS: i64 = 2;

/// Looks for a good plan in a large domain: settles what a corner of the relaxation settles and
/// searches the rest.
pub(super) fn dive(
    tables: &Tables,
    domain: &Domain,
    bound: &Bound,
    goal: Goal,
    reached: Option<i64>,
    budget: &mut Budget,
) -> Option<Choice> {
    let mut reached = reached;
    let mut best = None;
    let gap = reached.map_or(0, |reached| reached.saturating_sub(bound.least()));
    let unit = match goal.aim {
        Aim::Opened => 1,
        Aim::Otherwise => (gap / 4).max(1),
        Aim::Worth | Aim::Honey | Aim::Shaken => gap / 4,
    };
    for round in 0..ROUNDS {
        let least = bound.least();
        if reached.is_some_and(|reached| reached <= least) {
            break;
        }
        let within = least.saturating_add(unit * round);
        let mut part = domain.clone();
        bound.narrow(
            tables,
            &mut part,
            reached.map_or(within, |value| within.min(value - 1)),
        );
        if part.is_empty() {
            continue;
        }
        let decision = Decision::new(tables, &part, goal);
        let Some(values) = decision.model.corner() else {
            continue;
        };
        // Each round leaves more donors free besides those that the corner leaves open.
        let wanted = 20 * usize::try_from(round).unwrap_or(0);
        let every = tables
            .donors
            .len()
            .checked_div(wanted)
            .map_or(usize::MAX, |n| n.max(1));
        let settled = decision.settle(&part, &values, &|donor| donor % every == every - 1);
        let decision = Decision::new(tables, &settled, goal);
        let answer = budget.solve(&decision, 0.0);
        if let Answer::Best(values) | Answer::Stopped(values) = answer {
            let Some(found) = decision.read(&values) else {
                continue;
            };
            let value = found.value(tables, goal.aim);
            if reached.is_none_or(|reached| value < reached) {
                reached = Some(value);
                best = Some(found);
            } else {
                break;
            }
        }
    }
    best
}
