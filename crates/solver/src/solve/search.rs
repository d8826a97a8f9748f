//! The four goals in turn.

use std::time::{Duration, Instant};

use super::assemble::trim;
use super::bound::{Aim, Bound, Domain, Goal};
use super::choice::Choice;
use super::early::{Beside, beside};
use super::near::Then;
use super::options::{DrawOption, OptionList, lean, list, list_near, unpriced};
use super::regions::pursue;
use super::sweep::{Budget, TROUBLE};
use super::tables::{Donor, Tables};
use super::{SolveOptions, Until};

/// The number of the goal that counts frames drawn otherwise than in an earlier plan. It is pursued
/// between goals 2 and 3, which keep their numbers.
pub(super) const OTHERWISE: u8 = 5;

/// The result of all goals.
pub(super) struct Search {
    pub choice: Option<Choice>,
    /// The first goal that is not proved, its bound, and whether time ran out.
    pub open: Option<(u8, i64, bool)>,
}

pub(super) struct Deadline(Option<Instant>);

impl Deadline {
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

/// The goals in their order, each with its number: frames drawn otherwise, where there is an
/// earlier plan, come after honey.
fn goals(until: Until, near: bool) -> Vec<(u8, Aim)> {
    let mut goals = vec![(1, Aim::Worth)];
    if until >= Until::Honey {
        goals.push((2, Aim::Honey));
    }
    if until == Until::Shaken {
        if near {
            goals.push((OTHERWISE, Aim::Otherwise));
        }
        goals.extend([(3, Aim::Opened), (4, Aim::Shaken)]);
    }
    goals
}

/// Lists of options of all donors, and whether one of them was cut.
fn lists(tables: &Tables, list: fn(&Donor, &[i64]) -> OptionList) -> (Vec<Vec<DrawOption>>, bool) {
    let wanted = tables.wanted();
    let lists = tables.donors.iter().map(|donor| list(donor, &wanted));
    let lists: Vec<OptionList> = lists.collect();
    let cut = lists.iter().any(|list| list.cut);
    (lists.into_iter().map(|list| list.options).collect(), cut)
}

/// Pursues the goals in their order, as far as they are asked for.
pub(super) fn search(tables: &Tables, options: &SolveOptions) -> Search {
    search_near(tables, None, options)
}

/// The same, near to an earlier plan where there is one.
pub(super) fn search_near(tables: &Tables, then: Option<&Then>, options: &SolveOptions) -> Search {
    let deadline = Deadline::new(options.time_limit);
    let mut open = None;
    let (mut full, cut) = lists(tables, list);
    // The first goal whose lists of options are not complete.
    let mut cut = cut.then_some(1);

    // Goals 1 to 3 do not look at the bees on the frames, so shorter lists do.
    let short: Vec<_> = full.iter().map(|list| shorter(tables, list)).collect();
    let first = full.iter().map(|list| shortest(tables, list)).collect();
    let mut regions = vec![Region {
        domain: domain(tables, first),
        passed: Vec::new(),
    }];
    let mut choice: Option<Choice> = None;
    let mut goal = Goal {
        aim: Aim::Worth,
        worth: None,
        honey: tables.honey_cap,
        otherwise: None,
        opened: None,
    };
    for (number, aim) in goals(options.until, then.is_some()) {
        if number > 1 && deadline.passed() {
            open.get_or_insert((number, 0, true));
            break;
        }
        let exact = goal.exact(tables);
        goal.aim = aim;
        if aim == Aim::Honey {
            regions = vec![Region {
                domain: domain(tables, short.clone()),
                passed: Vec::new(),
            }];
        }
        if aim == Aim::Otherwise {
            let (near, cut_here) = lists(tables, list_near);
            full = near;
            cut = cut.or(cut_here.then_some(number));
        }
        let turns_exact = goal.exact(tables) && !exact;
        // With wishes it is exact from the first goal on, but options told apart are new here.
        if turns_exact || aim == Aim::Otherwise {
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
        let known = match turns_exact {
            true => choice.as_ref().and_then(|choice| trim(tables, choice)),
            false => choice.clone(),
        };
        let known = match (aim, then, &choice) {
            (Aim::Otherwise, Some(then), Some(best)) => then.as_good(tables, best).or(known),
            _ => known,
        };
        let known = known.map(|known| match aim {
            Aim::Shaken if known.value(tables, aim) > 0 => {
                beside(tables, &regions, goal, &known, Beside::Better, &deadline).unwrap_or(known)
            }
            _ => known,
        });
        // Goals 1 and 2 are proved whatever it takes.
        let trouble = match aim {
            Aim::Worth | Aim::Honey => None,
            Aim::Otherwise | Aim::Opened | Aim::Shaken => Some(TROUBLE),
        };
        let budget = Budget {
            deadline: &deadline,
            trouble,
        };
        let step = pursue(tables, regions, goal, known, budget);
        let reason = step.open.or((cut == Some(number)).then_some(Open::GaveUp));
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
            Aim::Otherwise => goal.otherwise = Some(value),
            Aim::Opened => goal.opened = Some(value),
            Aim::Shaken => {}
        }
    }
    if let (Until::Shaken, None, Some(known)) = (options.until, open, &choice) {
        goal.aim = Aim::Shaken;
        let tidier = beside(tables, &regions, goal, known, Beside::Tidier, &deadline);
        choice = tidier.or(choice);
    }
    let open = open
        .map(|(goal, bound, timed_out)| (goal, if goal == 1 { -bound } else { bound }, timed_out));
    Search { choice, open }
}

/// All that the options leave open.
/// The list of options as goals 1 to 3 need it. With wishes that is the whole: frames for which
/// there is no need do not stand for fewer.
pub(super) fn shorter(tables: &Tables, options: &[DrawOption]) -> Vec<DrawOption> {
    match tables.wishes {
        true => options.to_vec(),
        false => lean(options),
    }
}

/// The list of options as goal 1 needs it.
pub(super) fn shortest(tables: &Tables, options: &[DrawOption]) -> Vec<DrawOption> {
    match tables.wishes || tables.honey_cap.is_some() {
        true => shorter(tables, options),
        false => unpriced(options),
    }
}

pub(super) fn domain(tables: &Tables, options: Vec<Vec<DrawOption>>) -> Domain {
    Domain {
        closed: tables.donors.iter().map(|donor| !donor.wished()).collect(),
        options,
        kinds: tables.kinds.iter().map(|k| (k.least, k.most)).collect(),
    }
}
