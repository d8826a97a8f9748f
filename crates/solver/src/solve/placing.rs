//! Compartments, one after the other: their frames and bees.

use std::collections::BTreeMap;

use itertools::Itertools;

use super::assemble::Pile;
use super::choice::Choice;
use super::kinds::{Kind, LESS_THAN_A_BEE};
use super::near::Earlier;
use super::tables::Tables;
use crate::plan::{Compartment, Origin, PlacedBees, PlacedFrames};
use crate::scenario::{BoxKind, Scenario};
use crate::units::Bees;

/// One compartment that is filled.
pub(super) struct Slot<'a> {
    /// Position in [`Tables::kinds`].
    kind: usize,
    /// Needs and the frames that they still miss.
    missing: Vec<(usize, i64)>,
    /// Positions of the donors of its frames.
    donors: Vec<usize>,
    /// The same compartment in an earlier plan.
    earlier: Option<&'a Compartment>,
    pub compartment: Compartment,
}

/// The compartments that are stocked, kind after kind: first those of an earlier plan, those before
/// others whose frames are all at hand, then the first ones that are free.
pub(super) fn slots<'a>(
    scenario: &Scenario,
    tables: &Tables,
    choice: &Choice,
    piles: &[Pile],
    earlier: &'a Earlier,
) -> Option<Vec<Slot<'a>>> {
    let mut slots = Vec::new();
    let mut at_hand: BTreeMap<Origin, u32> = BTreeMap::new();
    for (origin, count) in piles.iter().flat_map(|pile| pile.frames.iter().flatten()) {
        *at_hand.entry(*origin).or_default() += count;
    }
    for (index, kind) in tables.kinds.iter().enumerate() {
        let needs = tables.needs.iter().enumerate();
        let missing: Vec<(usize, i64)> = needs
            .filter(|(_, need)| need.kind == index)
            .map(|(at, need)| (at, i64::from(need.each)))
            .collect();
        let boxes = &scenario.boxes[kind.id.0];
        let then = earlier.lacking(kind, &mut at_hand);
        for (box_no, place) in places(boxes, kind, choice.compartments[index], &then)? {
            slots.push(Slot {
                kind: index,
                missing: missing.clone(),
                donors: Vec::new(),
                earlier: earlier.compartment(kind.id, box_no, place),
                compartment: Compartment {
                    kind: kind.id,
                    box_no,
                    place,
                    frames: Vec::new(),
                    bees: Vec::new(),
                },
            });
        }
    }
    Some(slots)
}

/// So many places (box, compartment) of a kind, in order: those of an earlier plan first, of these
/// those that lack the fewest of their frames. Of a kind that is stocked whole, all places of a box.
fn places(
    boxes: &BoxKind,
    kind: &Kind,
    count: i64,
    then: &BTreeMap<(u32, u32), u32>,
) -> Option<Vec<(u32, u32)>> {
    let count = usize::try_from(count).ok()?;
    let mut kept: BTreeMap<(u32, u32), u32> = BTreeMap::new();
    for (&(box_no, place), lacking) in then {
        if box_no >= boxes.count || place >= boxes.compartments {
            continue;
        }
        // A box that is stocked whole stays or goes whole.
        let together = match kind.step > 1 {
            true => 0..boxes.compartments,
            false => place..place + 1,
        };
        for place in together {
            *kept.entry((box_no, place)).or_default() += lacking;
        }
    }
    kept.retain(|&place, _| kind.places.has(place));
    let fewest = kept
        .iter()
        .sorted_by_key(|&(place, lacking)| (lacking, place));
    let mut places: Vec<(u32, u32)> = fewest.map(|(&place, _)| place).take(count).collect();
    let more = count - places.len();
    let free = kind.places.all(boxes);
    places.extend(free.filter(|place| !kept.contains_key(place)).take(more));
    places.sort_unstable();
    (places.len() == count).then_some(places)
}

/// Gives each compartment the frames that it has in an earlier plan, as far as they are among
/// those chosen and the lines are served as decided.
pub(super) fn keep_frames(
    tables: &Tables,
    slots: &mut [Slot],
    piles: &mut [Pile],
    quota: &mut [Vec<i64>],
) {
    let mut at: BTreeMap<Origin, (usize, usize)> = BTreeMap::new();
    for (pile, heap) in piles.iter().enumerate() {
        for (class, frames) in heap.frames.iter().enumerate() {
            at.extend(frames.iter().map(|&(origin, _)| (origin, (pile, class))));
        }
    }
    for slot in slots {
        let earlier = slot.earlier.into_iter();
        for placed in earlier.flat_map(|earlier| &earlier.frames) {
            let line = |need: usize| tables.needs[need].line == placed.line;
            let need = slot.missing.iter().find(|&&(need, _)| line(need));
            let (Some(&(pile, class)), Some(&(need, left))) = (at.get(&placed.origin), need) else {
                continue;
            };
            let heap = &mut piles[pile];
            let held = heap.held(class, placed.origin);
            let count = i64::from(placed.count.min(held))
                .min(left)
                .min(quota[class][need]);
            if count > 0 {
                slot.serve(
                    heap,
                    (class, need, count),
                    Some(placed.origin),
                    tables,
                    quota,
                );
            }
        }
    }
}

/// Fills what a compartment's lines still miss.
pub(super) fn place_frames(
    tables: &Tables,
    slot: &mut Slot,
    piles: &mut [Pile],
    quota: &mut [Vec<i64>],
) -> Option<()> {
    while slot.missing.iter().any(|&(_, left)| left > 0) {
        // What each pile could fill now; colonies first, the store room for what is left.
        let best = (0..piles.len())
            .map(|pile| (moves(&piles[pile], quota, &slot.missing), pile))
            .filter(|(moves, _)| !moves.is_empty())
            .max_by_key(|(moves, pile)| {
                let frames: i64 = moves.iter().map(|m| m.2).sum();
                (frames, std::cmp::Reverse(*pile))
            });
        let (moves, pile) = best?;
        for served in moves {
            slot.serve(&mut piles[pile], served, None, tables, quota)?;
        }
    }
    Some(())
}

impl Slot<'_> {
    /// Moves frames (class, need, count) of a pile into the compartment, of one origin or from the
    /// end of the pile.
    fn serve(
        &mut self,
        pile: &mut Pile,
        (class, need, mut count): (usize, usize, i64),
        origin: Option<Origin>,
        tables: &Tables,
        quota: &mut [Vec<i64>],
    ) -> Option<()> {
        self.donors.extend(pile.donor);
        quota[class][need] -= count;
        for (index, left) in &mut self.missing {
            if *index == need {
                *left -= count;
            }
        }
        let heap = &mut pile.frames[class];
        while count > 0 {
            let at = match origin {
                Some(origin) => heap.iter().position(|&(from, _)| from == origin)?,
                None => heap.len().checked_sub(1)?,
            };
            let (origin, held) = &mut heap[at];
            let frames = u32::try_from(count.min(i64::from(*held))).ok()?;
            self.compartment.frames.push(PlacedFrames {
                line: tables.needs[need].line,
                origin: *origin,
                count: frames,
            });
            *held -= frames;
            count -= i64::from(frames);
            if *held == 0 {
                heap.remove(at);
            }
        }
        Some(())
    }
}

/// The frames (class, need, count) that a pile can give to what is missing.
fn moves(pile: &Pile, quota: &[Vec<i64>], missing: &[(usize, i64)]) -> Vec<(usize, usize, i64)> {
    let mut moves = Vec::new();
    let mut left = missing.to_vec();
    for (class, quota) in quota.iter().enumerate() {
        let mut at_hand = i64::from(pile.of(class));
        for (need, want) in &mut left {
            let count = at_hand.min(*want).min(quota[*need]);
            if count > 0 {
                moves.push((class, *need, count));
                *want -= count;
                at_hand -= count;
            }
        }
    }
    moves
}

/// Gives each compartment its bees, in order: what it has in an earlier plan, then what no later
/// one has there, then any. Of each, those of the colonies of its frames come first. What the
/// last bee of a compartment goes over is carried to the next one of the site.
pub(super) fn place_bees(
    tables: &Tables,
    slots: &mut [Slot],
    mut bees: Vec<Vec<i64>>,
) -> Option<()> {
    let donor_of: BTreeMap<_, usize> = tables.donors.iter().map(|d| d.id).zip(0..).collect();
    let earlier = |slot: &Slot| -> Vec<(usize, i64)> {
        let placed = slot.earlier.iter().flat_map(|earlier| &earlier.bees);
        placed
            .filter_map(|placed| Some((*donor_of.get(&placed.colony)?, placed.bees.0)))
            .collect()
    };
    let mut later = vec![vec![0; tables.sites.len()]; tables.donors.len()];
    for slot in &*slots {
        for (donor, count) in earlier(slot) {
            later[donor][tables.kinds[slot.kind].site] += count;
        }
    }
    let mut carry = vec![0_i64; tables.sites.len()];
    // What compartments go over already comes first, so that others may use it.
    let fewest = |slot: &Slot| tables.kinds[slot.kind].fewest;
    let (over, others): (Vec<_>, Vec<_>) = slots.iter_mut().partition(|slot| fewest(slot) < 0);
    for slot in over.into_iter().chain(others) {
        let kind = &tables.kinds[slot.kind];
        let site = kind.site;
        slot.donors.sort_unstable();
        slot.donors.dedup();
        let own = slot.donors.iter().copied();
        let others =
            (0..tables.donors.len()).filter(|donor| slot.donors.binary_search(donor).is_err());
        let order: Vec<usize> = own.chain(others).collect();
        let kept = earlier(slot);
        for &(donor, count) in &kept {
            later[donor][site] -= count;
        }
        let free = order
            .iter()
            .map(|&donor| (donor, bees[donor][site] - later[donor][site]));
        let free: Vec<(usize, i64)> = free.collect();
        let any = order.iter().map(|&donor| (donor, i64::MAX));
        let mut given: BTreeMap<usize, i64> = BTreeMap::new();
        let mut short = kind.fewest - carry[site].min(LESS_THAN_A_BEE);
        for (donor, most) in kept.into_iter().chain(free).chain(any) {
            let stay = tables.donors[donor].stay[site];
            if short <= 0 {
                break;
            }
            let enough = (short + stay - 1).div_euclid(stay.max(1));
            let part = bees[donor][site].min(most).min(enough);
            if part > 0 && stay > 0 {
                bees[donor][site] -= part;
                short -= part * stay;
                *given.entry(donor).or_default() += part;
            }
        }
        if short > 0 {
            return None;
        }
        carry[site] = carry[site] - carry[site].min(LESS_THAN_A_BEE) - short;
        slot.compartment.bees = given
            .into_iter()
            .map(|(donor, bees)| PlacedBees {
                colony: tables.donors[donor].id,
                bees: Bees(bees),
            })
            .collect();
    }
    Some(())
}
