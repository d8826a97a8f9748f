//! Loose bees exchanged between compartments of a site: few colonies meet in one, and where a colony's brood is,
//! its own bees are rather than others'.

use itertools::Itertools;

use super::bees::Deal;
use super::slots::Filling;

/// As many colonies as may well meet.
const FEW: usize = 2;

/// Compartments that one exchanges with, the next in order (a choice: with all, time grows with their square).
const NEIGHBOURS: usize = 60;

/// What goes from one compartment to another: loose hundreds of a donor.
type Goes = (usize, i64);

/// How well a compartment's bees belong together, the less the better: colonies beyond a few, hundreds that do
/// not fit on brood frames of their colony beside them, and colonies of which there are such.
type Strangers = (usize, i64, usize);

/// Exchanges bees as long as two compartments are the better for it.
pub(super) fn exchange(deal: &Deal, slots: &mut [&mut Filling]) {
    let mut moved = true;
    while std::mem::take(&mut moved) {
        for at in (0..slots.len())
            .filter(|&at| may_gain(slots[at]))
            .collect::<Vec<_>>()
        {
            let count = slots.len();
            for from in (1..count).take(NEIGHBOURS).map(|step| (at + step) % count) {
                while trade(deal, slots, at, from) {
                    moved = true;
                }
            }
        }
    }
}

/// Whether too many colonies are in a compartment, bees of others in the place of its own, or a hundred that nobody
/// would carry over for its own sake.
fn may_gain(slot: &Filling) -> bool {
    let (crowd, over, _) = strangers(slot);
    let mut brood = slot.brood.keys();
    let shaken = over > 0 && brood.any(|&donor| room(slot, donor) > 0);
    crowd > 0 || shaken || slot.lots.keys().any(|&donor| room(slot, donor) == -1)
}

/// Makes the first exchange that is for the better, if there is one.
fn trade(deal: &Deal, slots: &mut [&mut Filling], at: usize, from: usize) -> bool {
    let sum = |slots: &[&mut Filling]| {
        let (one, other) = (strangers(slots[at]), strangers(slots[from]));
        (one.0 + other.0, one.1 + other.1, one.2 + other.2)
    };
    let before = sum(slots);
    for (out, into) in offers(deal, slots[at], slots[from]) {
        pass(slots, (at, from), out, into);
        let short = slots[at].is_short(deal.instance) || slots[from].is_short(deal.instance);
        if !short && sum(slots) < before {
            return true;
        }
        pass(slots, (from, at), out, into);
    }
    false
}

/// Exchanges that may be for the better: what a compartment gives, and what it gets.
fn offers(deal: &Deal, slot: &Filling, other: &Filling) -> Vec<(Goes, Option<Goes>)> {
    let crowded = slot.lots.len() > FEW;
    let loose = |slot: &Filling| -> Vec<Goes> {
        let lots = slot.lots.iter().filter(|(_, lot)| lot.loose > 0);
        lots.map(|(&donor, lot)| (donor, lot.loose)).collect()
    };
    let gets = loose(other).into_iter();
    let gets = gets.filter(|&(donor, _)| crowded || room(slot, donor) > 0);
    let gets: Vec<Goes> = gets.collect();
    let gives = loose(slot).into_iter();
    let gives = gives.filter(|&(donor, _)| room(slot, donor) <= 0);
    let mut offers = Vec::new();
    for (out, all) in gives {
        if crowded {
            offers.push(((out, all), None));
        }
        if room(slot, out) == -1 {
            offers.push(((out, 1), None));
        }
        for &(into, there) in gets.iter().filter(|(into, _)| *into != out) {
            let wanted = match crowded {
                true => all,
                false => all.min(room(slot, into)),
            };
            let exact = deal.hundreds_for(into, wanted * deal.stay(out));
            let hundreds = [exact, exact - 1]
                .into_iter()
                .filter(|&n| n > 0 && n <= there);
            offers.extend(hundreds.map(|n| ((out, wanted), Some((into, n)))));
            if there < exact && !crowded {
                let given = deal.hundreds_for(out, there * deal.stay(into)).min(all);
                offers.push(((out, given), Some((into, there))));
            }
        }
    }
    offers.into_iter().unique().collect()
}

/// Moves loose bees from one compartment to another, and others back.
fn pass(slots: &mut [&mut Filling], (one, other): (usize, usize), out: Goes, into: Option<Goes>) {
    let back = into.map(|(donor, hundreds)| (donor, -hundreds));
    for (donor, hundreds) in std::iter::once(out).chain(back) {
        for (slot, by) in [(one, -hundreds), (other, hundreds)] {
            let lots = &mut slots[slot].lots;
            let lot = lots.entry(donor).or_default();
            lot.loose += by;
            if lot.loose == 0 && lot.riding == 0 {
                lots.remove(&donor);
            }
        }
    }
}

/// Hundreds of a donor that could still ride on its brood frames in a compartment, beside those in it.
fn room(slot: &Filling, donor: usize) -> i64 {
    let on_frames = slot.brood.get(&donor).map_or(0, |brood| brood.bees);
    let lot = slot.lots.get(&donor).copied().unwrap_or_default();
    on_frames - lot.riding - lot.loose
}

fn strangers(slot: &Filling) -> Strangers {
    let over = slot.lots.keys().map(|&donor| -room(slot, donor));
    let over: Vec<i64> = over.filter(|&over| over > 0).collect();
    let crowd = slot.lots.len().saturating_sub(FEW);
    (crowd, over.iter().sum(), over.len())
}
