//! Compartments that are filled.

use std::collections::{BTreeMap, BTreeSet};

use itertools::Itertools;

use super::Totals;
use super::earlier::Earlier;
use super::piles::Piles;
use crate::plan::{Compartment, PlacedBees, PlacedFrames};
use crate::solve::instance::{Instance, Kind, LESS_THAN_A_HUNDRED};
use crate::units::Hundreds;

/// Hundreds of bees of one donor in a compartment.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Lot {
    pub riding: i64,
    pub loose: i64,
}

/// Brood frames of one donor in a compartment.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Brood {
    /// Hundreds that ride at least.
    pub least: i64,
    /// Hundreds on them.
    pub bees: i64,
}

/// One compartment that is filled.
pub(super) struct Filling<'a> {
    /// Position in [`Instance::kinds`].
    pub kind: usize,
    pub box_no: u32,
    pub place: u32,
    /// Needs and the frames that they still miss.
    pub missing: Vec<(usize, u32)>,
    pub frames: Vec<PlacedFrames>,
    /// Donors of whom bees or brood are in it, what is done included.
    pub present: BTreeSet<usize>,
    /// Brood frames by donor.
    pub brood: BTreeMap<usize, Brood>,
    /// Bees by donor.
    pub lots: BTreeMap<usize, Lot>,
    /// It has got what it needs, as far as others do not make up for it.
    pub covered: bool,
    /// The same compartment in an earlier plan.
    pub earlier: Option<&'a Compartment>,
}

/// The compartments that are stocked, kind after kind: first those of an earlier plan, those before
/// others whose frames are all at hand, then the first ones that are free.
pub(super) fn slots<'a>(
    instance: &Instance,
    totals: &Totals,
    piles: &Piles,
    earlier: &'a Earlier,
) -> Option<Vec<Filling<'a>>> {
    let mut at_hand = piles.at_hand();
    let mut slots = Vec::new();
    for (index, kind) in instance.kinds.iter().enumerate() {
        let needs = instance.needs.iter().enumerate();
        let missing = needs.filter(|(_, need)| need.kind == index);
        let missing: Vec<(usize, u32)> = missing.map(|(at, need)| (at, need.each)).collect();
        let then = earlier.lacking(kind, &mut at_hand);
        let count = *totals.compartments.get(index)?;
        for (box_no, place) in places(kind, count, then)? {
            slots.push(Filling {
                kind: index,
                box_no,
                place,
                missing: missing.clone(),
                frames: Vec::new(),
                present: present(instance, kind, (box_no, place)),
                brood: BTreeMap::new(),
                lots: BTreeMap::new(),
                covered: false,
                earlier: earlier.compartment((kind.id, box_no, place)),
            });
        }
    }
    Some(slots)
}

/// Donors of whom something is in a compartment that is begun.
fn present(instance: &Instance, kind: &Kind, (box_no, place): (u32, u32)) -> BTreeSet<usize> {
    let record = instance.done.records.get(&(kind.id, box_no, place));
    let colonies: BTreeSet<_> = record
        .into_iter()
        .flat_map(|record| record.bees.iter().map(|placed| placed.colony))
        .collect();
    let donors = instance.donors.iter();
    donors
        .positions(|donor| colonies.contains(&donor.id))
        .collect()
}

/// So many places (box, compartment) of a kind, in order: those of an earlier plan first, of these those
/// that lack the fewest of their frames. Of a kind that is stocked whole, all places of a box.
fn places(kind: &Kind, count: i64, then: BTreeMap<(u32, u32), u32>) -> Option<Vec<(u32, u32)>> {
    let count = usize::try_from(count).ok()?;
    let mut kept: BTreeMap<(u32, u32), u32> = BTreeMap::new();
    for ((box_no, place), lacking) in then {
        // A box that is stocked whole stays or goes whole.
        let together = match kind.step > 1 {
            true => 0..u32::try_from(kind.step).ok()?,
            false => place..place + 1,
        };
        for place in together {
            let sum = kept.entry((box_no, place)).or_default();
            *sum = sum.saturating_add(lacking);
        }
    }
    let fewest = kept
        .iter()
        .sorted_by_key(|&(place, lacking)| (lacking, place));
    let mut places: Vec<(u32, u32)> = fewest.map(|(&place, _)| place).take(count).collect();
    let more = count - places.len();
    let free = kind.places.all();
    places.extend(free.filter(|place| !kept.contains_key(place)).take(more));
    places.sort_unstable();
    (places.len() == count).then_some(places)
}

impl Filling<'_> {
    /// Puts frames of a donor's item, or of the store room, into a line.
    pub fn put(&mut self, need: usize, placed: PlacedFrames) {
        for (at, left) in &mut self.missing {
            if *at == need {
                *left = left.saturating_sub(placed.count);
            }
        }
        self.frames.push(placed);
        self.missing.retain(|&(_, left)| left > 0);
    }

    /// Bees that stay of those that count towards its need: of loose ones alone where its kind has no
    /// brood line.
    pub fn stays(&self, instance: &Instance) -> i64 {
        let kind = &instance.kinds[self.kind];
        let of = |lot: &Lot| {
            if kind.brood_line {
                lot.riding + lot.loose
            } else {
                lot.loose
            }
        };
        let lots = self.lots.iter();
        lots.map(|(&donor, lot)| instance.donors[donor].stay[kind.site] * of(lot))
            .sum()
    }

    /// Bees that it has beyond what its kind needs; below 0 where it is short.
    pub fn over(&self, instance: &Instance) -> i64 {
        self.stays(instance) - instance.kinds[self.kind].need
    }

    /// Whether it is short by a hundred or more.
    pub fn is_short(&self, instance: &Instance) -> bool {
        self.over(instance) < -LESS_THAN_A_HUNDRED
    }

    /// The compartment with what it has got.
    pub fn finished(self, instance: &Instance) -> Compartment {
        let lots = self.lots.into_iter();
        let bees = lots.map(|(donor, lot)| PlacedBees {
            colony: instance.donors[donor].id,
            riding: Hundreds(lot.riding),
            loose: Hundreds(lot.loose),
        });
        Compartment {
            kind: instance.kinds[self.kind].id,
            box_no: self.box_no,
            place: self.place,
            frames: self.frames,
            bees: bees.filter(|placed| placed.taken().0 > 0).collect(),
        }
    }
}
