//! Colonies that may give, with what floors, caps and what is done leave.

use std::collections::BTreeMap;

use itertools::Itertools;

use super::done::Done;
use super::gone::{Gone, all_bees, can_be_taken, cells, charge, share};
use super::kinds::stay;
use super::{BoxSite, Covered, Donor, Item, Part};
use crate::honey::{self, HoneyRates};
use crate::plan::Origin;
use crate::scenario::{Colony, ColonyId, FrameGroup, FrameState, Scenario};
use crate::units::share_of;

/// What donors are made from.
pub(super) struct Yard<'a> {
    pub scenario: &'a Scenario,
    pub done: &'a Done,
    pub sites: &'a [BoxSite],
    /// Frames that an earlier plan draws from each group.
    pub then: &'a BTreeMap<(ColonyId, usize), u64>,
}

/// What there still is in a colony.
#[derive(Default)]
struct There {
    brood: i64,
    stores: i64,
    drawn: i64,
    cover: i64,
    /// Cover before anything was done.
    cover_before: i64,
}

impl Yard<'_> {
    /// All donors by name.
    pub fn donors(&self, class_of: impl Fn(&FrameState) -> Option<usize>) -> Vec<Donor> {
        let colonies = &self.scenario.colonies;
        (0..colonies.len())
            .sorted_by(|&a, &b| colonies[a].name.cmp(&colonies[b].name))
            .filter_map(|index| self.donor(ColonyId(index), &class_of))
            .collect()
    }

    /// `None` for a colony on hold, or one with nothing to give. Of what it is below a floor of, or beyond a cap, it gives
    /// no more.
    fn donor(
        &self,
        id: ColonyId,
        class_of: impl Fn(&FrameState) -> Option<usize>,
    ) -> Option<Donor> {
        let colony = &self.scenario.colonies[id.0];
        if colony.hold.is_some() {
            return None;
        }
        let rates = honey::rates(&self.scenario.combs, colony, &self.scenario.colony_model);
        let gone = Gone::of(self.scenario, id, rates, self.done);
        let there = self.there(id, colony);
        let bees = all_bees(colony).saturating_sub(gone.bees);
        let (keep, draw) = (colony.keep, colony.draw);
        let room = |most: i64, gone: i64| (most - gone).max(0);
        let cap = |most: Option<i64>, gone: i64| most.map_or(i64::MAX, |most| room(most, gone));
        let donor = Donor {
            id,
            home: colony.site,
            items: self.items(id, colony, rates, class_of),
            frames: cap(draw.frames.map(i64::from), gone.frames).min(i64::from(u32::MAX)),
            brood: room(there.brood, keep.brood.0)
                .min(cap(draw.brood.map(|most| most.0), gone.brood)),
            stores: room(there.stores, keep.stores.0),
            drawn: room(there.drawn, keep.drawn.0),
            bees: room(bees, keep.bees.0)
                .min(cap(draw.bees.map(|most| most.0), gone.bees))
                .min(room(can_be_taken(colony), gone.bees)),
            honey: draw.honey.map(|most| room(most.0, gone.charge)),
            hundred: honey::hundred_charge(rates).0,
            stay: self.stay(colony),
            covered: covered(
                keep.covered.0,
                (all_bees(colony), there.cover_before),
                (bees, there.cover),
            ),
            burden: share(self.scenario, colony, &gone),
            opened: self.done.opened(id),
            give: self.wish(id, None),
        };
        (!donor.items.is_empty() || donor.bees > 0).then_some(donor)
    }

    fn stay(&self, colony: &Colony) -> Vec<i64> {
        let sites = self.sites.iter();
        sites
            .map(|site| stay(self.scenario, colony.site, site.id))
            .collect()
    }

    /// Frames of a group that are still there.
    fn left(&self, id: ColonyId, index: usize, group: &FrameGroup) -> u32 {
        let gone = self.done.frames(Origin::Colony(id, index));
        group.count.saturating_sub(gone)
    }

    fn there(&self, id: ColonyId, colony: &Colony) -> There {
        let mut there = There::default();
        for (index, group) in colony.frames.iter().enumerate() {
            let count = i64::from(self.left(id, index, group));
            let figures = self.item(colony, &group.frame, HoneyRates::default());
            there.brood += count * figures.brood;
            there.stores += count * figures.stores;
            there.drawn += count * figures.drawn;
            there.cover += count * figures.cover;
            there.cover_before += i64::from(group.count) * figures.cover;
        }
        there
    }

    /// Frames that may leave, those that are alike together.
    fn items(
        &self,
        id: ColonyId,
        colony: &Colony,
        rates: HoneyRates,
        class_of: impl Fn(&FrameState) -> Option<usize>,
    ) -> Vec<Item> {
        let mut items: Vec<(FrameState, Item)> = Vec::new();
        let wish = |index: usize| self.wish(id, Some(index));
        let order = (0..colony.frames.len())
            .sorted_by_key(|&index| (colony.frames[index].frame, wish(index)));
        for index in order {
            let group = &colony.frames[index];
            let count = self.left(id, index, group);
            let Some(class) = class_of(&group.frame).filter(|_| !group.queen && count > 0) else {
                continue;
            };
            let part = self.part(id, index, count);
            let give = wish(index);
            match items.last_mut() {
                Some((frame, same)) if *frame == group.frame && give == 0 && same.give == 0 => {
                    same.count = same.count.saturating_add(count);
                    same.parts.push(part);
                }
                _ => {
                    let item = Item {
                        class,
                        count,
                        parts: vec![part],
                        give,
                        ..self.item(colony, &group.frame, rates)
                    };
                    items.push((group.frame, item));
                }
            }
        }
        items.into_iter().map(|(_, item)| item).collect()
    }

    fn part(&self, id: ColonyId, group: usize, count: u32) -> Part {
        let gone = self.done.frames(Origin::Colony(id, group));
        let then = self.then.get(&(id, group)).copied().unwrap_or(0);
        let then = then.saturating_sub(u64::from(gone));
        Part {
            group,
            count,
            then: u32::try_from(then).map_or(count, |then| then.min(count)),
        }
    }

    /// The figures of one frame, without its place among others.
    fn item(&self, colony: &Colony, frame: &FrameState, rates: HoneyRates) -> Item {
        let comb = self.scenario.combs.get(frame.comb.0);
        let least = -(-colony.rides.0 * frame.bees.0).div_euclid(100);
        Item {
            class: 0,
            count: 0,
            brood: frame.brood.0,
            cells: cells(self.scenario, frame),
            cover: comb.map_or(0, |comb| frame.brood.0 * comb.bees.0),
            stores: comb.map_or(0, |comb| share_of(frame.stores, comb.stores.0)),
            drawn: frame.drawn.0,
            bees: frame.bees.0,
            least: if frame.brood.0 > 0 { least } else { 0 },
            charge: charge(self.scenario, frame, rates),
            parts: Vec::new(),
            give: 0,
        }
    }

    /// The most frames that are still wished for from a colony, or from one of its groups.
    fn wish(&self, id: ColonyId, group: Option<usize>) -> u32 {
        let wishes = self.scenario.gives.iter();
        let wishes = wishes.filter(|give| give.colony == id && give.group == group);
        wishes
            .map(|give| self.done.left_of(give))
            .max()
            .unwrap_or(0)
    }
}

impl Donor {
    /// Frames of an item that may leave if no other does.
    pub fn room(&self, item: &Item) -> i64 {
        let rooms = [
            (self.brood, item.brood),
            (self.stores, item.stores),
            (self.drawn, item.drawn),
            (self.bees, item.least),
        ];
        let rooms = rooms.into_iter().filter(|&(_, of_frame)| of_frame > 0);
        let rooms = rooms.map(|(room, of_frame)| room / of_frame);
        rooms
            .min()
            .map_or(self.frames, |room| room.min(self.frames))
    }

    /// Hundreds of bees that may leave beside frames of this cover and charge; below 0 where none fit.
    pub fn most_bees(&self, cover: i64, charge: i64) -> i64 {
        let covered = &self.covered;
        let mut most = self.bees.min(covered.bees);
        if covered.per > 0 && covered.times > 0 {
            let stays = i128::from(covered.per) * i128::from(covered.cover - cover);
            let times = i128::from(covered.times);
            let must = (stays + times - 1).div_euclid(times);
            let room = i128::from(covered.bees) - must;
            most = i64::try_from(room).map_or(most, |room| most.min(room));
        }
        if let Some(honey) = self.honey {
            if charge > honey {
                return -1;
            }
            if self.hundred > 0 {
                most = most.min((honey - charge) / self.hundred);
            }
        }
        most
    }
}

/// Floor covered of so many percent, in a colony with these bees and this brood to cover before anything
/// was done, and now: the least of the three is enough.
fn covered(percent: i64, before: (i64, i64), now: (i64, i64)) -> Covered {
    let (mut per, mut times) = (percent, 100_000);
    for (bees, cover) in [before, now] {
        if i128::from(bees) * i128::from(times) < i128::from(per) * i128::from(cover) {
            (per, times) = (bees, cover);
        }
    }
    let (bees, cover) = now;
    let by = divisor(times, per).max(1);
    Covered {
        times: times / by,
        per: per / by,
        bees,
        cover,
    }
}

/// The greatest common divisor; 0 of nothing.
pub(crate) fn divisor(a: i64, b: i64) -> i64 {
    if b == 0 { a.abs() } else { divisor(b, a % b) }
}
