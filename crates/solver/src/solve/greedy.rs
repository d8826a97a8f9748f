//! A plan in hand before the search: compartments one after the other, those worth most first, each from where it costs
//! least at that moment.

use super::allocate::Totals;
use super::instance::{Donor, Instance, Item, Kind};
use super::master::{Master, Solution, cost_of};

/// Hundreds of loose bees that are taken of a colony in one go (a choice: draws get even).
const HANDFUL: i64 = 10;
/// Sources that may be looked at (a choice: some tens of milliseconds).
const WORK: usize = 5_000_000;

/// What has been taken of one colony.
#[derive(Debug, Clone, Copy, Default)]
struct Own {
    frames: i64,
    brood: i64,
    stores: i64,
    drawn: i64,
    cover: i64,
    cells: i64,
    charge: i64,
    /// Hundreds of bees, riding and loose.
    taken: i64,
}

impl Own {
    fn with(&self, item: &Item, sign: i64) -> Self {
        Self {
            frames: self.frames + sign,
            brood: self.brood + sign * item.brood,
            stores: self.stores + sign * item.stores,
            drawn: self.drawn + sign * item.drawn,
            cover: self.cover + sign * item.cover,
            cells: self.cells + sign * item.cells,
            charge: self.charge + sign * item.charge,
            taken: self.taken + sign * item.least,
        }
    }

    fn fits(&self, donor: &Donor) -> bool {
        self.frames <= donor.frames
            && self.brood <= donor.brood
            && self.stores <= donor.stores
            && self.drawn <= donor.drawn
            && self.taken <= donor.most_bees(self.cover, self.charge)
    }

    /// Grams of honey.
    fn honey(&self, donor: &Donor) -> i64 {
        self.charge + donor.hundred * self.taken
    }

    /// Grams, but for substitutes.
    fn cost(&self, instance: &Instance, donor: &Donor) -> i64 {
        let share = donor.burden.as_ref();
        let points = share.map_or(0, |share| share.burden(self.taken, self.cells));
        let opened = !donor.opened && (self.frames > 0 || self.taken > 0);
        self.honey(donor)
            + instance.prices.burden.0 * points
            + instance.prices.opened.0 * i64::from(opened)
    }
}

/// Something that was put in.
enum Put {
    /// A frame of an item of a donor, for a need.
    Frame(usize, usize, usize),
    /// A frame of a class of the store room, for a need.
    Shelf(usize, usize),
    /// Loose hundreds of a donor, for a site.
    Bees(usize, usize, i64),
}

struct Greedy<'a> {
    instance: &'a Instance,
    own: Vec<Own>,
    /// Frames of each item, by donor.
    counts: Vec<Vec<u32>>,
    /// Frames left of each class of the store room.
    shelf: Vec<i64>,
    totals: Totals,
    /// Honey given up in all.
    honey: i64,
    work: usize,
}

/// A plan that breaks no rule, worth as much as comes about; `None` where wishes are not met by it.
pub(super) fn greedy(master: &Master) -> Option<Solution> {
    let instance = master.instance;
    let donors = instance.donors.iter();
    let count = |class: &Vec<(usize, u32)>| class.iter().map(|&(_, n)| i64::from(n)).sum();
    let mut greedy = Greedy {
        instance,
        own: vec![Own::default(); instance.donors.len()],
        counts: donors.map(|donor| vec![0; donor.items.len()]).collect(),
        shelf: instance.shelf.iter().map(count).collect(),
        totals: Totals {
            compartments: instance.kinds.iter().map(|kind| kind.least).collect(),
            ..Totals::default()
        },
        honey: 0,
        work: 0,
    };
    let mut kinds: Vec<usize> = (0..instance.kinds.len()).collect();
    kinds.sort_by_key(|&kind| -instance.kinds[kind].worth);
    for kind in kinds {
        while greedy.work < WORK && greedy.add(master, kind) {}
    }
    greedy.finished()
}

impl Greedy<'_> {
    /// Stocks one more compartment of a kind, or one more box that is stocked whole.
    fn add(&mut self, master: &Master, at: usize) -> bool {
        let kind = &self.instance.kinds[at];
        self.totals.compartments[at] += kind.step;
        let mut put = Vec::new();
        let filled = master.fit(&self.totals.compartments)
            && self.fill(at, kind, &mut put)
            && self.cover(kind.site, true, &mut put)
            && self.cover(kind.site, false, &mut put)
            && self
                .instance
                .honey_room
                .is_none_or(|room| self.honey <= room);
        if !filled {
            self.totals.compartments[at] -= kind.step;
            for put in put.iter().rev() {
                self.put(put, -1);
            }
        }
        filled
    }

    fn fill(&mut self, at: usize, kind: &Kind, put: &mut Vec<Put>) -> bool {
        let needs = self.instance.needs.iter().enumerate();
        for (need, of) in needs.filter(|(_, need)| need.kind == at) {
            for _ in 0..i64::from(of.each) * kind.step {
                let Some(next) = self.source(need) else {
                    return false;
                };
                self.put(&next, 1);
                put.push(next);
            }
        }
        true
    }

    /// The frame that serves a need at the least cost.
    fn source(&mut self, need: usize) -> Option<Put> {
        let instance = self.instance;
        let substitute = instance.prices.substitute.0;
        let place = |class: usize| Some(substitute * i64::from(instance.classes[class][need]?));
        let left = self.shelf.iter().enumerate().filter(|(_, left)| **left > 0);
        let shelf = left.filter_map(|(class, _)| Some((place(class)?, Put::Shelf(class, need))));
        let mut best = shelf.min_by_key(|&(cost, _)| cost);
        for (at, (donor, own)) in instance.donors.iter().zip(&self.own).enumerate() {
            self.work += donor.items.len();
            let before = own.cost(instance, donor);
            for (item, of) in donor.items.iter().enumerate() {
                let Some(place) = place(of.class).filter(|_| self.counts[at][item] < of.count)
                else {
                    continue;
                };
                let with = own.with(of, 1);
                let cost = place + with.cost(instance, donor) - before;
                if best.as_ref().is_none_or(|&(least, _)| cost < least) && with.fits(donor) {
                    best = Some((cost, Put::Frame(at, item, need)));
                }
            }
        }
        best.map(|(_, put)| put)
    }

    /// Adds loose bees until a site has enough, of all or of loose ones for compartments without a brood line.
    fn cover(&mut self, site: usize, loose: bool, put: &mut Vec<Put>) -> bool {
        loop {
            self.work += self.instance.donors.len();
            let short = self.short(site, loose);
            if short <= 0 {
                return true;
            }
            let Some(next) = self.bees(site, short) else {
                return false;
            };
            self.put(&next, 1);
            put.push(next);
        }
    }

    /// Bees that a site is short of.
    fn short(&self, site: usize, loose: bool) -> i64 {
        let instance = self.instance;
        let kinds = instance.kinds.iter().zip(&self.totals.compartments);
        let kinds = kinds.filter(|(kind, _)| kind.site == site && !(loose && kind.brood_line));
        let need: i64 = kinds.map(|(kind, count)| kind.need * count).sum();
        let here = &instance.sites[site];
        let credit = if loose {
            here.loose_credit
        } else {
            here.credit
        };
        let stays = instance.donors.iter().enumerate().map(|(at, donor)| {
            let bees = self.totals.bees.get(&(at, site)).copied().unwrap_or((0, 0));
            donor.stay[site] * if loose { bees.1 } else { bees.0 + bees.1 }
        });
        (need - credit).max(0) - stays.sum::<i64>()
    }

    /// The handful of loose bees that costs least for each that stays.
    fn bees(&mut self, site: usize, short: i64) -> Option<Put> {
        let instance = self.instance;
        self.work += instance.donors.len();
        let mut best: Option<(i64, i64, Put)> = None;
        for (at, (donor, own)) in instance.donors.iter().zip(&self.own).enumerate() {
            let stay = donor.stay[site];
            let room = donor.most_bees(own.cover, own.charge) - own.taken;
            if stay <= 0 || room <= 0 {
                continue;
            }
            let hundreds = ((short + stay - 1) / stay).min(room).min(HANDFUL);
            let with = Own {
                taken: own.taken + hundreds,
                ..*own
            };
            let cost = with.cost(instance, donor) - own.cost(instance, donor);
            let stays = hundreds * stay;
            if best
                .as_ref()
                .is_none_or(|&(least, of, _)| cost * of < least * stays)
            {
                best = Some((cost, stays, Put::Bees(at, site, hundreds)));
            }
        }
        best.map(|(_, _, put)| put)
    }

    /// Puts something in, or takes it back where `sign` is -1.
    fn put(&mut self, put: &Put, sign: i64) {
        let change = |count: &mut u32| *count = count.saturating_add_signed(sign as i32);
        match *put {
            Put::Shelf(class, need) => {
                self.shelf[class] -= sign;
                change(self.totals.shelf.entry((class, need)).or_default());
            }
            Put::Frame(at, item, need) => {
                let (donor, own) = (&self.instance.donors[at], &mut self.own[at]);
                let of = &donor.items[item];
                change(&mut self.counts[at][item]);
                self.honey -= own.honey(donor);
                *own = own.with(of, sign);
                self.honey += own.honey(donor);
                change(self.totals.frames.entry((at, item, need)).or_default());
                let site = self.instance.kinds[self.instance.needs[need].kind].site;
                self.totals.bees.entry((at, site)).or_default().0 += sign * of.least;
            }
            Put::Bees(at, site, hundreds) => {
                self.own[at].taken += sign * hundreds;
                self.honey += sign * hundreds * self.instance.donors[at].hundred;
                self.totals.bees.entry((at, site)).or_default().1 += sign * hundreds;
            }
        }
    }

    fn finished(mut self) -> Option<Solution> {
        let instance = self.instance;
        self.totals.frames.retain(|_, count| *count > 0);
        self.totals.shelf.retain(|_, count| *count > 0);
        self.totals.bees.retain(|_, bees| bees.0 + bees.1 > 0);
        let met = |(donor, counts): (&Donor, &Vec<u32>)| {
            let mut items = donor.items.iter().zip(counts);
            counts.iter().sum::<u32>() >= donor.give
                && items.all(|(item, &count)| count >= item.give)
        };
        let kinds = instance.kinds.iter().zip(&self.totals.compartments);
        let worth = kinds.map(|(kind, count)| kind.worth * count).sum();
        let cost = cost_of(instance, &self.totals);
        let solution = Solution {
            totals: self.totals,
            worth,
            cost,
        };
        let mut donors = instance.donors.iter().zip(&self.counts);
        donors.all(met).then_some(solution)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::check;
    use crate::scenario::Scenario;
    use crate::solve::allocate::allocate;
    use crate::solve::master::Clock;
    use crate::solve::{Ceiling, Outcome, SolveOptions, solve};
    use crate::support::generate;
    use std::time::Duration;

    /// What is in hand, of how much the best is worth, over so many yards. It breaks no rule.
    fn in_hand(yards: u64, yard: fn(u64) -> Scenario) -> (i64, i64) {
        let (mut hand, mut best) = (0, 0);
        for seed in 0..yards {
            let scenario = yard(seed);
            let instance = Instance::new(&scenario, None, &Ceiling::default());
            let Outcome::Stocked(found) = solve(&scenario, &SolveOptions::default()) else {
                continue;
            };
            best += found.goals.worth.0;
            let Some(own) = greedy(&Master::new(&instance, Clock::default())) else {
                continue;
            };
            let plan = allocate(&scenario, &instance, &own.totals, None)
                .expect("totals go into compartments");
            let (goals, breaches) = check(&scenario, &plan);
            assert!(breaches.is_empty(), "seed {seed}: {breaches:#?}");
            assert_eq!(goals.worth.0, own.worth, "seed {seed}");
            hand += own.worth;
        }
        (hand, best)
    }

    #[test]
    fn a_good_plan_is_in_hand_before_the_search() {
        let (hand, best) = in_hand(20, generate::apiary);
        assert!(100 * hand >= 90 * best, "{hand} of {best}");
        let (hand, best) = in_hand(60, generate::yard);
        assert!(100 * hand >= 80 * best, "{hand} of {best}");
    }

    #[test]
    fn with_no_time_at_all_that_plan_is_the_answer() {
        let now = SolveOptions {
            time_limit: Some(Duration::ZERO),
            ..SolveOptions::default()
        };
        for seed in 0..10 {
            let scenario = generate::apiary(seed);
            assert!(
                matches!(solve(&scenario, &now), Outcome::Stocked(_)),
                "seed {seed}"
            );
        }
    }
}
