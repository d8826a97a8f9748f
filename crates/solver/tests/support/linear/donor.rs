//! The rows of one colony: what stays, what rides, what it costs.

use super::{Column, Filled, Rows, Sense, Sum};
use crate::support::enumerate::{Then, part, stay};
use crate::support::split::Split;
use spareframe_solver::*;

/// A figure of one frame.
type Figure<'a> = &'a dyn Fn(&FrameState) -> i64;

pub(super) struct Donor<'a> {
    split: &'a Split,
    at: usize,
    colony: &'a Colony,
    then: Option<&'a Then>,
}

/// Columns of what it gives.
#[derive(Default)]
struct Given {
    /// With the group and the site.
    frames: Vec<(Column, usize, SiteId)>,
    /// Hundreds that ride, and loose ones, by site.
    bees: Vec<(Column, SiteId)>,
}

impl<'a> Donor<'a> {
    pub fn new(split: &'a Split, at: usize, then: Option<&'a Then>) -> Self {
        let colony = &split.scenario.colonies[at];
        Self {
            split,
            at,
            colony,
            then,
        }
    }

    pub fn rows(&self, rows: &mut Rows, filled: &mut Filled) {
        let mut given = Given::default();
        if self.colony.hold.is_none() {
            self.columns(rows, filled, &mut given);
            self.limits(rows, &given);
        }
        self.honey(rows, &given);
        self.burden(rows, &given);
        self.opened(rows, &given);
        self.near(rows, &given);
        self.wishes(rows, &given);
    }

    /// A sum over all its frames, and over those that are gone.
    fn total(&self, figure: Figure) -> (i64, i64) {
        let (mut all, mut gone) = (0, 0);
        for (at, group) in self.colony.frames.iter().enumerate() {
            all += figure(&group.frame) * i64::from(group.count);
            gone += figure(&group.frame) * self.gone().groups[at];
        }
        (all, gone)
    }

    fn gone(&self) -> &crate::support::split::Gone {
        &self.split.gone[self.at]
    }

    fn comb(&self, frame: &FrameState) -> &Comb {
        &self.split.scenario.combs[frame.comb.0]
    }

    fn stores(&self, frame: &FrameState) -> i64 {
        part(frame.stores, self.comb(frame).stores.0)
    }

    fn cells(&self, frame: &FrameState) -> i64 {
        part(frame.brood, self.comb(frame).cells)
    }

    fn bees_before(&self) -> i64 {
        self.total(&|frame| frame.bees.0).0 + self.colony.extra_bees.0
    }

    /// Hundreds that can be taken: on frames without the queen, or all where it is taken apart.
    fn at_hand(&self) -> i64 {
        if self.colony.apart {
            return self.bees_before();
        }
        let groups = self.colony.frames.iter().filter(|group| !group.queen);
        groups.map(|g| g.frame.bees.0 * i64::from(g.count)).sum()
    }

    /// What may still leave of brood, stores, drawn comb, frames and bees, in this order.
    fn left(&self) -> [i64; 5] {
        let (keep, draw) = (&self.colony.keep, &self.colony.draw);
        let cap = |cap: Option<i64>, gone: i64| cap.map_or(i64::MAX, |cap| cap - gone);
        let floor = |(all, gone): (i64, i64), keep: i64| all - gone - keep;
        let brood = self.total(&|frame| frame.brood.0);
        let frames = self.total(&|_| 1);
        let gone = self.gone().bees;
        let bees = self.bees_before() - gone - keep.bees.0;
        let left = [
            floor(brood, keep.brood.0).min(cap(draw.brood.map(|b| b.0), brood.1)),
            floor(self.total(&|frame| self.stores(frame)), keep.stores.0),
            floor(self.total(&|frame| frame.drawn.0), keep.drawn.0),
            (frames.0 - frames.1).min(cap(draw.frames.map(i64::from), frames.1)),
            bees.min(cap(draw.bees.map(|b| b.0), gone))
                .min(self.at_hand() - gone),
        ];
        // Below a floor or beyond a cap it gives no more of that.
        left.map(|left| left.max(0))
    }

    fn columns(&self, rows: &mut Rows, filled: &mut Filled, given: &mut Given) {
        let scenario = &self.split.scenario;
        for (at, group) in self.colony.frames.iter().enumerate() {
            let there = i64::from(group.count) - self.gone().groups[at];
            if !group.queen {
                let columns = rows.serve(scenario, &group.frame, there, filled);
                let columns = columns.into_iter();
                given
                    .frames
                    .extend(columns.map(|(column, site)| (column, at, site)));
            }
        }
        let most = self.left()[4];
        for site in (0..scenario.sites.len()).map(SiteId) {
            if scenario.boxes.iter().any(|kind| kind.site == site) {
                self.bees(rows, filled, given, site, most);
            }
        }
    }

    /// Rule ride, and what stays of the bees at a site.
    fn bees(
        &self,
        rows: &mut Rows,
        filled: &mut Filled,
        given: &mut Given,
        site: SiteId,
        most: i64,
    ) {
        let (riding, loose) = (rows.column(most), rows.column(most));
        let least = |f: &FrameState| (self.colony.rides.0 * f.bees.0 + 99).div_euclid(100);
        let (mut low, mut high) = (vec![(riding, -1)], vec![(riding, -1)]);
        for &(column, group, to) in &given.frames {
            let frame = &self.colony.frames[group].frame;
            if to == site && frame.brood.0 > 0 {
                low.push((column, least(frame)));
                high.push((column, frame.bees.0));
            }
        }
        rows.row(low, Sense::AtMost, 0);
        rows.row(high, Sense::AtLeast, 0);
        let stays = stay(&self.split.scenario, self.colony, site);
        let [all, alone] = &mut filled.staying[site.0];
        all.extend([(riding, stays), (loose, stays)]);
        alone.push((loose, stays));
        given.bees.extend([(riding, site), (loose, site)]);
    }

    /// A figure summed over the frames that leave.
    fn sum(&self, given: &Given, figure: Figure) -> Sum {
        let frames = given.frames.iter();
        let of = |&(column, group, _): &(Column, usize, SiteId)| {
            (column, figure(&self.colony.frames[group].frame))
        };
        frames.map(of).collect()
    }

    fn taken(given: &Given, each: i64) -> Sum {
        given
            .bees
            .iter()
            .map(|&(column, _)| (column, each))
            .collect()
    }

    /// Rules keep and draw.
    fn limits(&self, rows: &mut Rows, given: &Given) {
        let [brood, stores, drawn, frames, bees] = self.left();
        let at_most = Sense::AtMost;
        rows.row(self.sum(given, &|frame| frame.brood.0), at_most, brood);
        rows.row(
            self.sum(given, &|frame| self.stores(frame)),
            at_most,
            stores,
        );
        rows.row(self.sum(given, &|frame| frame.drawn.0), at_most, drawn);
        rows.row(self.sum(given, &|_| 1), at_most, frames);
        rows.row(Self::taken(given, 1), at_most, bees);
        self.covered(rows, given);
    }

    /// Bees that stay cover brood that stays, or as well as before, or as after what is done: the least of
    /// these.
    fn covered(&self, rows: &mut Rows, given: &Given) {
        let cover = |frame: &FrameState| frame.brood.0 * self.comb(frame).bees.0;
        let (all, gone) = self.total(&cover);
        let (before, cover_before) = (self.bees_before() - self.gone().bees, all - gone);
        // times * (before - taken) >= per * (cover before - cover taken)
        let (mut times, mut per) = (100_000, self.colony.keep.covered.0);
        for (bees, cover) in [(self.bees_before(), all), (before, cover_before)] {
            if cover > 0 && bees * times < per * cover {
                (times, per) = (cover, bees);
            }
        }
        let mut sum = Self::taken(given, -times);
        sum.extend(self.sum(given, &|frame| per * cover(frame)));
        let rhs = per * cover_before - times * before;
        let divisor = sum
            .iter()
            .fold(rhs.abs(), |d, &(_, each)| divisor(d, each.abs()));
        let divisor = divisor.max(1);
        let sum = sum
            .into_iter()
            .map(|(column, each)| (column, each / divisor));
        rows.row(sum.collect(), Sense::AtLeast, rhs / divisor);
    }

    /// Grams charged for a frame, and for a hundred bees.
    fn charge(&self, frame: &FrameState) -> i64 {
        let rates = self.rates();
        let sealed = part(frame.sealed, self.comb(frame).cells);
        let brood = sealed * rates.sealed + (self.cells(frame) - sealed) * rates.open;
        match self.colony.crop {
            Some(_) => self.stores(frame) - (-brood).div_euclid(1_000_000),
            None => 0,
        }
    }

    fn rates(&self) -> honey::HoneyRates {
        let scenario = &self.split.scenario;
        honey::rates(&scenario.combs, self.colony, &scenario.colony_model)
    }

    fn hundred(&self) -> i64 {
        match self.colony.crop {
            Some(_) => -(-self.rates().bees).div_euclid(10_000),
            None => 0,
        }
    }

    fn honey_gone(&self) -> i64 {
        self.total(&|frame| self.charge(frame)).1 + self.hundred() * self.gone().bees
    }

    fn honey(&self, rows: &mut Rows, given: &Given) {
        let mut honey = self.sum(given, &|frame| self.charge(frame));
        honey.extend(Self::taken(given, self.hundred()));
        honey.retain(|&(_, each)| each != 0);
        let gone = self.honey_gone();
        if let Some(cap) = self.colony.draw.honey {
            rows.row(honey.clone(), Sense::AtMost, (cap.0 - gone).max(0));
        }
        rows.cost.extend(honey.iter().copied());
        rows.honey.extend(honey);
        rows.base += gone;
        rows.honey_base += gone;
    }

    /// Points of the share given, and its convex pieces: those beyond 20, 40, 60 and 80 weigh more.
    fn burden(&self, rows: &mut Rows, given: &Given) {
        if self.colony.apart {
            return;
        }
        let price = self.split.scenario.prices.burden.0;
        let (cells, cells_gone) = self.total(&|frame| self.cells(frame));
        let points = rows.column(100);
        rows.cost.push((points, price));
        let taken = Self::taken(given, 100);
        self.share(rows, points, taken, self.gone().bees, self.bees_before());
        let taken = self.sum(given, &|frame| 100 * self.cells(frame));
        self.share(rows, points, taken, cells_gone, cells);
        for from in [20, 40, 60, 80] {
            let beyond = rows.column(100 - from);
            rows.cost.push((beyond, price));
            rows.row(vec![(points, 1), (beyond, -1)], Sense::AtMost, from);
        }
    }

    /// `100 * (gone + taken) <= points * before`
    fn share(&self, rows: &mut Rows, points: Column, mut taken: Sum, gone: i64, before: i64) {
        taken.push((points, -before));
        rows.row(taken, Sense::AtMost, -100 * gone);
    }

    fn opened(&self, rows: &mut Rows, given: &Given) {
        let price = self.split.scenario.prices.opened.0;
        if self.gone().opened() {
            rows.base += price;
            return;
        }
        let opened = rows.column(1);
        rows.cost.push((opened, price));
        let frames = given.frames.iter().map(|&(column, ..)| column);
        let columns: Vec<Column> = frames.chain(given.bees.iter().map(|&(c, _)| c)).collect();
        for column in columns {
            let most = rows.model.columns[column];
            rows.row(vec![(column, 1), (opened, -most)], Sense::AtMost, 0);
        }
    }

    /// How far each group's frames are from those that an earlier plan takes.
    fn near(&self, rows: &mut Rows, given: &Given) {
        let Some(then) = self.then else {
            return;
        };
        for (group, &gone) in self.gone().groups.iter().enumerate() {
            let then = then.get(&(ColonyId(self.at), group));
            let then = then.map_or(0, |&count| count as i64);
            let apart = rows.column(1000);
            rows.cost
                .push((apart, self.split.scenario.prices.otherwise.0));
            for sign in [1, -1] {
                let frames = given.frames.iter().filter(|&&(_, of, _)| of == group);
                let mut sum: Sum = frames.map(|&(column, ..)| (column, sign)).collect();
                sum.push((apart, -1));
                rows.row(sum, Sense::AtMost, sign * (then - gone));
            }
        }
    }

    /// Rule give.
    fn wishes(&self, rows: &mut Rows, given: &Given) {
        let gone = &self.gone().groups;
        let own = |give: &&Give| give.colony.0 == self.at;
        for give in self.split.scenario.gives.iter().filter(own) {
            let wished = |group: usize| give.group.is_none_or(|of| of == group);
            let frames = given.frames.iter().filter(|&&(_, group, _)| wished(group));
            let sum: Sum = frames.map(|&(column, ..)| (column, 1)).collect();
            let met: i64 = (0..gone.len())
                .filter(|&g| wished(g))
                .map(|g| gone[g])
                .sum();
            rows.row(sum, Sense::AtLeast, i64::from(give.frames) - met);
        }
    }
}

fn divisor(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { divisor(b, a % b) }
}
