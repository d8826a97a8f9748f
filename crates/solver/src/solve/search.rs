//! The four goals in turn.

use std::time::{Duration, Instant};

use super::assemble::trim;
use super::bound::{Aim, Bound, Domain, Goal};
use super::choice::Choice;
use super::early::{Beside, beside};
use super::options::{DrawOption, lean, list, unpriced};
use super::regions::pursue;
use super::tables::Tables;
use super::{SolveOptions, Until};

/// The result of all goals.
pub(super) struct Search {
    pub choice: Option<Choice>,
    /// The first goal that is not proved, its bound, and whether time ran out.
    pub open: Option<(u8, i64, bool)>,
}

pub(super) struct Deadline(Option<Instant>);

impl Deadline {
    /// One that never passes.
    pub fn none() -> Self {
        Self(None)
    }

    /// So long from now; never without a limit.
    pub fn new(limit: Option<Duration>) -> Self {
        Self(limit.and_then(|limit| Instant::now().checked_add(limit)))
    }

    pub fn left(&self) -> Option<Duration> {
        self.0
            .map(|end| end.saturating_duration_since(Instant::now()))
    }

    pub fn passed(&self) -> bool {
        self.left().is_some_and(|left| left.is_zero())
    }
}

/// Why a goal is not proved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Open {
    TimedOut,
    GaveUp,
}

/// A part of the decision: some ranges of compartments, and the options that still matter there.
#[derive(Clone)]
pub(super) struct Region {
    pub domain: Domain,
    /// Bounds of the goals that are settled, with the values settled on.
    pub passed: Vec<(Bound, i64)>,
}

/// Pursues the goals in their order, as far as they are asked for.
pub(super) fn search(tables: &Tables, options: &SolveOptions) -> Search {
    let deadline = Deadline::new(options.time_limit);
    let last = match options.until {
        Until::Worth => 1,
        Until::Honey => 2,
        Until::Shaken => 4,
    };
    let wanted = tables.wanted();
    let lists: Vec<_> = tables
        .donors
        .iter()
        .map(|donor| list(donor, &wanted))
        .collect();
    let mut open = None;
    let cut = lists.iter().any(|list| list.cut);
    let full: Vec<Vec<DrawOption>> = lists.into_iter().map(|list| list.options).collect();

    // Goals 1 to 3 do not look at the bees on the frames, so shorter lists do.
    let short: Vec<_> = full.iter().map(|options| lean(options)).collect();
    let first = match tables.honey_cap {
        Some(_) => short.clone(),
        None => full.iter().map(|options| unpriced(options)).collect(),
    };
    let mut regions = vec![Region {
        domain: domain(tables, first),
        passed: Vec::new(),
    }];
    let mut choice: Option<Choice> = None;
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
        if number > last {
            break;
        }
        if number > 1 && deadline.passed() {
            open.get_or_insert((number, 0, true));
            break;
        }
        goal.aim = aim;
        if aim == Aim::Honey {
            regions = vec![Region {
                domain: domain(tables, short.clone()),
                passed: Vec::new(),
            }];
        }
        if aim == Aim::Shaken {
            for region in &mut regions {
                let kinds = std::mem::take(&mut region.domain.kinds);
                region.domain = Domain {
                    kinds,
                    ..domain(tables, full.clone())
                };
                for (bound, value) in &region.passed {
                    bound.narrow(tables, &mut region.domain, *value);
                }
            }
        }
        // Earlier choices may hold frames that nobody needs, whose bees would count as riding.
        let known = match aim {
            Aim::Shaken => choice.as_ref().and_then(|choice| trim(tables, choice)),
            _ => choice.clone(),
        };
        let known = known.map(|known| match aim {
            Aim::Shaken if known.value(tables, aim) > 0 => {
                beside(tables, &regions, goal, &known, Beside::Better, &deadline).unwrap_or(known)
            }
            _ => known,
        });
        let step = pursue(tables, regions, goal, known, &deadline);
        let reason = step.open.or((cut && number == 1).then_some(Open::GaveUp));
        if let Some(reason) = reason {
            open.get_or_insert((number, step.least, reason == Open::TimedOut));
        }
        regions = step.regions;
        let Some(best) = step.choice else { break };
        let value = best.value(tables, aim);
        choice = Some(best);
        match aim {
            Aim::Worth if value == 0 => break,
            Aim::Worth => goal.worth = Some(-value),
            Aim::Honey => goal.honey = Some(value),
            Aim::Opened => goal.opened = Some(value),
            Aim::Shaken => {}
        }
    }
    if let (4, None, Some(known)) = (last, open, &choice) {
        goal.aim = Aim::Shaken;
        let tidier = beside(tables, &regions, goal, known, Beside::Tidier, &deadline);
        choice = tidier.or(choice);
    }
    let open = open
        .map(|(goal, bound, timed_out)| (goal, if goal == 1 { -bound } else { bound }, timed_out));
    Search { choice, open }
}

/// All that the options leave open.
pub(super) fn domain(tables: &Tables, options: Vec<Vec<DrawOption>>) -> Domain {
    Domain {
        closed: vec![true; options.len()],
        options,
        kinds: tables.kinds.iter().map(|kind| (0, kind.most)).collect(),
    }
}
