//! The optimum by going through all plans, in exact integers.
//!
//! Source: the rules and goals of `docs/model.md`. Nothing of the solver is used, only the rates of
//! [`honey::rates`], which are part of the question.
//!
//! For each number of compartments of each kind: all ways to spread the frames of each group of each
//! colony, and of the store room, over the lines that they fit; and for each of these all hundreds that
//! ride and all loose ones, for each site ([`ways`](super::ways)). Colony after colony, ways that leave
//! the same lacking are pooled: only those that no other beats in cost and honey are gone on with.

use super::split::{Split, brood_line};
use super::ways::{Way, pool, spread_shelf, ways};
use spareframe_solver::*;
use std::collections::BTreeMap;

/// What the best plan reaches: worth in thousandths, grams of cost, and the least grams of honey at that
/// cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Best {
    pub worth: i64,
    pub cost: i64,
    pub honey: i64,
}

/// The best of all valid plans; `None` where nothing can be stocked, or no plan meets the wishes.
pub fn best(scenario: &Scenario) -> Option<Best> {
    best_of(scenario, None, Ceiling::default())
}

/// The same near to an earlier plan and under a ceiling.
pub fn best_of(scenario: &Scenario, then: Option<&Plan>, most: Ceiling) -> Option<Best> {
    let nowhere = |give: &Give| give.frames > 0 && give.colony.0 >= scenario.colonies.len();
    if scenario.gives.iter().any(nowhere) {
        return None;
    }
    let then = then.map(Plan::drawn);
    let split = Split::of(scenario);
    let mut by_worth: BTreeMap<i64, Vec<Vec<u32>>> = BTreeMap::new();
    for stocked in allowed(&split, most) {
        let worth = worth(&split.scenario, &stocked);
        by_worth.entry(worth).or_default().push(stocked);
    }
    by_worth.remove(&0);
    by_worth.into_iter().rev().find_map(|(worth, all)| {
        let costs = all
            .iter()
            .filter_map(|stocked| Case::new(&split, stocked, then.as_ref()).least());
        let (cost, honey) = costs.min()?;
        Some(Best { worth, cost, honey })
    })
}

/// For each number of compartments of each kind that can be stocked: the numbers, and the least cost.
pub fn all_costs(scenario: &Scenario) -> Vec<(Vec<u32>, Best)> {
    let split = Split::of(scenario);
    let all = allowed(&split, Ceiling::default()).into_iter();
    let costs = all.filter_map(|stocked| {
        let (cost, honey) = Case::new(&split, &stocked, None).least()?;
        let worth = worth(&split.scenario, &stocked);
        Some((stocked, Best { worth, cost, honey }))
    });
    costs.collect()
}

fn worth(scenario: &Scenario, stocked: &[u32]) -> i64 {
    let kinds = scenario.boxes.iter().zip(stocked);
    kinds.map(|(kind, &n)| kind.worth.0 * i64::from(n)).sum()
}

/// Compartments of each kind, with those that are finished, under a ceiling.
pub fn allowed(split: &Split, most: Ceiling) -> Vec<Vec<u32>> {
    let count = |stocked: &[u32]| stocked.iter().map(|&n| u64::from(n)).sum::<u64>();
    let mut all = all_stocked(&split.scenario);
    all.retain(|stocked| {
        let pairs = || stocked.iter().zip(&split.least);
        let compartments = most.compartments.unwrap_or(u64::MAX);
        let most_worth = most.worth.map_or(i64::MAX, |worth| worth.0);
        pairs().all(|(n, least)| n >= least)
            && count(stocked) <= compartments.max(count(&split.least))
            && worth(&split.scenario, stocked)
                <= most_worth.max(worth(&split.scenario, &split.least))
    });
    all
}

/// Compartments of each kind as far as rules boxes and cells allow, in every way.
pub fn all_stocked(scenario: &Scenario) -> Vec<Vec<u32>> {
    let mut all = vec![vec![]];
    for kind in &scenario.boxes {
        let mut longer = Vec::new();
        for stocked in &all {
            for count in 0..=kind.count * kind.compartments {
                if !kind.whole || count % kind.compartments == 0 {
                    let mut next: Vec<u32> = stocked.clone();
                    next.push(count);
                    longer.push(next);
                }
            }
        }
        all = longer;
    }
    all.retain(|stocked| cells_do(scenario, stocked));
    all
}

/// Rule cells, by Hall's theorem over sets of kinds.
pub fn cells_do(scenario: &Scenario, stocked: &[u32]) -> bool {
    let Some(batches) = &scenario.cells else {
        return true;
    };
    (0..1usize << stocked.len()).all(|set| {
        let within = |kind: usize| set >> kind & 1 == 1;
        let kinds = (0..stocked.len()).filter(|&kind| within(kind));
        let wanted: u32 = kinds.map(|kind| stocked[kind]).sum();
        let serves =
            |batch: &&CellBatch| batch.boxes.is_empty() || batch.boxes.iter().any(|k| within(k.0));
        let there: u32 = batches.iter().filter(serves).map(|batch| batch.count).sum();
        // A batch for any kind is of no use to no kind.
        wanted == 0 || wanted <= there
    })
}

/// Share of a whole, rounded half up.
pub fn part(share: Milli, whole: i64) -> i64 {
    (2 * share.0 * whole + 1000) / 2000
}

pub fn fits(frame: &FrameState, ask: &Ask) -> bool {
    let within = |share: Milli, span: &Span| span.least.0 <= share.0 && share.0 <= span.most.0;
    frame.comb == ask.comb
        && within(frame.brood, &ask.brood)
        && within(frame.sealed, &ask.sealed)
        && within(frame.stores, &ask.stores)
        && within(frame.drawn, &ask.drawn)
}

/// Place of a frame in a line's order of preference; `None` where it does not fit.
pub fn place(line: &Line, frame: &FrameState) -> Option<i64> {
    if fits(frame, &line.ask) {
        return Some(0);
    }
    let place = line.substitutes.iter().position(|s| fits(frame, &s.ask))?;
    Some(place as i64 + 1)
}

/// Of a hundred bees of a colony, so many stay at a site.
pub fn stay(scenario: &Scenario, colony: &Colony, site: SiteId) -> i64 {
    let near = scenario.distances[colony.site.0][site.0] < scenario.drift.homing_metres;
    100 - if near { scenario.drift.flying.0 } else { 0 }
}

/// Frames that an earlier plan takes, by colony and frame group.
pub type Then = BTreeMap<(ColonyId, usize), u64>;

/// So many compartments of each kind.
pub struct Case<'a> {
    pub split: &'a Split,
    pub then: Option<&'a Then>,
    /// Lines that ask for frames, and which of `sites` they are at.
    pub lines: Vec<(&'a Line, usize)>,
    /// Sites where something is stocked.
    pub sites: Vec<SiteId>,
    /// Frames for each line; bees for each site; and loose ones for each site.
    pub wanted: Vec<i64>,
}

impl<'a> Case<'a> {
    pub fn new(split: &'a Split, stocked: &[u32], then: Option<&'a Then>) -> Self {
        let kinds = split.scenario.boxes.iter().zip(stocked);
        let kinds = || kinds.clone().enumerate().filter(|&(_, (_, &n))| n > 0);
        let mut sites: Vec<SiteId> = kinds().map(|(_, (kind, _))| kind.site).collect();
        sites.sort();
        sites.dedup();
        let (mut lines, mut wanted) = (Vec::new(), Vec::new());
        for (_, (kind, &n)) in kinds() {
            let site = sites.binary_search(&kind.site).expect("it is one of them");
            for line in kind.lines.iter().filter(|line| line.count > 0) {
                lines.push((line, site));
                wanted.push(i64::from(line.count * n));
            }
        }
        let need = |site: SiteId, loose: bool| {
            let of = kinds().filter(|(_, (kind, _))| kind.site == site);
            let of = of.filter(|(_, (kind, _))| !loose || !brood_line(kind));
            let sum: i64 = of.map(|(at, (_, &n))| split.need[at] * i64::from(n)).sum();
            (sum - split.credit[site.0][usize::from(loose)]).max(0)
        };
        wanted.extend(sites.iter().map(|&site| need(site, false)));
        wanted.extend(sites.iter().map(|&site| need(site, true)));
        Self {
            split,
            then,
            lines,
            sites,
            wanted,
        }
    }

    /// Least cost, and least honey at that cost, of all plans that stock so much.
    fn least(&self) -> Option<(i64, i64)> {
        let scenario = &self.split.scenario;
        let all: Option<Vec<Vec<Way>>> = (0..scenario.colonies.len())
            .map(|at| Some(ways(self, at)).filter(|all| !all.is_empty()))
            .collect();
        let all = all?;
        // What colonies from each on can give at most.
        let mut reach = vec![vec![0; self.wanted.len()]];
        for ways in all.iter().rev() {
            let mut next = reach[reach.len() - 1].clone();
            for (at, most) in next.iter_mut().enumerate() {
                *most += ways
                    .iter()
                    .map(|way| i64::from(way.gives[at]))
                    .max()
                    .unwrap_or(0);
            }
            reach.push(next);
        }
        let capped = scenario.honey_cap.is_some();
        let mut states = spread_shelf(self);
        for (ways, reach) in all.iter().zip(reach.iter().rev().skip(1)) {
            states = self.add(&states, ways, reach, capped);
        }
        // The honey cap is at least what is done.
        let spent: i64 = (0..all.len()).map(|at| self.spent(at)).sum();
        let cap = scenario.honey_cap.map_or(i64::MAX, |cap| cap.0.max(spent));
        let done = states.iter().filter(|way| way.honey <= cap);
        let least = done.map(|way| (way.cost, way.honey)).min()?;
        Some((least.0 + self.base(), least.1))
    }

    /// What is given with one more colony, in all ways from which the rest can give what is wanted.
    fn add(&self, states: &[Way], ways: &[Way], reach: &[i64], capped: bool) -> Vec<Way> {
        let frames = self.lines.len();
        let mut next = Vec::new();
        let mut full = 1 << 16;
        for (state, way) in states.iter().flat_map(|s| ways.iter().map(move |w| (s, w))) {
            let mut gives = state.gives;
            let mut fits = true;
            for (at, (&wanted, &reach)) in self.wanted.iter().zip(reach).enumerate() {
                let sum = i64::from(gives[at]) + i64::from(way.gives[at]);
                // No frame without a line; more bees than wanted are no more.
                fits &= (sum <= wanted || at >= frames) && sum + reach >= wanted;
                gives[at] = sum.min(wanted) as i16;
            }
            if fits {
                next.push(Way {
                    gives,
                    cost: state.cost + way.cost,
                    honey: state.honey + way.honey,
                });
            }
            if next.len() >= full {
                next = pool(next, frames, capped);
                full = full.max(4 * next.len());
            }
        }
        pool(next, frames, capped)
    }

    /// Honey of what is done, and what of the cost belongs to no colony that there is.
    fn spent(&self, at: usize) -> i64 {
        super::ways::Donor::new(self, at).honey(&[], 0)
    }

    fn base(&self) -> i64 {
        let prices = &self.split.scenario.prices;
        let colonies = &self.split.scenario.colonies;
        let known = |&(&(id, group), _): &(&(ColonyId, usize), &u64)| {
            colonies.get(id.0).is_some_and(|c| group < c.frames.len())
        };
        let lost = self
            .then
            .into_iter()
            .flatten()
            .filter(|entry| !known(entry));
        let lost: u64 = lost.map(|(_, &count)| count).sum();
        self.split.places * prices.substitute.0 + lost as i64 * prices.otherwise.0
    }
}
