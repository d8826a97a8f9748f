//! Bees into compartments: what rides goes with its frame, and loose bees in few lots.

use std::cmp::Reverse;

use itertools::Itertools;

use super::Totals;
use super::repair::repair;
use super::slots::Slot;
use crate::solve::instance::{Instance, LESS_THAN_A_HUNDRED};

/// Bees of one site that are dealt out.
pub(super) struct Deal<'a> {
    pub instance: &'a Instance,
    /// Position in [`Instance::sites`].
    pub site: usize,
    /// Hundreds of loose bees left, for each donor.
    pub pool: Vec<i64>,
}

/// Gives each compartment its bees. `None` where the totals are too low.
pub(super) fn deal_bees(instance: &Instance, totals: &Totals, slots: &mut [Slot]) -> Option<()> {
    for site in 0..instance.sites.len() {
        let here = |slot: &&mut Slot| instance.kinds[slot.kind].site == site;
        let mut slots: Vec<&mut Slot> = slots.iter_mut().filter(here).collect();
        let mut deal = Deal::new(instance, site, totals, &mut slots)?;
        // Loose bees first to those that nothing else covers, then to those with brood of most
        // colonies, so that no further one comes in.
        slots.sort_by_key(|slot| {
            (
                instance.kinds[slot.kind].brood_line,
                Reverse(slot.brood.len()),
            )
        });
        deal.in_turn(&mut slots);
        repair(&mut deal, &mut slots)?;
        deal.leave_none(&mut slots);
        deal.let_ride(&mut slots);
    }
    Some(())
}

impl<'a> Deal<'a> {
    /// Has the least number ride with each frame; all else is loose.
    fn new(
        instance: &'a Instance,
        site: usize,
        totals: &Totals,
        slots: &mut [&mut Slot],
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
        })
    }

    /// Bees that stay of a hundred of a donor.
    pub fn stay(&self, donor: usize) -> i64 {
        self.instance.donors[donor].stay[self.site]
    }

    /// Hundreds of a donor that make up for so many bees.
    pub fn hundreds_for(&self, donor: usize, bees: i64) -> i64 {
        match self.stay(donor) {
            stay if stay > 0 && bees > 0 => (bees + stay - 1) / stay,
            _ => 0,
        }
    }

    /// Puts loose bees of the pool into a compartment.
    pub fn put(&mut self, slot: &mut Slot, donor: usize, hundreds: i64) {
        self.pool[donor] -= hundreds;
        slot.lots.entry(donor).or_default().loose += hundreds;
        slot.present.insert(donor);
    }

    /// One compartment after the other, each until what stays in all so far covers what all so far need.
    fn in_turn(&mut self, slots: &mut [&mut Slot]) {
        let wanted: Vec<Vec<(usize, i64)>> = slots.iter().map(|slot| self.wanted(slot)).collect();
        let mut reserved = vec![0; self.pool.len()];
        for &(donor, hundreds) in wanted.iter().flatten() {
            reserved[donor] += hundreds;
        }
        let mut carry = self.instance.sites[self.site].credit;
        for (slot, wanted) in slots.iter_mut().zip(&wanted) {
            for &(donor, hundreds) in wanted {
                reserved[donor] -= hundreds;
            }
            for (donor, most) in self.offers(slot, wanted, &reserved) {
                let short = -slot.over(self.instance) - carry;
                let hundreds = self.hundreds_for(donor, short);
                let hundreds = hundreds.min(most).min(self.pool[donor]);
                if hundreds > 0 {
                    self.put(slot, donor, hundreds);
                }
            }
            carry = (carry + slot.over(self.instance)).clamp(0, LESS_THAN_A_HUNDRED);
        }
    }

    /// Hundreds that a compartment would have of certain donors: what an earlier plan puts there, and of
    /// those whose brood is in it up to what it is short of.
    fn wanted(&self, slot: &Slot) -> Vec<(usize, i64)> {
        let short = -slot.over(self.instance);
        let donors = &self.instance.donors;
        let kept = slot.earlier.iter().flat_map(|earlier| &earlier.bees);
        let kept = kept.filter_map(|placed| {
            let donor = donors.iter().position(|donor| donor.id == placed.colony)?;
            let rides = slot.lots.get(&donor).map_or(0, |lot| lot.riding);
            Some((donor, placed.taken().0 - rides))
        });
        let own = slot
            .brood
            .keys()
            .map(|&donor| (donor, self.hundreds_for(donor, short)));
        kept.chain(own)
            .filter(|&(_, hundreds)| hundreds > 0)
            .collect()
    }

    /// Donors in the order in which they are asked, and for how many hundreds at most: what the
    /// compartment would have of them; those that are in it; those with the most that no other
    /// compartment would have; any.
    fn offers(&self, slot: &Slot, wanted: &[(usize, i64)], reserved: &[i64]) -> Vec<(usize, i64)> {
        let donors = || 0..self.pool.len();
        let free = |donor: usize| self.pool[donor] - reserved[donor];
        let most_free = donors().sorted_by_key(|&donor| Reverse(free(donor)));
        let most_left = donors().sorted_by_key(|&donor| Reverse(self.pool[donor]));
        let here = slot.present.iter().copied();
        wanted
            .iter()
            .copied()
            .chain(here.chain(most_free).map(|donor| (donor, free(donor))))
            .chain(most_left.map(|donor| (donor, i64::MAX)))
            .collect()
    }

    /// Puts what is left of the pool into compartments that it is in already, the shortest first.
    fn leave_none(&mut self, slots: &mut [&mut Slot]) {
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

    /// Has loose bees ride on the brood frames of their colony in the same compartment, up to all that
    /// are on them, as far as the loose ones that are needed are left.
    fn let_ride(&self, slots: &mut [&mut Slot]) {
        let mut spare = self.spare_loose(slots);
        for slot in slots {
            if !self.instance.kinds[slot.kind].brood_line {
                continue;
            }
            for (&donor, brood) in &slot.brood {
                let Some(lot) = slot.lots.get_mut(&donor) else {
                    continue;
                };
                let stay = self.stay(donor);
                let most = match stay > 0 {
                    true => (spare / stay).max(0),
                    false => i64::MAX,
                };
                let more = (brood.bees - lot.riding).min(lot.loose).min(most).max(0);
                lot.loose -= more;
                lot.riding += more;
                spare -= more * stay;
            }
        }
    }

    /// Bees that stay of the loose ones beyond what compartments without a brood line need.
    fn spare_loose(&self, slots: &[&mut Slot]) -> i64 {
        let kind = |slot: &Slot| &self.instance.kinds[slot.kind];
        let needs = slots.iter().filter(|slot| !kind(slot).brood_line);
        let need: i64 = needs.map(|slot| kind(slot).need).sum();
        let need = (need - self.instance.sites[self.site].loose_credit).max(0);
        if need == 0 {
            return i64::MAX / 2;
        }
        let lots = slots.iter().flat_map(|slot| &slot.lots);
        lots.map(|(&donor, lot)| self.stay(donor) * lot.loose)
            .sum::<i64>()
            - need
    }
}
