//! The optimum by going through all plans, in exact integers.
//!
//! Source: the rules and goals of `docs/model.md`, in the definitions of `check`. Nothing of the
//! solver is used, only the rates of [`honey::rates`], which are part of the question.
//!
//! What is gone through: compartments of each kind; frames of each group of each colony; bees of
//! each colony. What is not gone through, and why nothing is missed:
//!
//! * *Which frame serves which line.* By Hall's theorem every line can be filled if and only if
//!   each set of lines asks for no more than the frames that fit one of them; and all frames
//!   taken from colonies can be placed if and only if, for each set of lines, those that fit no
//!   other line are no more than it asks for. By Mendelsohn and Dulmage 1958 both can then be
//!   done at once.
//! * *Which cell is for which kind.* Hall's theorem again, over sets of kinds.
//! * *Whose bees, where the same share stays.* A bee costs the same honey wherever it goes, and
//!   is shaken only after those on the frames that leave; so among donors of whose bees the same
//!   shares stay, the cheapest first is least for every number of bees.

use super::split::{Gone, Split};
use spareframe_solver::*;
use std::collections::BTreeMap;

/// The best goals over all valid plans; all 0 where nothing can be stocked.
pub fn best(scenario: &Scenario) -> Goals {
    nearest(scenario, None).0
}

/// The best goals over all valid plans, and the frames drawn otherwise than in an earlier plan,
/// which count after honey; 0 without one.
pub fn nearest(scenario: &Scenario, then: Option<&Plan>) -> (Goals, u64) {
    let then = then.map(Plan::drawn);
    let split = Split::of(scenario);
    let scenario = &split.scenario;
    let mut by_worth: BTreeMap<i64, Vec<Vec<u32>>> = BTreeMap::new();
    let enough = |stocked: &Vec<u32>| {
        stocked
            .iter()
            .zip(&split.least)
            .all(|(n, least)| n >= least)
    };
    for stocked in all_stocked(scenario).into_iter().filter(enough) {
        let worth = scenario
            .boxes
            .iter()
            .zip(&stocked)
            .map(|(kind, &count)| kind.worth.0 * i64::from(count))
            .sum();
        by_worth.entry(worth).or_default().push(stocked);
    }
    by_worth.remove(&0);
    for (worth, all) in by_worth.into_iter().rev() {
        let mut least: Option<Cost> = None;
        for stocked in &all {
            Case::new(&split, stocked, then.as_ref()).least(&mut least);
        }
        if let Some((honey, otherwise, opened, shaken)) = least {
            let narrow = |value: i128| i64::try_from(value).expect("within range");
            let goals = Goals {
                worth: Worth(worth),
                honey: Milligrams(narrow(honey)),
                opened: u32::try_from(opened).expect("within range"),
                shaken: Bees(narrow(shaken)),
            };
            return (goals, u64::try_from(otherwise).expect("0 or more"));
        }
    }
    Default::default()
}

/// The least honey for each worth that some valid plan has, whatever the cap on the honey of all
/// colonies together.
pub fn least_honey(scenario: &Scenario) -> BTreeMap<i64, i64> {
    let scenario = &Scenario {
        honey_cap: None,
        ..scenario.clone()
    };
    let mut by_worth: BTreeMap<i64, i64> = BTreeMap::new();
    for stocked in all_stocked(scenario) {
        let kinds = scenario.boxes.iter().zip(&stocked);
        let worth = kinds.map(|(kind, &n)| kind.worth.0 * i64::from(n)).sum();
        let mut least: Option<Cost> = by_worth.get(&worth).map(|&honey| (honey.into(), 0, 0, 0));
        Case::new(&Split::of(scenario), &stocked, None).least(&mut least);
        if let Some((honey, ..)) = least {
            by_worth.insert(worth, i64::try_from(honey).expect("within range"));
        }
    }
    by_worth
}

/// Frames that an earlier plan takes, by colony and frame group.
type Then = BTreeMap<(ColonyId, usize), u64>;

/// Compartments of each kind as far as rules boxes and cells allow, in every way.
pub fn all_stocked(scenario: &Scenario) -> Vec<Vec<u32>> {
    let mut all = vec![vec![]];
    for kind in &scenario.boxes {
        let mut longer = Vec::new();
        for stocked in &all {
            for count in 0..=kind.count * kind.compartments {
                if !kind.whole || count % kind.compartments == 0 {
                    let mut next = stocked.clone();
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

pub fn cells_do(scenario: &Scenario, stocked: &[u32]) -> bool {
    let Some(batches) = &scenario.cells else {
        return true;
    };
    (0..1usize << stocked.len()).all(|set| {
        let within = |kind: usize| set >> kind & 1 == 1;
        let wanted: u32 = (0..stocked.len())
            .filter(|&k| within(k))
            .map(|k| stocked[k])
            .sum();
        let there: u32 = batches
            .iter()
            .filter(|batch| batch.boxes.is_empty() || batch.boxes.iter().any(|k| within(k.0)))
            .map(|batch| batch.count)
            .sum();
        // A batch for any kind is of no use to no kind.
        wanted == 0 || wanted <= there
    })
}

/// Honey in mg, frames drawn otherwise, colonies opened, bees shaken: in this order.
type Cost = (i128, i128, i128, i128);

pub fn part(share: Milli, whole: i64) -> i128 {
    (2 * i128::from(share.0) * i128::from(whole) + 1000) / 2000
}

pub fn fits(frame: &FrameState, ask: &Ask) -> bool {
    match ask {
        Ask::Foundation { comb } => *comb == frame.comb && frame.drawn == Milli(0),
        Ask::AtLeast {
            comb,
            brood,
            sealed,
            stores,
            drawn,
        } => {
            let pairs = [
                (frame.brood, brood),
                (frame.sealed, sealed),
                (frame.stores, stores),
                (frame.drawn, drawn),
            ];
            *comb == frame.comb && pairs.iter().all(|(has, least)| has >= least)
        }
    }
}

/// The lines that a frame fits, as a set of bits.
pub fn fitting(lines: &[&Line], frame: &FrameState) -> u32 {
    lines
        .iter()
        .enumerate()
        .filter(|(_, line)| {
            fits(frame, &line.ask) || line.substitutes.iter().any(|s| fits(frame, &s.ask))
        })
        .map(|(at, _)| 1 << at)
        .sum()
}

/// Thousandths of a colony's bees that stay at a site.
pub fn stay(scenario: &Scenario, colony: &Colony, site: SiteId) -> i128 {
    let near = scenario.distances[colony.site.0][site.0] < scenario.drift.homing_metres;
    1000 - if near {
        i128::from(scenario.drift.flying.0)
    } else {
        0
    }
}

/// One way to take frames from a colony.
#[derive(Clone)]
pub struct Take {
    /// Frames for each set of lines that they fit.
    pub frames: BTreeMap<u32, i128>,
    pub count: i128,
    /// Bees on these frames.
    pub riding: i128,
    /// Most bees that may leave.
    pub most: i128,
    /// Without the bees.
    pub honey: i128,
    /// Frames drawn otherwise than in an earlier plan.
    pub otherwise: i128,
}

struct Case<'a> {
    split: &'a Split,
    /// Frames wanted, by line of the stocked kinds.
    wanted: Vec<i128>,
    /// Thousandths of bees wanted, by site with a demand.
    demand: Vec<(SiteId, i128)>,
    shelf: BTreeMap<u32, i128>,
    /// Ways to open each colony.
    takes: Vec<Vec<Take>>,
    /// Frames drawn otherwise than in an earlier plan where each colony gives no more.
    closed: Vec<i128>,
    /// There is an earlier plan to be near to.
    near: bool,
    /// Frames that it takes from colonies or groups that are no more.
    lost: i128,
    /// Milligrams for a bee of each colony.
    rate: Vec<i128>,
    /// Thousandths of the bees of each colony that stay, by site with a demand.
    stay: Vec<Vec<i128>>,
}

impl<'a> Case<'a> {
    fn new(split: &'a Split, stocked: &[u32], then: Option<&Then>) -> Self {
        let scenario = &split.scenario;
        let (none, near) = (Then::new(), then.is_some());
        let then = then.unwrap_or(&none);
        let mut lines = Vec::new();
        let mut wanted = Vec::new();
        let mut demand: BTreeMap<SiteId, i128> = BTreeMap::new();
        for ((kind, fewest), &count) in scenario.boxes.iter().zip(&split.fewest).zip(stocked) {
            if count == 0 {
                continue;
            }
            for line in kind.lines.iter().filter(|line| line.count > 0) {
                lines.push(line);
                wanted.push(i128::from(line.count) * i128::from(count));
            }
            *demand.entry(kind.site).or_default() += fewest * i128::from(count);
        }
        let demand: Vec<(SiteId, i128)> =
            demand.into_iter().filter(|&(_, bees)| bees > 0).collect();
        let set = |frame: &FrameState| fitting(&lines, frame);
        let mut shelf = BTreeMap::new();
        for spare in &scenario.store_room {
            *shelf.entry(set(&spare.frame)).or_default() += i128::from(spare.count);
        }
        let rates: Vec<_> = scenario
            .colonies
            .iter()
            .map(|colony| honey::rates(&scenario.combs, colony, &scenario.colony_model))
            .collect();
        let takes = scenario
            .colonies
            .iter()
            .zip(&rates)
            .enumerate()
            .map(|(at, (colony, rates))| {
                let of = |group| then.get(&(ColonyId(at), group)).copied().unwrap_or(0);
                let groups = 0..colony.frames.len();
                let then: Vec<u64> = groups.map(of).collect();
                takes_of(scenario, colony, rates, &set, &then, &split.gone[at])
            })
            .collect();
        // Frames drawn otherwise where a colony gives no more, and from what is no more.
        let known = |(id, group): &(ColonyId, usize)| {
            scenario
                .colonies
                .get(id.0)
                .is_some_and(|c| *group < c.frames.len())
        };
        let lost = then.iter().filter(|(key, _)| !known(key));
        let lost = lost.map(|(_, &count)| i128::from(count)).sum();
        let closed = split.gone.iter().enumerate().map(|(at, gone)| {
            let groups = gone.groups.iter().enumerate();
            let apart = groups.map(|(group, &gone)| {
                let then = then.get(&(ColonyId(at), group)).copied().unwrap_or(0);
                (i128::from(then) - gone).abs()
            });
            apart.sum()
        });
        let closed: Vec<i128> = closed.collect();
        let stay = scenario
            .colonies
            .iter()
            .map(|colony| {
                let sites = demand.iter();
                sites
                    .map(|&(site, _)| stay(scenario, colony, site))
                    .collect()
            })
            .collect();
        Self {
            split,
            wanted,
            demand,
            shelf,
            takes,
            closed,
            near,
            lost,
            rate: rates.iter().map(|rates| i128::from(rates.bees)).collect(),
            stay,
        }
    }

    /// Lowers `least` to the least cost of this case.
    fn least(&self, least: &mut Option<Cost>) {
        let total = self.wanted.iter().sum();
        let spent = self.split.gone.iter().map(|gone| gone.honey).sum();
        self.open(&mut Vec::new(), total, spent, least);
    }

    /// Decides colony after colony: closed, or opened in one way.
    fn open<'b>(
        &'b self,
        chosen: &mut Vec<Option<&'b Take>>,
        frames_left: i128,
        honey: i128,
        least: &mut Option<Cost>,
    ) {
        if least.is_some_and(|(best, ..)| honey > best) {
            return;
        }
        let wished = |give: &Give| give.colony.0 == chosen.len() && give.frames > 0;
        let wished = self.split.scenario.gives.iter().any(wished);
        let Some(takes) = self.takes.get(chosen.len()) else {
            self.close(chosen, honey, least);
            return;
        };
        chosen.push(None);
        if !wished {
            self.open(chosen, frames_left, honey, least);
        }
        for take in takes.iter().filter(|take| take.count <= frames_left) {
            *chosen.last_mut().expect("just pushed") = Some(take);
            self.open(chosen, frames_left - take.count, honey + take.honey, least);
        }
        chosen.pop();
    }

    /// Frames are chosen: do they do, and what bees go with them?
    fn close(&self, chosen: &[Option<&Take>], honey: i128, least: &mut Option<Cost>) {
        let opens = chosen.iter().zip(&self.split.gone);
        let opened = opens.filter(|(take, gone)| take.is_some() || gone.opened());
        let opened = opened.count() as i128;
        let drawn = chosen.iter().zip(&self.closed);
        let otherwise = drawn.map(|(take, closed)| take.map_or(*closed, |take| take.otherwise));
        let otherwise = match self.near {
            true => otherwise.sum::<i128>() + self.lost,
            false => 0,
        };
        if least.is_some_and(|best| (honey, otherwise, opened, 0) >= best) || !self.lines_do(chosen)
        {
            return;
        }
        if let Some((bee_honey, shaken)) = self.bees(chosen) {
            let before = &self.split.gone;
            let shaken = shaken + before.iter().map(|gone| gone.shaken).sum::<i128>();
            let cost = (honey + bee_honey, otherwise, opened, shaken);
            let spent: i128 = before.iter().map(|gone| gone.honey).sum();
            let cap = self.split.scenario.honey_cap;
            let cap = cap.map_or(i128::MAX, |cap| spent.max(i128::from(cap.0)));
            if cost.0 <= cap && least.is_none_or(|best| cost < best) {
                *least = Some(cost);
            }
        }
    }

    fn lines_do(&self, chosen: &[Option<&Take>]) -> bool {
        let mut taken: BTreeMap<u32, i128> = BTreeMap::new();
        for take in chosen.iter().flatten() {
            for (&set, &count) in &take.frames {
                *taken.entry(set).or_default() += count;
            }
        }
        (0..1u32 << self.wanted.len()).all(|set| {
            let wanted: i128 = (0..self.wanted.len())
                .filter(|&line| set >> line & 1 == 1)
                .map(|line| self.wanted[line])
                .sum();
            let fit: i128 = taken
                .iter()
                .chain(&self.shelf)
                .filter(|(fits, _)| *fits & set != 0)
                .map(|(_, &count)| count)
                .sum();
            let only: i128 = taken
                .iter()
                .filter(|(fits, _)| *fits & !set == 0)
                .map(|(_, &count)| count)
                .sum();
            wanted <= fit && only <= wanted
        })
    }

    /// Least honey, then fewest shaken, for enough bees at every site.
    fn bees(&self, chosen: &[Option<&Take>]) -> Option<(i128, i128)> {
        let mut alike: BTreeMap<&[i128], Vec<Piece>> = BTreeMap::new();
        for (colony, take) in chosen.iter().enumerate() {
            if let Some(take) = take {
                let riding = take.riding.min(take.most);
                let pieces = alike.entry(&self.stay[colony]).or_default();
                pieces.push(Piece {
                    honey: self.rate[colony],
                    shaken: 0,
                    bees: riding,
                });
                pieces.push(Piece {
                    honey: self.rate[colony],
                    shaken: 1,
                    bees: take.most - riding,
                });
            }
        }
        let classes: Vec<(&[i128], Vec<Piece>)> = alike
            .into_iter()
            .map(|(stay, mut pieces)| {
                pieces.sort();
                (stay, pieces)
            })
            .collect();
        let mut left: Vec<i128> = self.demand.iter().map(|&(_, bees)| bees).collect();
        let mut least = None;
        share(&classes, &mut left, 0, 0, (0, 0), &mut least);
        least
    }
}

/// Bees at one price.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Piece {
    honey: i128,
    shaken: i128,
    bees: i128,
}

/// So many bees of one class, cheapest first; `None` where there are not as many.
fn price(pieces: &[Piece], mut bees: i128) -> Option<(i128, i128)> {
    let mut cost = (0, 0);
    for piece in pieces {
        let some = bees.min(piece.bees);
        cost.0 += some * piece.honey;
        cost.1 += some * piece.shaken;
        bees -= some;
    }
    (bees == 0).then_some(cost)
}

/// Goes through the bees of each class for each site. `left` is what the sites still want,
/// `taken` the bees of the class at hand so far, `cost` that of the classes before it.
fn share(
    classes: &[(&[i128], Vec<Piece>)],
    left: &mut Vec<i128>,
    site: usize,
    taken: i128,
    cost: (i128, i128),
    least: &mut Option<(i128, i128)>,
) {
    let Some(((stay, pieces), later)) = classes.split_first() else {
        if left.iter().all(|&bees| bees <= 0) && least.is_none_or(|best| cost < best) {
            *least = Some(cost);
        }
        return;
    };
    let Some(price) = price(pieces, taken) else {
        return;
    };
    let so_far = (cost.0 + price.0, cost.1 + price.1);
    if least.is_some_and(|best| so_far >= best) {
        return;
    }
    let Some(&wanted) = left.get(site) else {
        share(later, left, 0, 0, so_far, least);
        return;
    };
    // Bees that do it alone; more never help.
    let alone = match stay[site] {
        0 => 0,
        stays => (wanted.max(0) + stays - 1) / stays,
    };
    let there: i128 = pieces.iter().map(|piece| piece.bees).sum();
    // The last class must do it alone.
    let fewest = if later.is_empty() { alone } else { 0 };
    for bees in fewest..=alone.min(there - taken) {
        left[site] = wanted - bees * stay[site];
        share(classes, left, site + 1, taken + bees, cost, least);
    }
    left[site] = wanted;
}

/// Every way to take frames that rules supply, keep and draw allow, none at all included.
pub fn takes(
    scenario: &Scenario,
    colony: &Colony,
    rates: &honey::HoneyRates,
    set: &dyn Fn(&FrameState) -> u32,
) -> Vec<Take> {
    let gone = Gone {
        groups: vec![0; colony.frames.len()],
        ..Gone::default()
    };
    takes_of(scenario, colony, rates, set, &[], &gone)
}

/// The same where something has already left. `then` are the frames that an earlier plan takes from
/// each group; none from those that are left out.
fn takes_of(
    scenario: &Scenario,
    colony: &Colony,
    rates: &honey::HoneyRates,
    set: &dyn Fn(&FrameState) -> u32,
    then: &[u64],
    gone: &Gone,
) -> Vec<Take> {
    let mut all: Vec<Vec<u32>> = vec![vec![]];
    for (group, &gone) in colony.frames.iter().zip(&gone.groups) {
        let most = if group.queen || set(&group.frame) == 0 {
            0
        } else {
            group.count - gone as u32
        };
        all = all
            .iter()
            .flat_map(|counts| {
                (0..=most).map(|count| {
                    let mut next = counts.clone();
                    next.push(count);
                    next
                })
            })
            .collect();
    }
    if colony.hold.is_some() {
        all.clear();
    }
    let wishes = scenario.gives.iter();
    let wishes = wishes.filter(|give| scenario.colonies[give.colony.0].name == colony.name);
    for give in wishes {
        all.retain(|counts| {
            let given = match give.group {
                Some(group) => counts[group],
                None => counts.iter().sum(),
            };
            given >= give.frames
        });
    }
    all.iter()
        .filter_map(|counts| {
            let mut take = take(scenario, colony, rates, set, counts, gone)?;
            let then = then.iter().chain(std::iter::repeat(&0));
            let apart = counts.iter().zip(&gone.groups).zip(then);
            let apart = apart
                .map(|((&count, &gone), &then)| (u64::from(count) + gone as u64).abs_diff(then));
            take.otherwise = apart.map(i128::from).sum();
            Some(take)
        })
        .collect()
}

fn take(
    scenario: &Scenario,
    colony: &Colony,
    rates: &honey::HoneyRates,
    set: &dyn Fn(&FrameState) -> u32,
    counts: &[u32],
    gone: &Gone,
) -> Option<Take> {
    let (mut brood, mut stores, mut drawn) = (0, 0, 0);
    let mut brood_taken = 0;
    let mut bees = i128::from(colony.extra_bees.0) - gone.bees;
    let mut take = Take {
        frames: BTreeMap::new(),
        count: 0,
        riding: 0,
        most: 0,
        honey: 0,
        otherwise: 0,
    };
    for ((group, &count), &gone) in colony.frames.iter().zip(counts).zip(&gone.groups) {
        let frame = &group.frame;
        let comb = &scenario.combs[frame.comb.0];
        let (all, count) = (i128::from(group.count), i128::from(count));
        bees += part(frame.bees, comb.bees.0) * all;
        let all = all - gone;
        let grams = part(frame.stores, comb.stores.0);
        let on_frame = part(frame.bees, comb.bees.0);
        let sealed = part(frame.sealed, comb.cells);
        let open = part(frame.brood, comb.cells) - sealed;
        brood += i128::from(frame.brood.0) * (all - count);
        drawn += i128::from(frame.drawn.0) * (all - count);
        stores += grams * (all - count);
        brood_taken += i128::from(frame.brood.0) * count;
        take.riding += on_frame * count;
        take.count += count;
        take.honey += count * (sealed * i128::from(rates.sealed) + open * i128::from(rates.open));
        if colony.crop.is_some() {
            take.honey += count * grams * 1000;
        }
        if count > 0 {
            *take.frames.entry(set(frame)).or_default() += count;
        }
    }
    let (keep, draw) = (&colony.keep, &colony.draw);
    let cap = |cap: Option<i64>| cap.map_or(i128::MAX, i128::from);
    let honey = cap(draw.honey.map(|h| h.0)) - gone.honey - take.honey;
    take.most = (bees - i128::from(keep.bees.0)).min(cap(draw.bees.map(|b| b.0)) - gone.bees);
    let valid = brood >= keep.brood.0.into()
        && stores >= keep.stores.0.into()
        && drawn >= keep.drawn.0.into()
        && take.most >= 0
        && honey >= 0
        && take.count + gone.frames <= cap(draw.frames.map(i64::from))
        && brood_taken + gone.brood <= cap(draw.brood.map(|b| b.0));
    if rates.bees > 0 {
        take.most = take.most.min(honey / i128::from(rates.bees));
    }
    valid.then_some(take)
}
