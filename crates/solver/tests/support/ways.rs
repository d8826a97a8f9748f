//! All ways in which one colony, or the store room, can give, for the [enumeration](super::enumerate).

use super::enumerate::{Case, part, place, stay};
use spareframe_solver::*;
use std::cmp::Reverse;

/// Frames for each line, bees that stay at each site, loose ones that stay at each: no more than wanted.
pub type Sums = [i16; 20];

/// One way to give, or to have given, and what it costs.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Way {
    pub gives: Sums,
    /// Grams.
    pub cost: i64,
    /// Grams, part of the cost.
    pub honey: i64,
}

/// Those that no other beats or equals: one that gives the same frames, as many bees everywhere, and
/// costs no more, nor more honey where that is `capped`.
pub fn pool(mut ways: Vec<Way>, frames: usize, capped: bool) -> Vec<Way> {
    let key = |way: &Way| (way.cost, way.honey, Reverse(way.gives));
    ways.sort_unstable_by(|a, b| {
        let frames = a.gives[..frames].cmp(&b.gives[..frames]);
        frames.then_with(|| key(a).cmp(&key(b)))
    });
    let mut kept: Vec<Way> = Vec::new();
    let mut start = 0;
    for way in ways {
        if kept
            .get(start)
            .is_some_and(|k| k.gives[..frames] != way.gives[..frames])
        {
            start = kept.len();
        }
        let beats = |other: &Way| {
            let mut pairs = other.gives[frames..].iter().zip(&way.gives[frames..]);
            (!capped || other.honey <= way.honey) && pairs.all(|(other, own)| other >= own)
        };
        if !kept[start..].iter().any(beats) {
            kept.push(way);
        }
    }
    kept
}

/// What each way to use the store room gives.
pub fn spread_shelf(case: &Case) -> Vec<Way> {
    let start = Way {
        gives: [0; 20],
        cost: 0,
        honey: 0,
    };
    let price = case.split.scenario.prices.substitute.0;
    let mut all = vec![start];
    for spare in &case.split.scenario.store_room {
        for _ in 0..spare.count {
            let mut next = all.clone();
            for way in &all {
                for (line, &(of, _)) in case.lines.iter().enumerate() {
                    if let Some(place) = place(of, &spare.frame)
                        && i64::from(way.gives[line]) < case.wanted[line]
                    {
                        let mut more = *way;
                        more.gives[line] += 1;
                        more.cost += place * price;
                        next.push(more);
                    }
                }
            }
            all = pool(next, case.lines.len(), false);
        }
    }
    all
}

fn narrow(value: i64) -> i16 {
    i16::try_from(value).expect("few frames and bees")
}

/// What some frames of a colony come to.
#[derive(Clone, Copy, Default)]
struct Frames {
    frames: i64,
    brood: i64,
    cells: i64,
    cover: i64,
    stores: i64,
    drawn: i64,
    charge: i64,
    bees: i64,
}

/// A colony with what is done.
pub struct Donor<'a> {
    case: &'a Case<'a>,
    at: usize,
    colony: &'a Colony,
    rates: honey::HoneyRates,
    /// All its frames, and those that are gone.
    all: Frames,
    gone: Frames,
    bees_gone: i64,
    /// Hundreds that can be taken: on frames without the queen, or all where it is taken apart.
    at_hand: i64,
}

/// Frames of a colony that leave, and what of them goes to each site.
#[derive(Clone)]
struct Taken {
    groups: Vec<i64>,
    lines: Vec<i64>,
    /// Hundreds that ride at least, and on brood frames at all, by site.
    least: Vec<i64>,
    most: Vec<i64>,
    places: i64,
}

/// Every way in which a colony may give, nothing at all included where that is allowed.
pub fn ways(case: &Case, at: usize) -> Vec<Way> {
    let donor = Donor::new(case, at);
    let mut found = Vec::new();
    let sites = case.sites.len();
    let mut taken = Taken {
        groups: vec![0; donor.colony.frames.len()],
        lines: vec![0; case.lines.len()],
        least: vec![0; sites],
        most: vec![0; sites],
        places: 0,
    };
    donor.spread(0, 0, &mut taken, &mut found);
    donor.pool(found)
}

impl<'a> Donor<'a> {
    pub fn new(case: &'a Case, at: usize) -> Self {
        let scenario = &case.split.scenario;
        let colony = &scenario.colonies[at];
        let mut donor = Self {
            case,
            at,
            colony,
            rates: honey::rates(&scenario.combs, colony, &scenario.colony_model),
            all: Frames::default(),
            gone: Frames::default(),
            bees_gone: case.split.gone[at].bees,
            at_hand: 0,
        };
        let counts: Vec<i64> = colony.frames.iter().map(|g| g.count.into()).collect();
        donor.all = donor.sum(&counts);
        donor.all.bees += colony.extra_bees.0;
        let counted = |g: &FrameGroup| if g.queen { 0 } else { i64::from(g.count) };
        let able: Vec<i64> = colony.frames.iter().map(counted).collect();
        donor.at_hand = match colony.apart {
            true => donor.all.bees,
            false => donor.sum(&able).bees,
        };
        donor.gone = donor.sum(&case.split.gone[at].groups);
        donor
    }

    fn sum(&self, counts: &[i64]) -> Frames {
        let mut sum = Frames::default();
        for (group, &count) in self.colony.frames.iter().zip(counts) {
            let frame = &group.frame;
            let comb = &self.case.split.scenario.combs[frame.comb.0];
            let cells = part(frame.brood, comb.cells);
            sum.frames += count;
            sum.brood += count * frame.brood.0;
            sum.cells += count * cells;
            sum.cover += count * frame.brood.0 * comb.bees.0;
            sum.stores += count * part(frame.stores, comb.stores.0);
            sum.drawn += count * frame.drawn.0;
            sum.charge += count * self.charge(frame);
            sum.bees += count * frame.bees.0;
        }
        sum
    }

    /// Grams charged for one frame.
    fn charge(&self, frame: &FrameState) -> i64 {
        if self.colony.crop.is_none() {
            return 0;
        }
        let comb = &self.case.split.scenario.combs[frame.comb.0];
        let sealed = part(frame.sealed, comb.cells);
        let open = part(frame.brood, comb.cells) - sealed;
        let micrograms = sealed * self.rates.sealed + open * self.rates.open;
        part(frame.stores, comb.stores.0) + (micrograms + 999_999) / 1_000_000
    }

    /// Grams given up where so many frames more of each group and so many hundreds more leave.
    pub fn honey(&self, groups: &[i64], bees: i64) -> i64 {
        let each = match self.colony.crop {
            Some(_) => (self.rates.bees + 9_999) / 10_000,
            None => 0,
        };
        self.gone.charge + self.sum(groups).charge + each * (self.bees_gone + bees)
    }

    /// Goes through the lines that a frame of `group` may serve, from `line` on.
    fn spread(&self, group: usize, line: usize, taken: &mut Taken, found: &mut Vec<Way>) {
        let Some(of) = self.colony.frames.get(group) else {
            return self.with_bees(taken, found);
        };
        if line == self.case.lines.len() || of.queen || self.colony.hold.is_some() {
            return self.spread(group + 1, 0, taken, found);
        }
        self.spread(group, line + 1, taken, found);
        let (ask, site) = self.case.lines[line];
        let Some(place) = place(ask, &of.frame) else {
            return;
        };
        let left = i64::from(of.count) - self.case.split.gone[self.at].groups[group];
        let left = left - taken.groups[group];
        let room = self.case.wanted[line] - taken.lines[line];
        let (least, most) = match of.frame.brood.0 > 0 {
            true => (
                (self.colony.rides.0 * of.frame.bees.0 + 99) / 100,
                of.frame.bees.0,
            ),
            false => (0, 0),
        };
        let before = taken.clone();
        for _ in 0..left.min(room) {
            taken.groups[group] += 1;
            taken.lines[line] += 1;
            taken.least[site] += least;
            taken.most[site] += most;
            taken.places += place;
            self.spread(group, line + 1, taken, found);
        }
        *taken = before;
    }

    /// Goes through all bees that may go with these frames.
    fn with_bees(&self, taken: &Taken, found: &mut Vec<Way>) {
        let new = self.sum(&taken.groups);
        if self.wishes_fail(taken) || new.frames > 0 && !self.may_give(&new, 0) {
            return;
        }
        let mut gives = [0; 20];
        for (given, &frames) in gives.iter_mut().zip(&taken.lines) {
            *given = narrow(frames);
        }
        let mut own = Vec::new();
        self.bees(0, 0, taken, &new, &mut gives, &mut own);
        found.extend(self.pool(own));
    }

    fn pool(&self, ways: Vec<Way>) -> Vec<Way> {
        let capped = self.case.split.scenario.honey_cap.is_some();
        pool(ways, self.case.lines.len(), capped)
    }

    /// Goes through what rides to the sites from `site` on, and what goes loose.
    fn bees(
        &self,
        site: usize,
        bees: i64,
        taken: &Taken,
        new: &Frames,
        gives: &mut Sums,
        found: &mut Vec<Way>,
    ) {
        let (lines, sites) = (self.case.lines.len(), self.case.sites.len());
        if site == sites {
            if let Some((cost, honey)) = self.cost(taken, new, bees) {
                let gives = *gives;
                found.push(Way { gives, cost, honey });
            }
            return;
        }
        let scenario = &self.case.split.scenario;
        let stays = stay(scenario, self.colony, self.case.sites[site]);
        let (wanted, wanted_loose) = (
            self.case.wanted[lines + site],
            self.case.wanted[lines + sites + site],
        );
        // Loose bees that do it alone; more never help. A colony on hold gives none.
        let alone = match stays {
            0 => 0,
            _ if self.colony.hold.is_some() => 0,
            _ => (wanted.max(wanted_loose) + stays - 1) / stays,
        };
        for riding in taken.least[site]..=taken.most[site] {
            for loose in 0..=alone {
                let sum = bees + riding + loose;
                if sum > 0 && !self.may_give(new, sum) {
                    break;
                }
                gives[lines + site] = narrow(wanted.min(stays * (riding + loose)));
                gives[lines + sites + site] = narrow(wanted_loose.min(stays * loose));
                self.bees(site + 1, sum, taken, new, gives, found);
            }
        }
    }

    /// Rules keep and draw, where so much more leaves.
    fn may_give(&self, new: &Frames, bees: i64) -> bool {
        let (all, gone) = (&self.all, &self.gone);
        let (keep, draw) = (&self.colony.keep, &self.colony.draw);
        let cap = |cap: Option<i64>| cap.unwrap_or(i64::MAX);
        let (before, cover) = (all.bees - self.bees_gone, all.cover - gone.cover);
        let (left, cover_left) = (before - bees, cover - new.cover);
        let covered = 100_000 * left >= keep.covered.0 * cover_left
            || left * all.cover >= all.bees * cover_left
            || left * cover >= before * cover_left;
        // A floor asks for no more than there is, a cap allows what is done.
        let keeps =
            |all: i64, gone: i64, new: i64, keep: i64| all - gone - new >= keep.min(all - gone);
        let within = |gone: i64, new: i64, most: i64| gone + new <= most.max(gone);
        let honey = self.honey(&[], 0);
        keeps(all.brood, gone.brood, new.brood, keep.brood.0)
            && keeps(all.bees, self.bees_gone, bees, keep.bees.0)
            && keeps(all.stores, gone.stores, new.stores, keep.stores.0)
            && keeps(all.drawn, gone.drawn, new.drawn, keep.drawn.0)
            && covered
            && within(gone.frames, new.frames, cap(draw.frames.map(i64::from)))
            && within(gone.brood, new.brood, cap(draw.brood.map(|b| b.0)))
            && within(self.bees_gone, bees, cap(draw.bees.map(|b| b.0)))
            && within(self.bees_gone, bees, self.at_hand)
            && within(
                honey,
                self.honey_with(new, bees) - honey,
                cap(draw.honey.map(|h| h.0)),
            )
    }

    fn honey_with(&self, new: &Frames, bees: i64) -> i64 {
        self.honey(&[], bees) + new.charge
    }

    fn wishes_fail(&self, taken: &Taken) -> bool {
        let gone = &self.case.split.gone[self.at].groups;
        let given = |group: usize| gone[group] + taken.groups[group];
        let met = |give: &Give| {
            let sum: i64 = match give.group {
                Some(group) if group < gone.len() => given(group),
                Some(_) => 0,
                None => (0..gone.len()).map(given).sum(),
            };
            sum >= i64::from(give.frames)
        };
        let wishes = self.case.split.scenario.gives.iter();
        !wishes.filter(|give| give.colony.0 == self.at).all(met)
    }

    /// Cost and honey of a colony that gives so much more; `None` where it may not.
    fn cost(&self, taken: &Taken, new: &Frames, bees: i64) -> Option<(i64, i64)> {
        let opens = new.frames > 0 || bees > 0;
        if opens && !self.may_give(new, bees) {
            return None;
        }
        let prices = &self.case.split.scenario.prices;
        let honey = self.honey_with(new, bees);
        let opened = opens || self.case.split.gone[self.at].opened();
        let cost = honey
            + prices.burden.0 * self.burden(new, bees)
            + prices.substitute.0 * taken.places
            + prices.opened.0 * i64::from(opened)
            + prices.otherwise.0 * self.otherwise(taken);
        Some((cost, honey))
    }

    fn burden(&self, new: &Frames, bees: i64) -> i64 {
        if self.colony.apart {
            return 0;
        }
        let up = |taken: i64, before: i64| match before {
            0 => 0,
            _ => (100 * taken + before - 1) / before,
        };
        let share = up(self.bees_gone + bees, self.all.bees)
            .max(up(self.gone.cells + new.cells, self.all.cells));
        share
            + [20, 40, 60, 80]
                .map(|from| (share - from).max(0))
                .iter()
                .sum::<i64>()
    }

    fn otherwise(&self, taken: &Taken) -> i64 {
        let Some(then) = self.case.then else {
            return 0;
        };
        let gone = &self.case.split.gone[self.at].groups;
        let apart = (0..gone.len()).map(|group| {
            let key = (ColonyId(self.at), group);
            let then = then.get(&key).map_or(0, |&count| count as i64);
            (gone[group] + taken.groups[group] - then).abs()
        });
        apart.sum()
    }
}
