//! Frames into compartments, so that brood of few colonies meets in one.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use super::piles::{Piles, Source};
use super::slots::Filling;
use crate::plan::{Origin, PlacedFrames};
use crate::solve::instance::Instance;

/// Frames of a source for a need.
type Move = (usize, Source, u32);

/// Gives a compartment the frames that it has in an earlier plan, as far as they are among those taken
/// for this line.
pub(super) fn keep(instance: &Instance, slot: &mut Filling, piles: &mut Piles) {
    let earlier = slot.earlier.into_iter();
    for placed in earlier.flat_map(|earlier| &earlier.frames) {
        let of_line = |&&(need, _): &&(usize, u32)| instance.needs[need].line == placed.line;
        let missing = slot.missing.iter().find(of_line).copied();
        let source = piles.source_of(placed.origin);
        let (Some((need, missing)), Some(source)) = (missing, source) else {
            continue;
        };
        let left = piles.left(source, placed.origin);
        let count = placed.count.min(left).min(missing);
        let count = count.min(piles.quota(need, source));
        if count > 0 {
            serve(
                instance,
                slot,
                piles,
                (need, source, count),
                Some(placed.origin),
            );
        }
    }
}

/// Fills what a compartment's lines still miss, always next from the donor that gives most of the brood
/// still missing, and best has none left over.
pub(super) fn fill(instance: &Instance, slot: &mut Filling, piles: &mut Piles) -> Option<()> {
    while !slot.missing.is_empty() {
        let moves = moves(slot, piles);
        let rank = |donor: Option<usize>, moves: &[Move]| {
            let brood: u32 = brood(instance, moves).map(|(_, _, count)| count).sum();
            let left: u32 = brood_left(instance, moves, piles) - brood;
            let here = donor.is_some_and(|donor| slot.present.contains(&donor));
            let frames: u32 = moves.iter().map(|&(_, _, count)| count).sum();
            (
                brood,
                here,
                Reverse(left),
                frames,
                Reverse(donor.unwrap_or(usize::MAX)),
            )
        };
        let best = moves
            .into_iter()
            .max_by_key(|(donor, moves)| rank(*donor, moves));
        for next in best?.1 {
            serve(instance, slot, piles, next, None)?;
        }
    }
    Some(())
}

/// What each donor, and the store room, can give to what is missing.
fn moves(slot: &Filling, piles: &Piles) -> BTreeMap<Option<usize>, Vec<Move>> {
    let mut moves: BTreeMap<Option<usize>, Vec<Move>> = BTreeMap::new();
    for &(need, missing) in &slot.missing {
        let mut left: BTreeMap<Option<usize>, u32> = BTreeMap::new();
        for (source, quota) in piles.serving(need) {
            let donor = source.donor();
            let left = left.entry(donor).or_insert(missing);
            let count = quota.min(*left);
            if count > 0 {
                *left -= count;
                moves.entry(donor).or_default().push((need, source, count));
            }
        }
    }
    moves
}

/// The moves of frames with brood.
fn brood<'a>(instance: &'a Instance, moves: &'a [Move]) -> impl Iterator<Item = &'a Move> {
    moves.iter().filter(|(_, source, _)| match *source {
        Source::Item(donor, item) => instance.donors[donor].items[item].brood > 0,
        Source::Shelf(_) => false,
    })
}

/// Frames with brood that the sources of these moves are to give to the same needs in all.
fn brood_left(instance: &Instance, moves: &[Move], piles: &Piles) -> u32 {
    let all = brood(instance, moves);
    all.map(|&(need, source, _)| piles.quota(need, source))
        .sum()
}

/// Moves frames into a compartment, of one origin or of any.
fn serve(
    instance: &Instance,
    slot: &mut Filling,
    piles: &mut Piles,
    next: Move,
    only: Option<Origin>,
) -> Option<()> {
    let (need, source, count) = next;
    for (origin, count) in piles.take(next, only)? {
        let line = instance.needs[need].line;
        slot.put(
            need,
            PlacedFrames {
                line,
                origin,
                count,
            },
        );
    }
    if let Source::Item(donor, item) = source {
        let item = &instance.donors[donor].items[item];
        if item.brood > 0 {
            slot.present.insert(donor);
            let brood = slot.brood.entry(donor).or_default();
            brood.least += i64::from(count) * item.least;
            brood.bees += i64::from(count) * item.bees;
        }
    }
    Some(())
}
