//! Bees into compartments: what rides goes with its frame, and loose bees in few lots.

use std::cmp::Reverse;

use itertools::Itertools;

use super::Totals;
use super::exchange::exchange;
use super::repair::repair;
use super::slots::Filling;
use crate::solve::instance::{Instance, LESS_THAN_A_HUNDRED};

/// Bees of one site that are dealt out.
pub(super) struct Deal<'a> {
    pub instance: &'a Instance,
    /// Position in [`Instance::sites`].
    pub site: usize,
    /// Hundreds of loose bees left, for each donor.
    pub pool: Vec<i64>,
    /// Bees that compartments covered so far hold beyond what they need, as far as the next one may be
    /// short of them.
    carry: i64,
}

/// Hundreds that make up for so many bees where so many of each stay.
pub(super) fn hundreds_for(stay: i64, bees: i64) -> i64 {
    match stay {
        1.. if bees > 0 => (bees + stay - 1) / stay,
        _ => 0,
    }
}

/// Donors whose brood is in a compartment, each with what is on it and does not ride yet.
fn on_brood(slot: &Filling) -> Vec<(usize, i64)> {
    let brood = slot.brood.iter();
    let rides = |donor| slot.lots.get(donor).map_or(0, |lot| lot.riding + lot.loose);
    brood
        .map(|(donor, brood)| (*donor, brood.bees - rides(donor)))
        .collect()
}

/// Donors whose brood, or whose bees, are in a compartment.
fn own(slot: &Filling) -> Vec<(usize, i64)> {
    let bees = slot
        .lots
        .keys()
        .filter(|donor| !slot.brood.contains_key(donor));
    let own = slot.brood.keys().chain(bees).chain(&slot.present);
    own.map(|&donor| (donor, i64::MAX)).collect()
}

/// Gives each compartment its bees. `None` where the totals are too low.
pub(super) fn deal_bees(instance: &Instance, totals: &Totals, slots: &mut [Filling]) -> Option<()> {
    for site in 0..instance.sites.len() {
        let here = |slot: &&mut Filling| instance.kinds[slot.kind].site == site;
        let mut slots: Vec<&mut Filling> = slots.iter_mut().filter(here).collect();
        let mut deal = Deal::new(instance, site, totals, &mut slots)?;
        let brood_line = |slot: &Filling| instance.kinds[slot.kind].brood_line;
        for slot in &mut slots {
            deal.keep(slot);
        }
        deal.pass(&mut slots, brood_line, |_, slot| on_brood(slot));
        deal.pass(&mut slots, brood_line, |_, slot| own(slot));
        // What is left goes first to those with brood of most colonies, so that no further one comes
        // in, and to those that are short of most, so that one lot will do.
        slots.sort_by_key(|slot| {
            let colonies = slot.brood.len();
            (brood_line(slot), Reverse(colonies), slot.over(instance))
        });
        deal.pass(
            &mut slots,
            |slot| !brood_line(slot),
            |deal, slot| deal.any(slot),
        );
        deal.pass(&mut slots, brood_line, |deal, slot| deal.any(slot));
        repair(&mut deal, &mut slots)?;
        deal.leave_none(&mut slots);
        exchange(&deal, &mut slots);
    }
    Some(())
}

impl<'a> Deal<'a> {
    /// Has the least number ride with each frame; all else is loose.
    fn new(
        instance: &'a Instance,
        site: usize,
        totals: &Totals,
        slots: &mut [&mut Filling],
    ) -> Option<Self> {
        let taken = |donor: usize| {
            let of = totals.bees.get(&(donor, site)).copied().unwrap_or_default();
            of.0 + of.1
        };
        let mut pool: Vec<i64> = (0..instance.donors.len()).map(taken).collect();
        for slot in slots {
            for (&donor, brood) in slot.brood.iter().filter(|(_, brood)| brood.least > 0) {
                slot.lots.entry(donor).or_default().riding = brood.least;
                pool[donor] -= brood.least;
            }
        }
        let enough = pool.iter().all(|&left| left >= 0);
        enough.then_some(Self {
            instance,
            site,
            pool,
            carry: instance.sites[site].credit,
        })
    }

    /// Bees that stay of a hundred of a donor.
    pub fn stay(&self, donor: usize) -> i64 {
        self.instance.donors[donor].stay[self.site]
    }

    /// Hundreds of a donor that make up for so many bees.
    pub fn hundreds_for(&self, donor: usize, bees: i64) -> i64 {
        hundreds_for(self.stay(donor), bees)
    }

    /// Puts loose bees of the pool into a compartment.
    pub fn put(&mut self, slot: &mut Filling, donor: usize, hundreds: i64) {
        self.pool[donor] -= hundreds;
        slot.lots.entry(donor).or_default().loose += hundreds;
        slot.present.insert(donor);
    }

    /// One compartment after the other, each until what stays in all so far covers what all so far need,
    /// or nothing is left of what it is offered: donors, and hundreds of each at most.
    fn pass(
        &mut self,
        slots: &mut [&mut Filling],
        which: impl Fn(&Filling) -> bool,
        offers: impl Fn(&Self, &Filling) -> Vec<(usize, i64)>,
    ) {
        for slot in slots.iter_mut().filter(|slot| !slot.covered && which(slot)) {
            for (donor, most) in offers(self, slot) {
                let short = -slot.over(self.instance) - self.carry;
                let hundreds = self.hundreds_for(donor, short);
                let hundreds = hundreds.min(most).min(self.pool[donor]);
                if hundreds > 0 {
                    self.put(slot, donor, hundreds);
                }
            }
            let over = slot.over(self.instance) + self.carry;
            if over >= 0 {
                slot.covered = true;
                self.carry = over.min(LESS_THAN_A_HUNDRED);
            }
        }
    }

    /// Gives a compartment what an earlier plan puts into it, beyond what rides, as far as it needs that, to the hundred.
    fn keep(&mut self, slot: &mut Filling) {
        let kept = slot.earlier.into_iter().flat_map(|earlier| &earlier.bees);
        for placed in kept {
            let donors = &self.instance.donors;
            if let Some(donor) = donors.iter().position(|donor| donor.id == placed.colony) {
                let rides = slot.lots.get(&donor).map_or(0, |lot| lot.riding);
                let short = LESS_THAN_A_HUNDRED - slot.over(self.instance);
                let short = self.hundreds_for(donor, short);
                let hundreds = (placed.taken().0 - rides).min(self.pool[donor]).min(short);
                if hundreds > 0 {
                    self.put(slot, donor, hundreds);
                }
            }
        }
    }

    /// Any donor: the one with just enough left for what a compartment is short of, then those with the most.
    fn any(&self, slot: &Filling) -> Vec<(usize, i64)> {
        let short = -slot.over(self.instance) - self.carry;
        let rank = |&donor: &usize| {
            let left = self.pool[donor];
            match left >= self.hundreds_for(donor, short) {
                true => (false, left),
                false => (true, -left),
            }
        };
        let donors = (0..self.pool.len()).filter(|&donor| self.pool[donor] > 0);
        let order = donors.sorted_by_key(rank);
        order.map(|donor| (donor, i64::MAX)).collect()
    }

    /// Puts what is left of the pool into compartments that it is in already, the shortest first.
    fn leave_none(&mut self, slots: &mut [&mut Filling]) {
        for donor in 0..self.pool.len() {
            let instance = self.instance;
            let best = slots.iter_mut().min_by_key(|slot| {
                let with_brood = slot.brood.contains_key(&donor);
                let here = slot.present.contains(&donor);
                (!with_brood, !here, slot.over(instance))
            });
            if let Some(slot) = best.filter(|_| self.pool[donor] > 0) {
                self.put(slot, donor, self.pool[donor]);
            }
        }
    }
}
