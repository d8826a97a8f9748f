//! The optimum of a yard of many colonies by a table over what has been gathered so far.
//!
//! Source: the rules and goals of `docs/model.md`. Colony after colony, the table holds for each
//! number of frames gathered for each line, and of bees that stay, the least honey, then the
//! fewest colonies opened, then the fewest bees shaken (dynamic programming, exact in whole
//! numbers: the three add up colony by colony, and their order is kept by adding).

use super::enumerate::{all_stocked, fitting, stay, takes};
use spareframe_solver::*;
use std::collections::{BTreeMap, BTreeSet};

/// Honey in mg, colonies opened, bees shaken: in this order.
type Cost = (i64, i64, i64);

/// Frames for each line.
type Frames = Vec<usize>;

/// What one colony can do: frames and bees given, bees in units that stay, at what cost.
type Gift = (Frames, usize, Cost);

/// The best goals over all valid plans; all 0 where nothing can be stocked. All boxes must stand
/// at one site.
pub fn best(scenario: &Scenario) -> Goals {
    let stocked = all_stocked(scenario);
    let lines: Vec<&Line> = scenario.boxes.iter().flat_map(|kind| &kind.lines).collect();
    let site = scenario.boxes[0].site;
    assert!(scenario.boxes.iter().all(|kind| kind.site == site));
    // Bees that stay come in units of so many thousandths.
    let unit = scenario.colonies.iter().fold(1000, |unit, colony| {
        divisor(unit, stay(scenario, colony, site) as usize)
    });
    let wants: Vec<(i64, Frames, usize)> = stocked
        .iter()
        .map(|counts| {
            let kinds = || scenario.boxes.iter().zip(counts);
            let worth = kinds().map(|(kind, &n)| kind.worth.0 * i64::from(n)).sum();
            let frames = kinds()
                .flat_map(|(kind, &n)| kind.lines.iter().map(move |l| (l.count * n) as usize))
                .collect();
            let bees: i64 = kinds().map(|(kind, &n)| kind.bees.0 * i64::from(n)).sum();
            (worth, frames, bees as usize * 1000 / unit)
        })
        .collect();
    let most: Frames = (0..lines.len())
        .map(|line| {
            wants
                .iter()
                .map(|(_, frames, _)| frames[line])
                .max()
                .unwrap_or(0)
        })
        .collect();
    let most_bees = wants.iter().map(|&(.., bees)| bees).max().unwrap_or(0);
    let mut table = Table::new(most, most_bees);
    for frames in shelf(scenario, &lines, &table.most) {
        let at = table.at(&frames, 0);
        table.least[at] = Some((0, 0, 0));
    }
    for colony in &scenario.colonies {
        table.add(&gifts(scenario, colony, &lines, site, unit, &table.most));
    }
    let cap = scenario.honey_cap.map_or(i64::MAX, |cap| cap.0);
    let best = wants
        .iter()
        .filter_map(|(worth, frames, bees)| {
            let enough = (*bees..=most_bees).filter_map(|b| table.least[table.at(frames, b)]);
            let least = enough.min().filter(|&(honey, ..)| honey <= cap)?;
            Some((-worth, least))
        })
        .min();
    match best {
        Some((worth, (honey, opened, shaken))) if worth < 0 => Goals {
            worth: Worth(-worth),
            honey: Milligrams(honey),
            opened: opened as u32,
            shaken: Bees(shaken),
        },
        _ => Goals::default(),
    }
}

fn divisor(a: usize, b: usize) -> usize {
    if b == 0 { a } else { divisor(b, a % b) }
}

struct Table {
    most: Frames,
    most_bees: usize,
    /// By frames and bees; bees beyond the most count as the most.
    least: Vec<Option<Cost>>,
}

impl Table {
    fn new(most: Frames, most_bees: usize) -> Self {
        let size = most.iter().map(|most| most + 1).product::<usize>() * (most_bees + 1);
        Self {
            most,
            most_bees,
            least: vec![None; size],
        }
    }

    fn at(&self, frames: &[usize], bees: usize) -> usize {
        let of_frames = frames
            .iter()
            .zip(&self.most)
            .fold(0, |at, (f, most)| at * (most + 1) + f);
        of_frames * (self.most_bees + 1) + bees
    }

    fn frames(&self, at: usize) -> Frames {
        let mut left = at / (self.most_bees + 1);
        let mut frames = vec![0; self.most.len()];
        for (f, most) in frames.iter_mut().zip(&self.most).rev() {
            *f = left % (most + 1);
            left /= most + 1;
        }
        frames
    }

    /// One more colony: closed, or opened for one of the gifts.
    fn add(&mut self, gifts: &[Gift]) {
        let mut next = self.least.clone();
        for (at, cost) in self.least.iter().enumerate() {
            let Some(cost) = cost else { continue };
            let frames = self.frames(at);
            let bees = at % (self.most_bees + 1);
            for (more, more_bees, price) in gifts {
                let room = frames.iter().zip(more).zip(&self.most);
                if room.into_iter().any(|((f, more), most)| f + more > *most) {
                    continue;
                }
                let sum: Frames = frames.iter().zip(more).map(|(f, more)| f + more).collect();
                let to = self.at(&sum, (bees + more_bees).min(self.most_bees));
                let cost = (cost.0 + price.0, cost.1 + price.1, cost.2 + price.2);
                if next[to].is_none_or(|least| cost < least) {
                    next[to] = Some(cost);
                }
            }
        }
        self.least = next;
    }
}

/// All ways to give frames, each to one line it fits; from `none_or_one` also to none.
fn spread(start: &BTreeSet<Frames>, set: u32, may_stay: bool, most: &[usize]) -> BTreeSet<Frames> {
    let mut all = if may_stay {
        start.clone()
    } else {
        BTreeSet::new()
    };
    for frames in start {
        for line in (0..most.len()).filter(|line| set >> line & 1 == 1) {
            let mut next = frames.clone();
            next[line] += 1;
            if next[line] <= most[line] {
                all.insert(next);
            }
        }
    }
    all
}

fn shelf(scenario: &Scenario, lines: &[&Line], most: &[usize]) -> BTreeSet<Frames> {
    let mut all = BTreeSet::from([vec![0; lines.len()]]);
    for spare in &scenario.store_room {
        let set = fitting(lines, &spare.frame);
        for _ in 0..spare.count {
            all = spread(&all, set, true, most);
        }
    }
    all
}

fn gifts(
    scenario: &Scenario,
    colony: &Colony,
    lines: &[&Line],
    site: SiteId,
    unit: usize,
    most: &[usize],
) -> Vec<Gift> {
    let narrow = |value: i128| i64::try_from(value).expect("within range");
    let rates = honey::rates(&scenario.combs, colony, &scenario.colony_model);
    let each = stay(scenario, colony, site) as usize / unit;
    let mut least: BTreeMap<(Frames, usize), Cost> = BTreeMap::new();
    for take in takes(scenario, colony, &rates, &|frame| fitting(lines, frame)) {
        let mut all = BTreeSet::from([vec![0; lines.len()]]);
        for (&set, &count) in &take.frames {
            for _ in 0..count {
                all = spread(&all, set, false, most);
            }
        }
        for frames in all {
            for bees in 0..=narrow(take.most) {
                let shaken = (bees - narrow(take.riding)).max(0);
                let cost = (narrow(take.honey) + bees * rates.bees, 1, shaken);
                let slot = least
                    .entry((frames.clone(), bees as usize * each))
                    .or_insert(cost);
                *slot = cost.min(*slot);
            }
        }
    }
    least
        .into_iter()
        .map(|((frames, bees), cost)| (frames, bees, cost))
        .collect()
}
