//! Brood is spared, and honey, where comb serves as well and costs no more: a tie that the totals leave open.

use std::collections::BTreeMap;

use itertools::Itertools;

use super::Totals;
use super::piles::Source;
use crate::scenario::{FrameState, Scenario};
use crate::solve::instance::{Instance, Item};
use crate::solve::master::cost_of;

/// Exchanges frames with brood for frames without, then combs of stores, where none are asked for, for such with less;
/// of the same colony or of the shelf, as far as that breaks no rule and costs no more. Bees that would have ridden are
/// taken all the same.
pub(crate) fn spare(scenario: &Scenario, instance: &Instance, mut totals: Totals) -> Totals {
    let combs = Combs { scenario, instance };
    let with_brood = |source: Source| combs.frame(source, 0).is_some_and(|f| f.brood.0 > 0);
    for (source, need) in served(&totals) {
        for comb in combs.as_good(source, need) {
            let spares = |totals: &Totals| match with_brood(source) {
                true => combs.free(totals, comb).is_some(),
                false => combs.holds_less(totals, (source, need), comb),
            };
            while spares(&totals)
                && let Some(spared) = exchanged(instance, &totals, (source, need), comb)
            {
                totals = spared;
            }
        }
    }
    totals
}

/// What serves which need.
fn served(totals: &Totals) -> Vec<(Source, usize)> {
    let items = totals.frames.keys();
    let items = items.map(|&(donor, item, need)| (Source::Item(donor, item), need));
    let shelf = totals.shelf.keys();
    let shelf = shelf.map(|&(class, need)| (Source::Shelf(class), need));
    items.chain(shelf).collect()
}

/// Frames by source.
struct Combs<'a> {
    scenario: &'a Scenario,
    instance: &'a Instance,
}

impl Combs<'_> {
    fn class(&self, source: Source) -> usize {
        match source {
            Source::Item(donor, item) => self.instance.donors[donor].items[item].class,
            Source::Shelf(class) => class,
        }
    }

    /// What has no brood and serves the same need as well: of the same colony or of the shelf, the emptiest first.
    fn as_good(&self, source: Source, need: usize) -> Vec<Source> {
        let place = |source: Source| self.instance.classes[self.class(source)][need];
        let shelf = (0..self.instance.shelf.len()).map(Source::Shelf);
        let items = source
            .donor()
            .map_or(0..0, |at| 0..self.instance.donors[at].items.len());
        let items = items.map(|item| Source::Item(source.donor().unwrap_or(0), item));
        let no_brood = |&other: &Source| self.frame(other, 0).is_some_and(|f| f.brood.0 == 0);
        let as_well = |&other: &Source| {
            other != source && place(other).is_some() && place(other) <= place(source)
        };
        let found = shelf.chain(items).filter(no_brood).filter(as_well);
        let stores = |&other: &Source| self.frame(other, 0).map(|frame| frame.stores);
        found.sorted_by_key(stores).collect()
    }

    /// A frame of a source, by its number among all that it has.
    fn frame(&self, source: Source, number: u32) -> Option<&FrameState> {
        match source {
            Source::Item(donor, item) => {
                let donor = &self.instance.donors[donor];
                let group = donor.items[item].parts.first()?.group;
                Some(&self.scenario.colonies[donor.id.0].frames[group].frame)
            }
            Source::Shelf(class) => {
                let mut before = 0;
                let entries = self.instance.shelf[class].iter();
                let mut entries = entries.filter(|(_, count)| {
                    before += count;
                    before > number
                });
                let &(entry, _) = entries.next()?;
                Some(&self.scenario.store_room[entry].frame)
            }
        }
    }

    /// The next frame of a source that is not used.
    fn free(&self, totals: &Totals, source: Source) -> Option<&FrameState> {
        let used = used(totals, source);
        let count = match source {
            Source::Item(donor, item) => self.instance.donors[donor].items[item].count,
            Source::Shelf(class) => self.instance.shelf[class].iter().map(|(_, n)| n).sum(),
        };
        self.frame(source, used).filter(|_| count > used)
    }

    /// Whether a frame that serves a need without stores has more of them than what is free elsewhere.
    fn holds_less(&self, totals: &Totals, (source, need): (Source, usize), comb: Source) -> bool {
        let own = self.frame(source, used(totals, source).saturating_sub(1));
        let place = self.instance.classes[self.class(source)][need];
        let of = &self.instance.needs[need];
        let kind = &self.instance.kinds[of.kind];
        let boxes = &self.scenario.boxes[kind.id.0];
        let line = match kind.again {
            true => &boxes.again.lines[of.line],
            false => &boxes.lines[of.line],
        };
        let ask = match place.map(usize::from) {
            None | Some(0) => Some(&line.ask),
            Some(place) => line.substitutes.get(place - 1).map(|other| &other.ask),
        };
        let asks_for_none = ask.is_some_and(|ask| ask.stores.least.0 == 0);
        let less = own.zip(self.free(totals, comb));
        asks_for_none && less.is_some_and(|(own, comb)| comb.stores < own.stores)
    }
}

/// Frames of a source that are used.
fn used(totals: &Totals, source: Source) -> u32 {
    match source {
        Source::Item(donor, item) => {
            let given = totals.frames.range((donor, item, 0)..(donor, item + 1, 0));
            given.map(|(_, count)| count).sum()
        }
        Source::Shelf(class) => {
            let given = totals.shelf.range((class, 0)..(class + 1, 0));
            given.map(|(_, count)| count).sum()
        }
    }
}

/// The totals with one frame exchanged; `None` where that breaks a rule or costs more.
fn exchanged(
    instance: &Instance,
    totals: &Totals,
    (source, need): (Source, usize),
    comb: Source,
) -> Option<Totals> {
    let mut other = totals.clone();
    match source {
        Source::Item(donor, item) => one_less(&mut other.frames, (donor, item, need))?,
        Source::Shelf(class) => one_less(&mut other.shelf, (class, need))?,
    }
    *match comb {
        Source::Item(donor, at) => other.frames.entry((donor, at, need)).or_default(),
        Source::Shelf(class) => other.shelf.entry((class, need)).or_default(),
    } += 1;
    let Source::Item(donor, item) = source else {
        return Some(other);
    };
    let of_item = &instance.donors[donor].items[item];
    if of_item.most_riding() > 0 {
        // As many leave all the same: as many ride as still can.
        let site = instance.kinds[instance.needs[need].kind].site;
        let room = may_ride(instance, &other, (donor, site));
        let bees = other.bees.entry((donor, site)).or_default();
        let all = bees.0 + bees.1;
        bees.0 = bees.0.min(room);
        bees.1 = all - bees.0;
    }
    let (before, after) = (cost_of(instance, totals), cost_of(instance, &other));
    let given_up = after.honey.0 - instance.base.honey.0;
    let cheap = after.total(&instance.prices) <= before.total(&instance.prices)
        && instance.honey_room.is_none_or(|room| given_up <= room);
    (cheap && may_give(instance, &other, donor)).then_some(other)
}

fn one_less<K: Ord>(counts: &mut BTreeMap<K, u32>, key: K) -> Option<()> {
    let left = counts.get(&key)?.checked_sub(1)?;
    match left {
        0 => counts.remove(&key),
        left => counts.insert(key, left),
    };
    Some(())
}

/// Hundreds of a donor that may ride to a site.
pub(super) fn may_ride(instance: &Instance, totals: &Totals, (donor, site): (usize, usize)) -> i64 {
    let frames = totals.frames.range((donor, 0, 0)..(donor + 1, 0, 0));
    let there =
        frames.filter(|((_, _, need), _)| instance.kinds[instance.needs[*need].kind].site == site);
    there
        .map(|(&(_, item, _), &count)| {
            instance.donors[donor].items[item].most_riding() * i64::from(count)
        })
        .sum()
}

/// Whether a colony may give what the totals take of it.
fn may_give(instance: &Instance, totals: &Totals, at: usize) -> bool {
    let donor = &instance.donors[at];
    let mut counts = vec![0; donor.items.len()];
    for (&(_, item, _), &count) in totals.frames.range((at, 0, 0)..(at + 1, 0, 0)) {
        counts[item] += i64::from(count);
    }
    let sum = |of: fn(&Item) -> i64| -> i64 {
        let items = donor.items.iter().zip(&counts);
        items.map(|(item, count)| count * of(item)).sum()
    };
    let bees = totals.bees.range((at, 0)..(at + 1, 0));
    let taken: i64 = bees.map(|(_, (riding, loose))| riding + loose).sum();
    let mut wishes = donor.items.iter().zip(&counts);
    (i64::from(donor.give)..=donor.frames).contains(&sum(|_| 1))
        && wishes.all(|(item, &count)| count >= i64::from(item.give))
        && sum(|item| item.brood) <= donor.brood
        && sum(|item| item.stores) <= donor.stores
        && sum(|item| item.drawn) <= donor.drawn
        && taken <= donor.most_bees(sum(|item| item.cover), sum(|item| item.charge))
}
