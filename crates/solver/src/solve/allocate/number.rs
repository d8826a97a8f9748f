//! Boxes are filled in one place, as far as that can be: which compartment of a kind has which number is open.

use std::collections::{BTreeMap, VecDeque};
use std::ops::Range;

use itertools::Itertools;

use super::slots::Filling;
use crate::plan::Origin;
use crate::scenario::SiteId;
use crate::solve::instance::{Donor, Instance};

/// Gives compartments of a kind that come from the same sites the numbers of the same boxes; those that an earlier plan
/// has keep theirs.
pub(super) fn number(instance: &Instance, slots: &mut Vec<Filling>) {
    let kinds = slots.iter().map(|slot| slot.kind).dedup_with_count();
    let mut from = 0;
    for (count, kind) in kinds.collect::<Vec<_>>() {
        let own = from..from + count;
        // Where bees stand, and what is begun, has its number.
        let kind = &instance.kinds[kind];
        if !kind.again && !kind.begun {
            together(instance, slots, own.clone());
        }
        from = own.end;
    }
}

fn together(instance: &Instance, slots: &mut Vec<Filling>, own: Range<usize>) {
    let tail = slots.split_off(own.end);
    let (kept, free): (Vec<_>, Vec<_>) = slots
        .drain(own.start..)
        .partition(|slot| slot.earlier.is_some());
    let mut boxes: Vec<(u32, Vec<u32>)> = Vec::new();
    for slot in &free {
        match boxes
            .last_mut()
            .filter(|(number, _)| *number == slot.box_no)
        {
            Some((_, places)) => places.push(slot.place),
            None => boxes.push((slot.box_no, vec![slot.place])),
        }
    }
    let mut alike: BTreeMap<Vec<SiteId>, VecDeque<Filling>> = BTreeMap::new();
    for slot in free {
        alike
            .entry(homes(instance, &slot))
            .or_default()
            .push_back(slot);
    }
    let mut numbered = kept;
    for (box_no, places) in boxes {
        let mut left = places.into_iter();
        while left.len() > 0 {
            let room = left.len();
            // Those who fill boxes to the last place, before those of whom most are left.
            let rank = |(_, of): &(&Vec<SiteId>, &VecDeque<Filling>)| {
                (of.len() >= room, of.len() % room == 0, of.len())
            };
            let Some(chosen) = alike
                .iter()
                .rev()
                .max_by_key(rank)
                .map(|(homes, _)| homes.clone())
            else {
                break;
            };
            let of = alike.entry(chosen.clone()).or_default();
            let next = of.drain(..of.len().min(room)).zip(left.by_ref());
            numbered.extend(next.map(|(slot, place)| Filling {
                box_no,
                place,
                ..slot
            }));
            alike.retain(|_, of| !of.is_empty());
        }
    }
    numbered.sort_by_key(|slot| (slot.box_no, slot.place));
    slots.extend(numbered);
    slots.extend(tail);
}

/// The sites of the colonies that a compartment is filled from.
fn homes(instance: &Instance, slot: &Filling) -> Vec<SiteId> {
    let of_bees = slot.lots.keys().map(|&donor| &instance.donors[donor]);
    let homes = of_frames(instance, slot)
        .chain(of_bees)
        .map(|donor| donor.home);
    homes.sorted().dedup().collect()
}

/// The colonies that a compartment's frames are of, some more than once.
pub(super) fn of_frames<'a>(
    instance: &'a Instance,
    slot: &'a Filling,
) -> impl Iterator<Item = &'a Donor> {
    slot.frames.iter().filter_map(|placed| match placed.origin {
        Origin::Colony(id, _) => instance.donors.iter().find(|donor| donor.id == id),
        Origin::StoreRoom(_) => None,
    })
}
