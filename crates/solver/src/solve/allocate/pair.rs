//! Loose bees go where brood of their colony is: which compartment gets whose is a tie that the totals leave open, also
//! between sites.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use super::slots::Filling;
use crate::solve::instance::Instance;

/// As many colonies as may well meet.
const FEW: usize = 2;

/// Compartments that bees may go round at most (a choice).
const ROUND: usize = 6;

/// Ways round that are looked at for one lot (a choice).
const TRIED: usize = 50;

/// Loose bees of a donor in a compartment: its position, and the donor.
type Lot = (usize, usize);

/// How much of what is in compartments is of colonies that do not belong there, the less the better: colonies beyond a
/// few; hundreds of strangers; hundreds that do not fit on brood frames of their own; lots.
type Strangers = (usize, i64, i64, usize);

/// Sends loose bees round: each of some compartments gives as many hundreds of one colony to the next as it gets of another of
/// which as many stay. No sum of a colony, of a site or of a compartment changes.
pub(super) fn pair(instance: &Instance, slots: &mut [Filling]) {
    let mut more = true;
    while std::mem::take(&mut more) {
        let mut strange: Vec<(i64, Lot)> = lots(slots).collect();
        strange.sort_unstable();
        for (_, lot) in strange {
            while is_strange(slots, lot) && send_round(instance, slots, lot) {
                more = true;
            }
        }
    }
}

/// Lots of strangers, with their hundreds.
fn lots<'a>(slots: &'a [Filling]) -> impl Iterator<Item = (i64, Lot)> + 'a {
    slots.iter().enumerate().flat_map(move |(at, slot)| {
        let lots = slot.lots.iter();
        let lots = lots.map(move |(&donor, lot)| (lot.loose, (at, donor)));
        lots.filter(|&(_, lot)| is_strange(slots, lot))
    })
}

fn loose(slots: &[Filling], (at, donor): Lot) -> i64 {
    slots[at].lots.get(&donor).map_or(0, |lot| lot.loose)
}

/// Whether it may go elsewhere, as no brood of its colony is there.
fn is_strange(slots: &[Filling], lot: Lot) -> bool {
    let slot = &slots[lot.0];
    slot.earlier.is_none() && loose(slots, lot) > 0 && !slot.brood.contains_key(&lot.1) && {
        !slot.brood.is_empty() || slot.lots.len() > 1
    }
}

/// Whether bees of a colony are at home in a compartment: its brood is there, or more of its bees are.
fn at_home(slot: &Filling, donor: usize) -> bool {
    slot.brood.contains_key(&donor) || slot.lots.contains_key(&donor)
}

/// Looks for a short way round that is for the better, and goes it.
fn send_round(instance: &Instance, slots: &mut [Filling], start: Lot) -> bool {
    let mut where_of: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (at, slot) in slots
        .iter()
        .enumerate()
        .filter(|(_, s)| s.earlier.is_none())
    {
        for (&donor, _) in slot.lots.iter().filter(|(_, lot)| lot.loose > 0) {
            where_of.entry(donor).or_default().push(at);
        }
    }
    let alike = |at: usize, one: usize, other: usize| {
        let site = instance.kinds[slots[at].kind].site;
        let stay = |donor: usize| instance.donors[donor].stay[site];
        stay(one) == stay(other)
    };
    let mut came_by: BTreeMap<Lot, Option<Lot>> = BTreeMap::from([(start, None)]);
    let mut queue = VecDeque::from([(start, 1)]);
    let mut rounds: Vec<Vec<Lot>> = Vec::new();
    while let Some(((at, donor), length)) = queue.pop_front() {
        let fits = |donor: usize| donor != start.1 && alike(at, donor, start.1);
        let goes = at_home(&slots[at], start.1) || is_strange(slots, (at, donor));
        if length > 1 && goes && fits(donor) {
            rounds.push(way_to(&came_by, (at, donor)));
        }
        if length == ROUND || rounds.len() == TRIED {
            continue;
        }
        let slot = &slots[at];
        let homely: BTreeSet<usize> = slot.brood.keys().chain(slot.lots.keys()).copied().collect();
        for other in homely
            .into_iter()
            .filter(|&other| other != donor && alike(at, donor, other))
        {
            for &from in where_of.get(&other).into_iter().flatten() {
                let lot = (from, other);
                if from != at && !came_by.contains_key(&lot) {
                    came_by.insert(lot, Some((at, donor)));
                    queue.push_back((lot, length + 1));
                }
            }
        }
    }
    rounds.iter().any(|round| go(slots, round))
}

/// The lots from the first to one.
fn way_to(came_by: &BTreeMap<Lot, Option<Lot>>, last: Lot) -> Vec<Lot> {
    let mut way = vec![last];
    let mut at = last;
    while let Some(&Some(before)) = came_by.get(&at) {
        way.push(before);
        at = before;
    }
    way.reverse();
    way
}

/// Sends each lot to the compartment of the one before it, and the first to that of the last, as many hundreds as each
/// has; back again where that is not for the better.
fn go(slots: &mut [Filling], round: &[Lot]) -> bool {
    let Some(hundreds) = round.iter().map(|&lot| loose(slots, lot)).min() else {
        return false;
    };
    let touched: BTreeSet<usize> = round.iter().map(|&(at, _)| at).collect();
    let sum = |slots: &[Filling]| {
        touched.iter().fold((0, 0, 0, 0), |sum, &at| {
            let of = strangers(&slots[at]);
            (sum.0 + of.0, sum.1 + of.1, sum.2 + of.2, sum.3 + of.3)
        })
    };
    let before = sum(slots);
    send(slots, round, hundreds);
    let better = sum(slots) < before;
    if !better {
        send(slots, round, -hundreds);
    }
    better
}

fn send(slots: &mut [Filling], round: &[Lot], hundreds: i64) {
    let last = round.len().saturating_sub(1);
    for (number, &(from, donor)) in round.iter().enumerate() {
        let to = round[number.checked_sub(1).unwrap_or(last)].0;
        for (at, by) in [(from, -hundreds), (to, hundreds)] {
            slots[at].lots.entry(donor).or_default().loose += by;
        }
    }
    for &(at, _) in round {
        slots[at].lots.retain(|_, lot| lot.riding + lot.loose > 0);
    }
}

fn strangers(slot: &Filling) -> Strangers {
    let taken = |donor: &usize| slot.lots.get(donor).map_or(0, |lot| lot.riding + lot.loose);
    let strange = slot
        .lots
        .keys()
        .filter(|donor| !slot.brood.contains_key(donor));
    let strange: Vec<i64> = strange.map(taken).collect();
    let own = match slot.brood.is_empty() {
        true => strange.iter().max().copied().unwrap_or(0),
        false => 0,
    };
    let over = slot
        .brood
        .iter()
        .map(|(donor, brood)| (taken(donor) - brood.bees).max(0));
    (
        slot.lots.len().saturating_sub(FEW),
        strange.iter().sum::<i64>() - own,
        over.sum(),
        slot.lots.len(),
    )
}
