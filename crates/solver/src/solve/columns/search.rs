//! The vectors of a colony that has too many to list, searched depth first: what cannot be cheap enough is not
//! entered, and what there is no time to look at is bounded.

use itertools::Itertools;

use super::listing::{Facts, Listing, Sums, Visit};
use super::pricing::View;
use super::relaxed::Relaxed;
use super::{Columns, LISTED};

/// Slots that one search may go through, again and again (a choice: about a millisecond). What is left open then only
/// makes bounds weaker.
const WORK: usize = 600_000;

/// Frames of a slot that gain something.
struct Gainful {
    /// Position in [`Bounds::order`].
    at: usize,
    item: usize,
    /// Of a frame, below 0.
    value: i128,
    /// What a frame takes of the one thing that is short.
    takes: i64,
}

/// Bounds on what slots may add.
struct Bounds<'a> {
    columns: &'a Columns<'a>,
    view: &'a View,
    relaxed: Relaxed,
    /// Slots, the most gainful first.
    order: Vec<usize>,
    /// By position in `order`: the one after the last slot before it with frames of the same item, or 0. Of
    /// the slots that are left of an item only the first, which gains most, is counted.
    same: Vec<usize>,
    /// Gainful slots, the most gainful first, at prices and by themselves; then for their brood.
    priced: Vec<Gainful>,
    by_value: Vec<Gainful>,
    by_brood: Vec<Gainful>,
    /// By position in `order`: what the frames taken before it come to at prices, and by themselves.
    taken: Vec<(i128, i128)>,
    /// What opening adds, and the least that frames drawn otherwise may add.
    beside: i64,
    /// Steps that are left.
    steps: usize,
    /// What was not looked at for want of steps is not below this.
    open: i64,
}

impl<'a> Bounds<'a> {
    fn new(columns: &'a Columns<'a>, view: &'a View) -> Self {
        let relaxed = Relaxed::new(columns, view);
        let mut order: Vec<usize> = (0..columns.slots.len()).collect();
        order.sort_by_key(|&slot| (view.slots[slot].0, slot));
        let item = |at: usize| columns.slots[order[at]].item;
        let before = |at: usize| (0..at).rev().find(|&other| item(other) == item(at));
        let same = (0..order.len()).map(|at| before(at).map_or(0, |other| other + 1));
        let same = same.collect();
        let own = |slot: usize| i128::from(view.slots[slot].0);
        let gainful = |value: &dyn Fn(usize) -> i128, takes: &dyn Fn(usize) -> i64| {
            let slots = order.iter().enumerate().map(|(at, &slot)| Gainful {
                at,
                item: item(at),
                value: value(slot),
                takes: takes(slot),
            });
            let gainful = slots.filter(|slot| slot.value < 0);
            let ratio = |slot: &Gainful| slot.value as f64 / slot.takes.max(1) as f64;
            let order = |a: &Gainful, b: &Gainful| {
                let takes = (a.takes > 0).cmp(&(b.takes > 0));
                takes.then(ratio(a).total_cmp(&ratio(b)))
            };
            gainful.sorted_by(order).collect()
        };
        let then: i64 = columns.donor.items.iter().map(|item| item.then()).sum();
        Self {
            priced: gainful(&|slot| relaxed.slots[slot], &|_| 1),
            by_value: gainful(&own, &|_| 1),
            by_brood: gainful(&own, &|slot| columns.item(slot).brood),
            taken: vec![(0, 0); order.len() + 1],
            beside: (columns.opening - then * columns.otherwise) * view.one,
            steps: WORK / order.len().max(1),
            open: i64::MAX,
            columns,
            view,
            relaxed,
            same,
            order,
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
        if let Some(last) = next.checked_sub(1) {
            let slot = self.order[last];
            let count = i128::from(counts[slot]);
            let (priced, own) = self.taken[last];
            let value = i128::from(self.view.slots[slot].0);
            self.taken[next] = (
                priced + count * self.relaxed.slots[slot],
                own + count * value,
            );
        }
        let least = self.least(i128::from(below), left, sums, next);
        let least = i64::try_from(least).unwrap_or(if least < 0 { i64::MIN } else { i64::MAX });
        self.steps = self.steps.saturating_sub(1);
        if least < below && self.steps == 0 {
            self.open = self.open.min(least);
        }
        least < below && self.steps > 0
    }

    /// The best of the bounds, or the first that is not below a value.
    fn least(&self, below: i128, left: &[u32], sums: &Sums, next: usize) -> i128 {
        let share = self.columns.share(sums.riding, sums.cells);
        let donor = self.columns.donor;
        let (frames, brood) = (donor.frames - sums.frames, donor.brood - sums.brood);
        let (priced, own) = self.taken[next];
        let bees = self.columns.least_bees(self.view, share);
        let own = own + i128::from(bees + self.beside);
        let mut least = own + self.rest(&self.by_value, frames, left, next);
        if least < below {
            least = least.max(own + self.rest(&self.by_brood, brood, left, next));
        }
        if least < below {
            let beside = self.relaxed.beside[share] + i128::from(self.beside);
            least = least.max(priced + beside + self.rest(&self.priced, frames, left, next));
        }
        least
    }

    /// The least that slots from `next` on may add, if one thing alone were short and frames could be divided.
    fn rest(&self, slots: &[Gainful], mut room: i64, left: &[u32], next: usize) -> i128 {
        let mut sum = 0;
        let counts = |at: usize| at >= next && self.same[at] <= next;
        for slot in slots.iter().filter(|slot| counts(slot.at)) {
            let frames = i64::from(left[slot.item]);
            if slot.takes * frames > room {
                // The last frame counts whole, so that this stays a bound.
                let frames = (room.max(0) + slot.takes - 1) / slot.takes;
                return sum + slot.value * i128::from(frames);
            }
            sum += slot.value * i128::from(frames);
            room -= slot.takes * frames;
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
        self.bounds.relaxed.slots[slot] < 0
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
        let slots = WORK.saturating_sub(visit.bounds.steps * order.len());
        self.searched.set(self.searched.get() + slots);
        (ended, visit.bounds.open)
    }
}
