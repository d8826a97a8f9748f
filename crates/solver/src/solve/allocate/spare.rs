//! Brood is spared where comb serves as well and costs no more, stores where less full comb does, and colonies' frames
//! where those of the shelf do: ties that the totals leave open.

use std::collections::{BTreeMap, BTreeSet};

use itertools::Itertools;

use super::Totals;
use super::piles::Source;
use crate::plan::Cost;
use crate::scenario::{FrameState, Scenario};
use crate::solve::instance::{Instance, Item};
use crate::solve::master::{cost_of, cost_of_donor};

/// Exchanges frames with brood for frames without, then those with stores, where none are asked for, for such with
/// less, then those of colonies for such of the shelf; of the shelf or of the same colony, those of the shelf also of
/// colonies that are opened, as far as that breaks no rule and costs no more. Bees that would have ridden are taken all the same.
pub(crate) fn spare(scenario: &Scenario, instance: &Instance, mut totals: Totals) -> Totals {
    let of_frames = totals.frames.keys().map(|&(donor, _, _)| donor);
    let opened = of_frames.chain(totals.bees.keys().map(|&(donor, _)| donor));
    let combs = Combs {
        scenario,
        instance,
        opened: opened.collect(),
    };
    for used in served(&totals) {
        for comb in combs.as_good(used) {
            while combs.spares(&totals, used, comb) && exchange(instance, &mut totals, used, comb) {
            }
        }
    }
    totals
}

/// Frames of a source that serve a need.
type Served = (Source, usize);

fn served(totals: &Totals) -> Vec<Served> {
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
    /// Donors that are opened.
    opened: BTreeSet<usize>,
}

impl Combs<'_> {
    /// Without brood, and serves the same need as well, the emptiest first.
    fn as_good(&self, (source, need): Served) -> Vec<Source> {
        let place = |source: Source| self.instance.classes[source.class(self.instance)][need];
        let shelf = (0..self.instance.shelf.len()).map(Source::Shelf);
        let donors = match source.donor() {
            Some(donor) => BTreeSet::from([donor]),
            None => self.opened.clone(),
        };
        let own = donors.into_iter().flat_map(|donor| {
            let items = 0..self.instance.donors[donor].items.len();
            items.map(move |item| Source::Item(donor, item))
        });
        let as_well = |&other: &Source| {
            other != source && place(other).is_some() && place(other) <= place(source)
        };
        let stores = |&other: &Source| self.frame(other, 0).map(|frame| frame.stores);
        let no_brood = |other: &Source| self.frame(*other, 0).is_some_and(|f| f.brood.0 == 0);
        let found = shelf.chain(own).filter(as_well).filter(no_brood);
        found.sorted_by_key(stores).collect()
    }

    /// Whether a frame that is left of `comb` spares brood, or stores, or a frame of a colony.
    fn spares(&self, totals: &Totals, (source, need): Served, comb: Source) -> bool {
        let last = used(totals, source).checked_sub(1);
        let own = last.and_then(|last| self.frame(source, last));
        let Some((own, other)) = own.zip(self.frame(comb, used(totals, comb))) else {
            return false;
        };
        let plain = self.asks_for_no_stores(own, need) && self.asks_for_no_stores(other, need);
        let spent = |source: Source, frame: &FrameState| {
            let stores = if plain { frame.stores.0 } else { 0 };
            (frame.brood.0 > 0, stores, source.donor().is_some())
        };
        spent(comb, other) < spent(source, own)
    }

    /// Whether what is asked for, the line or the substitute that a frame fits, may be without stores.
    fn asks_for_no_stores(&self, frame: &FrameState, need: usize) -> bool {
        let of = &self.instance.needs[need];
        let kind = &self.instance.kinds[of.kind];
        let boxes = &self.scenario.boxes[kind.id.0];
        let lines = match kind.again {
            true => &boxes.again.lines,
            false => &boxes.lines,
        };
        let line = &lines[of.line];
        let ask = |place: usize| match place.checked_sub(1) {
            None => &line.ask,
            Some(other) => &line.substitutes[other].ask,
        };
        let place = line.place_of(frame);
        place.is_some_and(|place| ask(place).stores.least.0 == 0)
    }

    /// A frame of a source, by its number among all that it has.
    fn frame(&self, source: Source, number: u32) -> Option<&FrameState> {
        match source {
            Source::Item(donor, item) => {
                let donor = &self.instance.donors[donor];
                let item = &donor.items[item];
                let group = item.parts.first().filter(|_| number < item.count)?.group;
                Some(&self.scenario.colonies[donor.id.0].frames[group].frame)
            }
            Source::Shelf(class) => {
                let mut before = 0;
                let mut entries = self.instance.shelf[class].iter();
                let &(entry, _) = entries.find(|(_, count)| {
                    before += count;
                    number < before
                })?;
                Some(&self.scenario.store_room[entry].frame)
            }
        }
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

/// Exchanges one frame, unless that breaks a rule or costs more; whether it did.
fn exchange(
    instance: &Instance,
    totals: &mut Totals,
    (source, need): Served,
    comb: Source,
) -> bool {
    let donors: BTreeSet<usize> = [source, comb]
        .into_iter()
        .filter_map(Source::donor)
        .collect();
    let prices = &instance.prices;
    let place = |of: Source| instance.classes[of.class(instance)][need].map_or(0, i64::from);
    let costs = |totals: &Totals, place: i64| {
        let of_donors = donors.iter().map(|&at| cost_of_own(instance, totals, at));
        of_donors.fold((0, prices.substitute.0 * place), |sum, cost| {
            (sum.0 + cost.honey.0, sum.1 + cost.total(prices).0)
        })
    };
    let before = costs(totals, place(source));
    if !replace(instance, totals, need, (source, comb)) {
        return false;
    }
    let after = costs(totals, place(comb));
    let honey = |room| {
        after.0 <= before.0 || cost_of(instance, totals).honey.0 - instance.base.honey.0 <= room
    };
    let may = after.1 <= before.1
        && instance.honey_room.is_none_or(honey)
        && donors
            .iter()
            .all(|&donor| may_give(instance, totals, donor));
    if !may {
        replace(instance, totals, need, (comb, source));
    }
    may
}

/// Puts one frame in the place of another. Bees that would have ridden are loose then. `false`, and nothing is done, where the
/// frame is not among the totals.
fn replace(
    instance: &Instance,
    totals: &mut Totals,
    need: usize,
    (from, to): (Source, Source),
) -> bool {
    let gone = match from {
        Source::Item(donor, item) => one_less(&mut totals.frames, (donor, item, need)),
        Source::Shelf(class) => one_less(&mut totals.shelf, (class, need)),
    };
    if gone.is_none() {
        return false;
    }
    *match to {
        Source::Item(donor, item) => totals.frames.entry((donor, item, need)).or_default(),
        Source::Shelf(class) => totals.shelf.entry((class, need)).or_default(),
    } += 1;
    let site = instance.kinds[instance.needs[need].kind].site;
    for (of, sign) in [(from, -1), (to, 1)] {
        if let Source::Item(donor, item) = of
            && let Some(bees) = totals.bees.get_mut(&(donor, site))
        {
            let least = sign * instance.donors[donor].items[item].least;
            *bees = (bees.0 + least, bees.1 - least);
        }
    }
    true
}

/// What it costs that one colony gives what the totals take of it.
fn cost_of_own(instance: &Instance, totals: &Totals, at: usize) -> Cost {
    let mut frames: BTreeMap<usize, u32> = BTreeMap::new();
    for (&(_, item, _), &count) in totals.frames.range((at, 0, 0)..(at + 1, 0, 0)) {
        *frames.entry(item).or_default() += count;
    }
    let frames: Vec<(usize, u32)> = frames.into_iter().collect();
    let bees = totals.bees.range((at, 0)..(at + 1, 0));
    let taken = bees.map(|(_, (riding, loose))| riding + loose).sum();
    let mut cost = cost_of_donor(&instance.donors[at], &frames, taken);
    if !instance.near {
        cost.otherwise = 0;
    }
    cost
}

fn one_less<K: Ord>(counts: &mut BTreeMap<K, u32>, key: K) -> Option<()> {
    let left = counts.get(&key)?.checked_sub(1)?;
    match left {
        0 => counts.remove(&key),
        left => counts.insert(key, left),
    };
    Some(())
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
