//! The four goals in turn: a bound, the options that can still matter, a search among them.

use std::time::{Duration, Instant};

use super::assemble::trim;
use super::backend::Answer;
use super::bound::{Aim, Bound, Domain, Goal, RowPrices};
use super::choice::Choice;
use super::model::Decision;
use super::options::{DrawOption, lean, list, unpriced};
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

/// A part of the decision: some ranges of compartments, and the options that still matter there.
#[derive(Clone)]
struct Region {
    domain: Domain,
    /// Bounds of the goals that are settled, with the values settled on.
    passed: Vec<(Bound, i64)>,
}

/// What one goal came to.
struct Step {
    choice: Option<Choice>,
    /// Where all plans of the best value lie.
    regions: Vec<Region>,
    /// No plan has a lesser value.
    least: i64,
    open: Option<Open>,
}

/// Most options and closed colonies looked at while dividing, over all regions of one goal.
const MOST_WORK: i64 = 6_000;

/// With no more than this left in question a search takes less time than a bound for goal 3.
const TINY: i64 = 60;

/// With no more than this left in question a search takes less time than a bound for goal 4.
const SMALL: i64 = 150;

/// A region with more left in question than this is not divided at a donor: too few of its
/// parts could be looked at to prove anything.
const VAST: i64 = 2500;

/// A region with no more left in question than this is searched whole.
const WHOLE: i64 = 400;

/// Pursues the four goals in their order.
pub(super) fn search(tables: &Tables, limit: Option<Duration>) -> Search {
    let deadline = Deadline(limit.and_then(|limit| Instant::now().checked_add(limit)));
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
    if let (None, Some(known)) = (open, &choice) {
        goal.aim = Aim::Shaken;
        let tidier = beside(tables, &regions, goal, known, Beside::Tidier, &deadline);
        choice = tidier.or(choice);
    }
    let open = open
        .map(|(goal, bound, timed_out)| (goal, if goal == 1 { -bound } else { bound }, timed_out));
    Search { choice, open }
}

/// What is looked for beside a known plan, with the same colonies opened and the same compartments.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Beside {
    /// Fewer bees shaken.
    Better,
    /// As good in all goals, with the least sum of places in the orders of preference, and then
    /// the fewest frames from colonies.
    Tidier,
}

/// Searches beside a known plan. `None` where nothing is found or too much is in question.
fn beside(
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
        let Answer::Best(values) = decision.model.solve(deadline.left()) else {
            return None;
        };
        let found = decision.read(&values)?;
        let no_worse = [Aim::Worth, Aim::Honey, Aim::Opened, Aim::Shaken]
            .iter()
            .all(|&aim| found.value(tables, aim) <= known.value(tables, aim));
        no_worse.then_some(found)
    })
}

fn domain(tables: &Tables, options: Vec<Vec<DrawOption>>) -> Domain {
    Domain {
        closed: vec![true; options.len()],
        options,
        kinds: tables.kinds.iter().map(|kind| (0, kind.most)).collect(),
    }
}

/// Where a region is divided.
#[derive(Debug, Clone, Copy)]
enum Split {
    /// A kind of box: up to so many compartments, or more.
    Kind(usize, i64),
    /// A donor: closed or opened.
    Donor(usize),
    /// A donor that is opened: one half of its options or the other.
    Options(usize),
}

impl Split {
    fn parts(self, domain: &Domain) -> [Domain; 2] {
        let mut parts = [domain.clone(), domain.clone()];
        match self {
            Self::Kind(kind, below) => {
                parts[0].kinds[kind].1 = below;
                parts[1].kinds[kind].0 = below + 1;
            }
            Self::Donor(donor) => {
                parts[0].options[donor].clear();
                parts[1].closed[donor] = false;
            }
            Self::Options(donor) => {
                let half = domain.options[donor].len() / 2;
                parts[0].options[donor].truncate(half);
                parts[1].options[donor].drain(..half);
            }
        }
        parts
    }
}

/// Finds the least value of a goal over some regions.
///
/// Where the relaxation stocks a fraction of a compartment, the region is divided there, since
/// bounds are much closer once the compartments of each kind are known. Regions are looked at
/// in the order of their bounds.
fn pursue(
    tables: &Tables,
    regions: Vec<Region>,
    goal: Goal,
    known: Option<Choice>,
    deadline: &Deadline,
) -> Step {
    let mut open = None;
    let mut best = known;
    // Region, its bound, what its values are not below, and where it may be divided.
    let mut waiting: Vec<(Region, Bound, i64, Option<Split>)> = Vec::new();
    // Whatever the prices are: of all but worth there is no less than none.
    let floor = match goal.aim {
        Aim::Worth => i64::MIN,
        Aim::Honey | Aim::Opened | Aim::Shaken => 0,
    };
    let up = |value: i64| round_up(value, granule(tables, goal.aim)).max(floor);
    for region in regions {
        let (bound, split) = bound(tables, &region.domain, goal, false);
        let least = up(bound.least());
        waiting.push((region, bound, least, split));
    }
    let whole: Vec<(Region, Bound, i64)> = waiting
        .iter()
        .map(|(region, bound, least, _)| (region.clone(), bound.clone(), *least))
        .collect();
    let mut done: Vec<(Region, Bound, i64)> = Vec::new();
    let mut dives = 0;
    let mut work = 0;
    // The region with the least bound next; the last one found among equals.
    while let Some(next) = (0..waiting.len())
        .rev()
        .min_by_key(|&index| waiting[index].2)
    {
        let (region, bound, least, split) = waiting.swap_remove(next);
        let reached = best.as_ref().map(|choice| choice.value(tables, goal.aim));
        if reached.is_some_and(|reached| least >= reached) || open.is_some() {
            done.push((region, bound, least));
            continue;
        }
        let mut narrowed = region.clone();
        if let Some(reached) = reached {
            bound.narrow(tables, &mut narrowed.domain, reached);
        }
        let size = narrowed.domain.size();
        let wide = match goal.aim {
            Aim::Worth | Aim::Honey => false,
            Aim::Opened => size > WHOLE,
            Aim::Shaken => size > WHOLE && size <= VAST,
        };
        if dives < DIVES && wide && !bound.is_blind() && !matches!(split, Some(Split::Kind(..))) {
            dives += 1;
            let found = dive(tables, &narrowed.domain, &bound, goal, reached, deadline);
            if found.is_some() {
                best = found;
                waiting.push((region, bound, least, split));
                continue;
            }
        }
        let split = split.filter(|split| {
            work < MOST_WORK && (matches!(split, Split::Kind(..)) || narrowed.domain.size() > WHOLE)
        });
        if let Some(split) = split {
            work += narrowed.domain.size();
            for domain in split.parts(&narrowed.domain) {
                let mut part = Region {
                    domain,
                    passed: narrowed.passed.clone(),
                };
                part.domain.round(tables);
                if part.domain.is_empty() {
                    continue;
                }
                let (bound, split) = self::bound(tables, &part.domain, goal, false);
                let least = up(bound.least()).max(least);
                waiting.push((part, bound, least, split));
            }
            continue;
        }
        let (found, seen, reason) = sweep(
            tables,
            (&region.domain, &bound, least),
            goal,
            reached,
            deadline,
        );
        best = found.or(best);
        let skipped = region.domain.size() <= outright(goal.aim);
        if reason == Some(Open::GaveUp) && bound.is_blind() && skipped {
            // The engine lost its way in a search without a bound; with one it has less to do.
            let (bound, split) = self::bound(tables, &region.domain, goal, true);
            if !bound.is_blind() {
                let least = up(bound.least()).max(least);
                waiting.push((region, bound, least, split));
                continue;
            }
        }
        let mut rest = region.domain.clone();
        if let Some(best) = &best {
            bound.narrow(tables, &mut rest, best.value(tables, goal.aim));
        }
        let half = half(&rest).filter(|_| work < MOST_WORK && rest.size() <= LARGE);
        if let (Some(Open::GaveUp), Some(split)) = (reason, half) {
            // Where the engine lost its way it finds it in the halves.
            work += rest.size();
            for domain in split.parts(&rest) {
                let part = Region {
                    domain,
                    passed: region.passed.clone(),
                };
                waiting.push((part, bound.clone(), seen.max(least), None));
            }
            continue;
        }
        open = reason;
        done.push((region, bound, seen.max(least)));
    }
    let value = best.as_ref().map(|choice| choice.value(tables, goal.aim));
    let least = done.iter().map(|&(_, _, least)| least).min();
    let least = match (open, value) {
        (None, Some(value)) => value,
        (_, value) => least.into_iter().chain(value).min().unwrap_or(0),
    };
    // Parts are worth the trouble only where they prove something.
    let parts = if open.is_some() { whole } else { done };
    let mut regions = Vec::new();
    for (mut region, bound, floor) in parts {
        let Some(value) = value else { continue };
        if floor <= value {
            bound.narrow(tables, &mut region.domain, value);
            region.passed.push((bound, value));
            if !region.domain.is_empty() {
                regions.push(region);
            }
        }
    }
    Step {
        choice: best,
        regions,
        least,
        open,
    }
}

/// Halves a domain at the donor that leaves most in question.
fn half(domain: &Domain) -> Option<Split> {
    let size = |donor: usize| match domain.options[donor].len() {
        0 => 0,
        options => options + usize::from(domain.closed[donor]),
    };
    let donor = (0..domain.options.len()).max_by_key(|&donor| size(donor))?;
    let split = match domain.closed[donor] {
        true => Split::Donor(donor),
        false => Split::Options(donor),
    };
    (size(donor) > 1).then_some(split)
}

/// Looks for a good plan in a large domain: settles what a corner of the relaxation settles and
/// searches the rest.
fn dive(
    tables: &Tables,
    domain: &Domain,
    bound: &Bound,
    goal: Goal,
    reached: Option<i64>,
    deadline: &Deadline,
) -> Option<Choice> {
    let mut reached = reached;
    let mut best = None;
    let gap = reached.map_or(0, |reached| reached.saturating_sub(bound.least()));
    let unit = if goal.aim == Aim::Opened { 1 } else { gap / 4 };
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
        let answer = decision.model.solve(deadline.left());
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

/// More than this left in question is not searched for goals 3 and 4, where it could take hours.
const LARGE: i64 = 400;

/// Rounds of a dive.
const ROUNDS: i64 = 2;

/// Most dives for one goal.
const DIVES: u32 = 1;

/// A domain with no more than this in question is searched without a bound.
fn outright(aim: Aim) -> i64 {
    match aim {
        // Whole compartments come out of a search at once.
        Aim::Worth => i64::MAX,
        Aim::Honey => 0,
        Aim::Opened => TINY,
        Aim::Shaken => SMALL,
    }
}

/// A bound over a domain, and where to divide it. Small domains are searched without a bound
/// unless there must `always` be one.
fn bound(tables: &Tables, domain: &Domain, goal: Goal, always: bool) -> (Bound, Option<Split>) {
    let relaxed = (always || domain.size() > outright(goal.aim))
        .then(|| Decision::roomy(tables, domain, goal).relax(goal))
        .flatten();
    let Some((prices, kinds)) = relaxed else {
        return (
            Bound::new(tables, domain, goal, &RowPrices::none(tables)),
            None,
        );
    };
    let bound = Bound::new(tables, domain, goal, &prices);
    let split = kinds.iter().enumerate().filter_map(|(kind, &count)| {
        let (least, most) = domain.kinds[kind];
        let step = tables.kinds[kind].step as f64;
        let part = count / step - (count / step).floor();
        let below = ((count / step).floor() * step) as i64;
        let far = part.min(1.0 - part);
        (far > 0.02 && below >= least && below < most).then_some((far, kind, below))
    });
    let split = split.max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
    if let Some((_, kind, below)) = split {
        return (bound, Some(Split::Kind(kind, below)));
    }
    if goal.aim == Aim::Honey || domain.size() <= WHOLE || domain.size() > VAST {
        return (bound, None);
    }
    // A corner has few fractions, and they are where the relaxation falls short.
    let opened = Decision::new(tables, domain, goal)
        .opened()
        .unwrap_or_default();
    let split = (0..opened.len())
        .filter(|&donor| domain.closed[donor] && !domain.options[donor].is_empty())
        .map(|donor| (opened[donor].min(1.0 - opened[donor]), donor))
        .filter(|&(far, _)| far > 0.02)
        .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
    (bound, split.map(|(_, donor)| Split::Donor(donor)))
}

/// Searches one domain, given its bound and what its values are not below, for a value below
/// `reached`; returns what it found, what the domain's
/// values are not below, and why the search is not complete.
///
/// A bound says how good a plan may be and, for each option, how much worse it must at least
/// become with it. So the search first looks only at the options that a plan at the bound can
/// use, and widens until the best it finds is no worse than what it has looked through.
fn sweep(
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
        Aim::Worth | Aim::Opened => 1,
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
        if matches!(goal.aim, Aim::Opened | Aim::Shaken) && part.size() > LARGE {
            return (best, least, Some(Open::GaveUp));
        }
        let mut decision = Decision::new(tables, &part, goal);
        let held = matches!(goal.aim, Aim::Opened | Aim::Shaken) && within < i64::MAX / 4;
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
                reach = value;
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

fn round_up(value: i64, granule: i64) -> i64 {
    let over = value.rem_euclid(granule);
    if over == 0 {
        value
    } else {
        value.saturating_add(granule - over)
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
