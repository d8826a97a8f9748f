//! Brood is spared where comb serves as well and costs no more: a tie that the totals leave open.

use super::Totals;
use super::piles::Source;
use crate::solve::instance::{Instance, Item};
use crate::solve::master::cost_of;

/// Frames of an item that serve a need: donor, item, need.
type Served = (usize, usize, usize);

/// Exchanges frames with brood for frames without, of the same colony or of the shelf, as far as that breaks no
/// rule and costs no more. Bees that would have ridden are taken all the same.
pub(crate) fn spare_brood(instance: &Instance, mut totals: Totals) -> Totals {
    let served: Vec<Served> = totals.frames.keys().copied().collect();
    let with_brood = |&(donor, item, _): &Served| instance.donors[donor].items[item].brood > 0;
    for brood in served.into_iter().filter(with_brood) {
        for comb in as_good(instance, brood) {
            while let Some(spared) = exchanged(instance, &totals, brood, comb) {
                totals = spared;
            }
        }
    }
    totals
}

/// What has no brood and serves the same need as well.
fn as_good(instance: &Instance, (donor, item, need): Served) -> impl Iterator<Item = Source> {
    let place = move |class: usize| instance.classes[class][need];
    let items = &instance.donors[donor].items;
    let now = place(items[item].class);
    let as_well = move |class: usize| place(class).is_some_and(|place| Some(place) <= now);
    let comb = items.iter().enumerate();
    let comb = comb.filter(move |(_, item)| item.brood == 0 && as_well(item.class));
    let shelf = (0..instance.shelf.len()).filter(move |&class| as_well(class));
    let shelf = shelf.map(Source::Shelf);
    shelf.chain(comb.map(move |(item, _)| Source::Item(donor, item)))
}

/// The totals with one frame exchanged; `None` where that breaks a rule or costs more.
fn exchanged(
    instance: &Instance,
    totals: &Totals,
    (donor, item, need): Served,
    comb: Source,
) -> Option<Totals> {
    let free = match comb {
        Source::Item(_, at) => {
            let given = totals.frames.range((donor, at, 0)..(donor, at + 1, 0));
            let given: u32 = given.map(|(_, count)| count).sum();
            instance.donors[donor].items[at].count > given
        }
        Source::Shelf(class) => {
            let held: u32 = instance.shelf[class].iter().map(|&(_, count)| count).sum();
            let used = totals.shelf.range((class, 0)..(class + 1, 0));
            held > used.map(|(_, count)| count).sum()
        }
    };
    let left = totals.frames.get(&(donor, item, need))?.checked_sub(1)?;
    if !free {
        return None;
    }
    let mut other = totals.clone();
    match left {
        0 => other.frames.remove(&(donor, item, need)),
        left => other.frames.insert((donor, item, need), left),
    };
    *match comb {
        Source::Item(_, at) => other.frames.entry((donor, at, need)).or_default(),
        Source::Shelf(class) => other.shelf.entry((class, need)).or_default(),
    } += 1;
    let least = instance.donors[donor].items[item].least;
    if least > 0 {
        let site = instance.kinds[instance.needs[need].kind].site;
        let bees = other.bees.get_mut(&(donor, site))?;
        *bees = (bees.0 - least, bees.1 + least);
    }
    let (before, after) = (cost_of(instance, totals), cost_of(instance, &other));
    let given_up = after.honey.0 - instance.base.honey.0;
    let cheap = after.total(&instance.prices) <= before.total(&instance.prices)
        && instance.honey_room.is_none_or(|room| given_up <= room);
    (cheap && may_give(instance, &other, donor)).then_some(other)
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
