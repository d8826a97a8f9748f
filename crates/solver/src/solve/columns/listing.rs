//! All vectors of frames that a colony may give but dominated ones, and a search through them.

use super::{Columns, LISTED};

/// Vectors of frames by slot, with what depends on them alone.
#[derive(Debug, Clone, Default)]
pub(crate) struct Listing {
    /// How many slots there are.
    width: usize,
    /// Frames of each slot, vector after vector.
    counts: Vec<u32>,
    facts: Vec<Facts>,
}

impl Listing {
    pub fn push(&mut self, counts: &[u32], facts: Facts) {
        self.width = counts.len();
        self.counts.extend_from_slice(counts);
        self.facts.push(facts);
    }

    pub fn len(&self) -> usize {
        self.facts.len()
    }

    /// One vector.
    #[inline]
    pub fn at(&self, at: usize) -> (&[u32], &Facts) {
        (
            &self.counts[at * self.width..(at + 1) * self.width],
            &self.facts[at],
        )
    }
}

/// What a vector of frames comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) struct Facts {
    pub frames: i64,
    /// Hundreds that must ride.
    pub riding: i64,
    /// Share by its cells and the bees that must ride.
    pub share: usize,
    /// Hundreds of bees that may be taken at most.
    pub most: i64,
    /// Grams of frames drawn otherwise and of opening.
    pub extra: i64,
}

/// What has been taken so far.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Sums {
    pub frames: i64,
    pub brood: i64,
    stores: i64,
    drawn: i64,
    charge: i64,
    pub riding: i64,
    pub cells: i64,
    cover: i64,
}

/// A search: what a vector is worth, and when to look no further.
pub(super) trait Visit {
    /// Whether anything below this partial vector may be of interest; it leaves so many frames of each item,
    /// and `next` is the slot to come.
    fn enter(&mut self, counts: &[u32], left: &[u32], sums: &Sums, next: usize) -> bool;
    /// Whether frames of a slot gain something: the most are tried first.
    fn gains(&self, slot: usize) -> bool;
    /// Takes a whole vector; `false` ends the search.
    fn take(&mut self, counts: &[u32], facts: Facts) -> bool;
}

impl Columns<'_> {
    /// All vectors that floors and caps allow, undominated; `None` where they are too many.
    pub(super) fn list(&self) -> Option<Listing> {
        let mut collect = Collect::default();
        let order: Vec<usize> = (0..self.slots.len()).collect();
        let ended = self.walk(&order, &mut collect);
        (ended && collect.steps <= STEPS).then_some(collect.listing)
    }

    /// Walks through all vectors that floors and caps allow, and the node; `false` where it was ended.
    pub(super) fn walk(&self, order: &[usize], visit: &mut impl Visit) -> bool {
        let mut counts = vec![0; self.slots.len()];
        let mut left: Vec<u32> = self.donor.items.iter().map(|item| item.count).collect();
        self.deeper(order, 0, &mut counts, &mut left, Sums::default(), visit)
    }

    fn deeper(
        &self,
        order: &[usize],
        next: usize,
        counts: &mut [u32],
        left: &mut [u32],
        sums: Sums,
        visit: &mut impl Visit,
    ) -> bool {
        let Some(&slot) = order.get(next) else {
            return match self.facts(left, &sums) {
                Some(facts) => visit.take(counts, facts),
                None => true,
            };
        };
        if !visit.enter(counts, left, &sums, next) {
            return true;
        }
        let item = self.item(slot);
        let at = self.slots[slot].item;
        let (least, most) = self.choices.frames[slot];
        let fits = |&count: &u32| self.fits(&sums.with(item, i64::from(count)));
        let most = match self.dominated[slot] {
            Some(better) if counts[better] < self.slots[better].most => 0,
            _ => most.min(left[at]),
        };
        let most = (least..=most).take_while(fits).last();
        let Some(most) = most else { return true };
        let down = visit.gains(slot);
        for step in 0..=most - least {
            let count = if down { most - step } else { least + step };
            let sums = sums.with(item, i64::from(count));
            counts[slot] = count;
            left[at] -= count;
            let on = self.deeper(order, next + 1, counts, left, sums, visit);
            left[at] += count;
            counts[slot] = 0;
            if !on {
                return false;
            }
        }
        true
    }

    fn fits(&self, sums: &Sums) -> bool {
        let donor = self.donor;
        sums.frames <= donor.frames
            && sums.brood <= donor.brood
            && sums.stores <= donor.stores
            && sums.drawn <= donor.drawn
            && sums.riding <= donor.bees
            && donor
                .honey
                .is_none_or(|room| sums.charge + donor.hundred * sums.riding <= room)
    }

    /// What a whole vector comes to that leaves so many frames of each item; `None` where cover or wishes
    /// forbid it.
    fn facts(&self, left: &[u32], sums: &Sums) -> Option<Facts> {
        let donor = self.donor;
        let most = self.donor.most_bees(sums.cover, sums.charge);
        if most < sums.riding || sums.frames < i64::from(donor.give) {
            return None;
        }
        let mut otherwise = 0;
        for (item, left) in donor.items.iter().zip(left) {
            let count = item.count - left;
            if count < item.give {
                return None;
            }
            otherwise += item.otherwise(count);
        }
        let opening = if sums.frames > 0 { self.opening } else { 0 };
        Some(Facts {
            frames: sums.frames,
            riding: sums.riding,
            share: self.share(sums.riding, sums.cells),
            most,
            extra: opening + self.otherwise * otherwise,
        })
    }

    /// Grams charged for the frames of a vector.
    pub fn charge(&self, counts: &[u32]) -> i64 {
        let of_slot = |(slot, &count): (usize, &u32)| self.item(slot).charge * i64::from(count);
        counts.iter().enumerate().map(of_slot).sum()
    }
}

impl Sums {
    fn with(mut self, item: &super::Item, count: i64) -> Self {
        self.frames += count;
        self.brood += item.brood * count;
        self.stores += item.stores * count;
        self.drawn += item.drawn * count;
        self.charge += item.charge * count;
        self.riding += item.least * count;
        self.cells += item.cells * count;
        self.cover += item.cover * count;
        self
    }
}

/// Steps that listing may take: vectors that floors forbid are no vectors, but take time (a choice).
const STEPS: usize = 20 * LISTED;

#[derive(Default)]
struct Collect {
    listing: Listing,
    steps: usize,
}

impl Visit for Collect {
    fn enter(&mut self, _: &[u32], _: &[u32], _: &Sums, _: usize) -> bool {
        self.steps += 1;
        self.steps <= STEPS
    }

    fn gains(&self, _: usize) -> bool {
        false
    }

    fn take(&mut self, counts: &[u32], facts: Facts) -> bool {
        self.listing.push(counts, facts);
        self.listing.len() <= LISTED
    }
}
