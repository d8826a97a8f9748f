//! One goal over regions: each has a bound, and is searched or divided.

use super::bound::{Aim, Bound, Domain, Goal, RowPrices};
use super::choice::Choice;
use super::early::dive;
use super::model::Decision;
use super::search::{Open, Region};
use super::sweep::{Budget, LARGE, PIECE, SMALL, TINY, granule, round_up, sweep};
use super::tables::Tables;

/// What one goal came to.
pub(super) struct Step {
    pub choice: Option<Choice>,
    /// Where all plans of the best value lie.
    pub regions: Vec<Region>,
    /// No plan has a lesser value.
    pub least: i64,
    pub open: Option<Open>,
}

/// Most options and closed colonies looked at while dividing, over all regions of one goal.
const MOST_WORK: i64 = 6_000;

/// A region with more left in question than this is not divided at a donor: too few of its
/// parts could be looked at to prove anything.
const VAST: i64 = 2500;

/// A region with no more left in question than this is searched whole.
pub(super) const WHOLE: i64 = 400;

/// Most dives for one goal.
const DIVES: u32 = 1;

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
pub(super) fn pursue(
    tables: &Tables,
    regions: Vec<Region>,
    goal: Goal,
    known: Option<Choice>,
    mut budget: Budget,
) -> Step {
    let mut open = None;
    let mut best = known;
    let deadline = budget.deadline;
    let complete = budget.trouble.is_none();
    // Region, its bound, what its values are not below, and where it may be divided.
    let mut waiting: Vec<(Region, Bound, i64, Option<Split>)> = Vec::new();
    // Whatever the prices are: of all but worth there is no less than none.
    let floor = match goal.aim {
        Aim::Worth => i64::MIN,
        Aim::Otherwise => 0,
        Aim::Honey | Aim::Opened | Aim::Shaken => tables.base(goal.aim),
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
    let mut halved = 0;
    // The region with the least bound next; the last one found among equals.
    while let Some(next) = (0..waiting.len())
        .rev()
        .min_by_key(|&index| waiting[index].2)
    {
        let (region, bound, least, split) = waiting.swap_remove(next);
        let reached = best.as_ref().map(|choice| choice.value(tables, goal.aim));
        if deadline.passed() {
            open.get_or_insert(Open::TimedOut);
        }
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
            Aim::Otherwise | Aim::Opened => size > WHOLE,
            Aim::Shaken => size > WHOLE && size <= VAST,
        };
        if dives < DIVES && wide && !bound.is_blind() && !matches!(split, Some(Split::Kind(..))) {
            dives += 1;
            let found = dive(tables, &narrowed.domain, &bound, goal, reached, &mut budget);
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
        let task = (&region.domain, &bound, least);
        let (found, mut seen, mut reason) = match complete {
            false => sweep(tables, task, goal, reached, &mut budget),
            true => {
                let mut try_out = Budget {
                    deadline,
                    trouble: Some(PIECE),
                };
                sweep(tables, task, goal, reached, &mut try_out)
            }
        };
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
        let worth_it = halved < MOST_WORK && rest.size() <= LARGE && !budget.spent();
        let half = half(&rest).filter(|_| worth_it);
        if let (Some(Open::GaveUp), Some(split)) = (reason, half) {
            // Where the engine lost its way it finds it in the halves.
            halved += rest.size();
            for domain in split.parts(&rest) {
                let part = Region {
                    domain,
                    passed: region.passed.clone(),
                };
                waiting.push((part, bound.clone(), seen.max(least), None));
            }
            continue;
        }
        if complete && reason == Some(Open::GaveUp) {
            let reached = best.as_ref().map(|choice| choice.value(tables, goal.aim));
            let found;
            (found, seen, reason) = sweep(tables, task, goal, reached, &mut budget);
            best = found.or(best);
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

/// A domain with no more than this in question is searched without a bound.
fn outright(aim: Aim) -> i64 {
    match aim {
        // Whole compartments come out of a search at once.
        Aim::Worth => i64::MAX,
        Aim::Honey => 0,
        Aim::Otherwise | Aim::Opened => TINY,
        Aim::Shaken => SMALL,
    }
}

/// The kind of box of which the relaxation stocks most clearly a fraction, and the whole count below.
pub(super) fn between(tables: &Tables, domain: &Domain, kinds: &[f64]) -> Option<(usize, i64)> {
    let split = kinds.iter().enumerate().filter_map(|(kind, &count)| {
        let (least, most) = domain.kinds[kind];
        let step = tables.kinds[kind].step as f64;
        let part = count / step - (count / step).floor();
        let below = ((count / step).floor() * step) as i64;
        let far = part.min(1.0 - part);
        (far > 0.02 && below >= least && below < most).then_some((far, kind, below))
    });
    let split = split.max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
    split.map(|(_, kind, below)| (kind, below))
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
    if let Some((kind, below)) = between(tables, domain, &kinds) {
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
