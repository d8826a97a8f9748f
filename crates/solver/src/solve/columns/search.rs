//! The vectors of a colony that has too many to list, searched depth first: what cannot be cheap enough is not
//! entered, and what there is no time to look at is bounded.

use super::listing::{Facts, Listing, Sums, Visit};
use super::pricing::View;
use super::{Columns, LISTED};

/// Steps that one search may take (a choice: about a millisecond). What is left open then only makes bounds
/// weaker.
const STEPS: u32 = 20_000;

/// Frames of a slot that gain something.
struct Gainful {
    /// Position in [`Bounds::order`].
    at: usize,
    item: usize,
    /// Of a frame, below 0.
    value: i64,
    /// Of a frame, thousandths.
    brood: i64,
}

/// Bounds on what slots may add.
struct Bounds<'a> {
    columns: &'a Columns<'a>,
    view: &'a View,
    /// Slots, the most gainful first.
    order: Vec<usize>,
    /// By position in `order`: the one after the last slot before it with frames of the same item, or 0. Of
    /// the slots that are left of an item only the first, which gains most, is counted.
    same: Vec<usize>,
    /// Gainful slots, the most gainful for their brood first.
    by_brood: Vec<Gainful>,
    /// What opening adds, and the least that frames drawn otherwise may add.
    beside: i64,
    steps: u32,
    /// What was not looked at for want of steps is not below this.
    open: i64,
}

impl<'a> Bounds<'a> {
    fn new(columns: &'a Columns<'a>, view: &'a View) -> Self {
        let mut order: Vec<usize> = (0..columns.slots.len()).collect();
        order.sort_by_key(|&slot| (view.slots[slot].0, slot));
        let item = |at: usize| columns.slots[order[at]].item;
        let before = |at: usize| (0..at).rev().find(|&other| item(other) == item(at));
        let same = (0..order.len()).map(|at| before(at).map_or(0, |other| other + 1));
        let same = same.collect();
        let slots = order.iter().enumerate().map(|(at, &slot)| Gainful {
            at,
            item: columns.slots[slot].item,
            value: view.slots[slot].0,
            brood: columns.item(slot).brood,
        });
        let mut by_brood: Vec<Gainful> = slots.filter(|slot| slot.value < 0).collect();
        let ratio = |slot: &Gainful| slot.value as f64 / slot.brood.max(1) as f64;
        by_brood.sort_by(|a, b| {
            let brood = (a.brood > 0).cmp(&(b.brood > 0));
            brood.then(ratio(a).total_cmp(&ratio(b)))
        });
        let then: i64 = columns.donor.items.iter().map(|item| item.then()).sum();
        Self {
            columns,
            view,
            order,
            same,
            by_brood,
            beside: (columns.opening - then * columns.otherwise) * view.one,
            steps: 0,
            open: i64::MAX,
        }
    }

    /// Whether a vector that begins so may have a value below `below`.
    fn may_be_below(
        &mut self,
        below: i64,
        counts: &[u32],
        left: &[u32],
        sums: &Sums,
        next: usize,
    ) -> bool {
        let done = self.order[..next].iter();
        let done = done.map(|&slot| i64::from(counts[slot]) * self.view.slots[slot].0);
        let share = self.columns.share(sums.riding, sums.cells);
        let bees = self.columns.least_bees(self.view, share);
        let sure = done.sum::<i64>() + bees + self.beside;
        let mut least = sure + self.least_by_frames(sums.frames, left, next);
        if least < below {
            least = least.max(sure + self.least_by_brood(sums.brood, left, next));
        }
        self.steps += 1;
        if least < below && self.steps > STEPS {
            self.open = self.open.min(least);
        }
        least < below && self.steps <= STEPS
    }

    /// The least that slots from `next` on may add, if only the number of frames were short.
    fn least_by_frames(&self, taken: i64, left: &[u32], next: usize) -> i64 {
        let mut room = self.columns.donor.frames - taken;
        let mut sum = 0;
        for (at, &slot) in self.order.iter().enumerate().skip(next) {
            let value = self.view.slots[slot].0;
            if value >= 0 || room <= 0 {
                break;
            }
            if self.same[at] > next {
                continue;
            }
            let frames = room.min(i64::from(left[self.columns.slots[slot].item]));
            sum += value * frames;
            room -= frames;
        }
        sum
    }

    /// The least that slots from `next` on may add, if frames could be divided and brood alone were short.
    fn least_by_brood(&self, taken: i64, left: &[u32], next: usize) -> i64 {
        let mut room = self.columns.donor.brood - taken;
        let mut sum = 0;
        let slots = self.by_brood.iter();
        for slot in slots.filter(|slot| slot.at >= next && self.same[slot.at] <= next) {
            let frames = i64::from(left[slot.item]);
            let brood = slot.brood * frames;
            if brood <= room {
                sum += slot.value * frames;
                room -= brood;
            } else {
                // Rounded away from 0, so that it stays a bound.
                return sum + slot.value * (room / slot.brood + 1).min(frames);
            }
        }
        sum
    }
}

/// A vector with its facts and its best share.
pub(super) type Found = (Box<[u32]>, Facts, usize);

/// Takes a vector with its value and its best share; from then on only those below what it returns are of
/// interest, after `None` none.
type Take<'a> = dyn FnMut(&[u32], Facts, (i64, usize)) -> Option<i64> + 'a;

/// Visits the vectors below a value.
struct Below<'a> {
    bounds: Bounds<'a>,
    below: i64,
    take: &'a mut Take<'a>,
}

impl Visit for Below<'_> {
    fn enter(&mut self, counts: &[u32], left: &[u32], sums: &Sums, next: usize) -> bool {
        self.bounds
            .may_be_below(self.below, counts, left, sums, next)
    }

    fn gains(&self, slot: usize) -> bool {
        self.bounds.view.slots[slot].0 < 0
    }

    fn take(&mut self, counts: &[u32], facts: Facts) -> bool {
        let value = self.bounds.columns.value(self.bounds.view, counts, &facts);
        let Some(value) = value.filter(|(value, _)| *value < self.below) else {
            return true;
        };
        let below = (self.take)(counts, facts, value);
        self.below = below.unwrap_or(self.below);
        below.is_some()
    }
}

impl Columns<'_> {
    /// The cheapest vector below a value, and what those are not below that were not looked at.
    pub(super) fn cheapest(&self, view: &View, below: i64) -> (Option<Found>, i64) {
        let mut found = None;
        let (_, open) = self.below(view, below, &mut |counts, facts, (value, share)| {
            found = Some((counts.into(), facts, share));
            Some(value)
        });
        (found, open)
    }

    /// All vectors whose value is at most `most`; `None` where they are too many.
    pub(super) fn within(&self, view: &View, most: i64) -> Option<Listing> {
        let mut listing = Listing::default();
        let below = most.saturating_add(1);
        let (ended, open) = self.below(view, below, &mut |counts, facts, _| {
            listing.push(counts, facts);
            (listing.len() <= LISTED).then_some(below)
        });
        (ended && open == i64::MAX).then_some(listing)
    }

    /// Visits the vectors below a value: whether to the end, and what those are not below that were not looked at.
    fn below<'a>(&'a self, view: &'a View, below: i64, take: &'a mut Take<'a>) -> (bool, i64) {
        let bounds = Bounds::new(self, view);
        let order = bounds.order.clone();
        let mut visit = Below {
            bounds,
            below,
            take,
        };
        let ended = self.walk(&order, &mut visit);
        (ended, visit.bounds.open)
    }
}
