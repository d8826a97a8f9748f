//! What costs no more and is less to do: bees ride rather than that others are added, and loose ones come in few
//! lots, none of them small where more are at hand.

use std::collections::BTreeMap;

use super::Totals;
use super::bees::hundreds_for;
use super::number::of_frames;
use super::slots::Filling;
use crate::scenario::SiteId;
use crate::solve::instance::{Instance, Item};
use crate::solve::master::cost_of_donor;

/// Loose hundreds beside brood below which nobody carries them over for their own sake (a choice).
const SMALL: i64 = 5;

/// What each colony gives, and may give.
pub(super) struct Books<'a> {
    instance: &'a Instance,
    /// Items and frames, for each donor.
    frames: Vec<Vec<(usize, u32)>>,
    /// Hundreds of bees taken, for each donor.
    taken: Vec<i64>,
    /// The most that its limits allow beside these frames.
    most: Vec<i64>,
}

impl<'a> Books<'a> {
    pub(super) fn of(instance: &'a Instance, totals: &Totals) -> Self {
        let count = instance.donors.len();
        let mut frames: Vec<BTreeMap<usize, u32>> = vec![BTreeMap::new(); count];
        for (&(donor, item, _), &n) in &totals.frames {
            *frames[donor].entry(item).or_default() += n;
        }
        let mut taken = vec![0; count];
        for (&(donor, _), &(riding, loose)) in &totals.bees {
            taken[donor] += riding + loose;
        }
        let most = |(at, frames): (usize, &BTreeMap<usize, u32>)| {
            let donor = &instance.donors[at];
            let sum = |of: fn(&Item) -> i64| -> i64 {
                let items = frames.iter();
                items
                    .map(|(&item, &n)| of(&donor.items[item]) * i64::from(n))
                    .sum()
            };
            donor.most_bees(sum(|item| item.cover), sum(|item| item.charge))
        };
        Self {
            instance,
            most: frames.iter().enumerate().map(most).collect(),
            frames: frames
                .into_iter()
                .map(|of| of.into_iter().collect())
                .collect(),
            taken,
        }
    }

    /// Takes so many hundreds more, or fewer, of each donor, if no limit forbids it and neither honey nor cost is more.
    fn book(&mut self, changes: &[(usize, i64)]) -> bool {
        let within =
            |&(donor, by): &(usize, i64)| by <= 0 || self.taken[donor] + by <= self.most[donor];
        let more = changes.iter().fold((0, 0), |more, &(donor, by)| {
            let (now, then) = (self.cost(donor, 0), self.cost(donor, by));
            (more.0 + then.0 - now.0, more.1 + then.1 - now.1)
        });
        let may = changes.iter().all(within) && more.0 <= 0 && more.1 <= 0;
        if may {
            for &(donor, by) in changes {
                self.taken[donor] += by;
            }
        }
        may
    }

    /// Honey and whole cost of a donor with so many hundreds more.
    fn cost(&self, donor: usize, by: i64) -> (i64, i64) {
        let (of, frames) = (&self.instance.donors[donor], &self.frames[donor]);
        let cost = cost_of_donor(of, frames, self.taken[donor] + by);
        (cost.honey.0, cost.total(&self.instance.prices).0)
    }
}

/// What the compartments of one site have beyond what they need.
struct Site<'a> {
    instance: &'a Instance,
    /// Position in [`Instance::sites`].
    at: usize,
    /// Bees that stay, of all and of loose ones.
    spare: i64,
    spare_loose: i64,
    /// Hundreds on brood frames that do not ride, for each donor.
    room: Vec<i64>,
}

/// Makes what is put into compartments less to do.
pub(super) fn ease(instance: &Instance, books: &mut Books, slots: &mut [Filling]) {
    let sites = 0..instance.sites.len();
    let mut sites: Vec<Site> = sites.map(|at| Site::of(instance, at, slots)).collect();
    let mut more = true;
    while std::mem::take(&mut more) {
        for slot in slots.iter_mut() {
            let kind = &instance.kinds[slot.kind];
            more |= sites[kind.site].ride(books, slot);
            if kind.brood_line {
                sites[kind.site].drop(books, slot);
            }
        }
    }
    back_to_brood(books, slots);
    for slot in slots {
        let kind = &instance.kinds[slot.kind];
        sites[kind.site].merge(books, slot);
        if kind.brood_line {
            sites[kind.site].grow(books, slot);
        }
    }
}

/// Bees that ride beside frames of others go back to where their brood is, as far as they are not needed there, or as
/// loose ones of a colony that is there may take their place.
fn back_to_brood(books: &mut Books, slots: &mut [Filling]) {
    let instance = books.instance;
    for from in 0..slots.len() {
        for (donor, lot) in slots[from].lots.clone() {
            let site = instance.kinds[slots[from].kind].site;
            let own = |slot: &Filling| slot.brood.get(&donor).map_or(0, |brood| brood.bees);
            let mut strayed = lot.riding - own(&slots[from]);
            for to in 0..slots.len() {
                let riding = slots[to].lots.get(&donor).map_or(0, |lot| lot.riding);
                let room = strayed.min(own(&slots[to]) - riding);
                if to == from || room <= 0 || instance.kinds[slots[to].kind].site != site {
                    continue;
                }
                let moved = spared(books, &mut slots[from], donor, room);
                if moved <= 0 {
                    continue;
                }
                strayed -= moved;
                slots[to].lots.entry(donor).or_default().riding += moved;
                let left = slots[from].lots.entry(donor).or_default();
                left.riding -= moved;
                if left.riding + left.loose == 0 {
                    slots[from].lots.remove(&donor);
                }
            }
        }
    }
}

/// How many of so many hundreds of a donor a compartment can do without: all, where another colony that is there may give
/// as many for them; else those that it has beyond what it needs.
fn spared(books: &mut Books, slot: &mut Filling, donor: usize, hundreds: i64) -> i64 {
    let instance = books.instance;
    let site = instance.kinds[slot.kind].site;
    let stay = |donor: usize| instance.donors[donor].stay[site];
    let over = slot.over(instance).max(0);
    let short = hundreds * stay(donor) - over;
    if !instance.kinds[slot.kind].brood_line || short <= 0 {
        return hundreds;
    }
    let there = slot.brood.keys().chain(slot.lots.keys()).copied();
    let others: Vec<usize> = there.filter(|&other| other != donor).collect();
    for other in others {
        let more = hundreds_for(stay(other), short);
        if more > 0 && books.book(&[(other, more)]) {
            let on_frames = slot.brood.get(&other).map_or(0, |brood| brood.bees);
            let lot = slot.lots.entry(other).or_default();
            let rides = more.min((on_frames - lot.riding).max(0));
            lot.riding += rides;
            lot.loose += more - rides;
            return hundreds;
        }
    }
    over.checked_div(stay(donor))
        .unwrap_or(hundreds)
        .min(hundreds)
}

/// Loose hundreds in a compartment by donor, the fewest first.
fn loose(slot: &Filling) -> Vec<(usize, i64)> {
    let lots = slot.lots.iter().filter(|(_, lot)| lot.loose > 0);
    let mut lots: Vec<(usize, i64)> = lots.map(|(&donor, lot)| (donor, lot.loose)).collect();
    lots.sort_by_key(|&(_, hundreds)| hundreds);
    lots
}

impl<'a> Site<'a> {
    fn of(instance: &'a Instance, at: usize, slots: &[Filling]) -> Self {
        let site = &instance.sites[at];
        let mut of = Self {
            instance,
            at,
            spare: 0,
            spare_loose: 0,
            room: vec![0; instance.donors.len()],
        };
        let (mut need, mut need_loose) = (-site.credit, -site.loose_credit);
        let here = |slot: &&Filling| instance.kinds[slot.kind].site == at;
        for slot in slots.iter().filter(here) {
            let kind = &instance.kinds[slot.kind];
            need += kind.need;
            need_loose += if kind.brood_line { 0 } else { kind.need };
            for (&donor, brood) in &slot.brood {
                of.room[donor] += brood.bees;
            }
            for (&donor, lot) in &slot.lots {
                of.room[donor] -= lot.riding;
                of.spare += of.stay(donor) * (lot.riding + lot.loose);
                of.spare_loose += of.stay(donor) * lot.loose;
            }
        }
        of.spare -= need.max(0);
        of.spare_loose -= need_loose.max(0);
        of
    }

    /// Has more bees ride: loose ones of the same colony, further ones, those in the place of loose bees of others.
    fn ride(&mut self, books: &mut Books, slot: &mut Filling) -> bool {
        // Where there is none, loose bees alone count.
        let brood_line = self.instance.kinds[slot.kind].brood_line;
        let before = self.room.iter().sum::<i64>();
        for (donor, brood) in slot.brood.clone() {
            let own = slot.lots.get(&donor).copied().unwrap_or_default();
            let room = (brood.bees - own.riding).min(self.room[donor]);
            let own = match brood_line {
                true => self.spared_of(donor, own.loose).min(room).max(0),
                false => 0,
            };
            self.add(slot, donor, (own, -own));
            let room = room - own;
            let more = (1..=room).rev().find(|&more| books.book(&[(donor, more)]));
            let more = more.unwrap_or(0);
            self.add(slot, donor, (more, 0));
            if brood_line {
                self.instead(books, slot, (donor, room - more));
            }
        }
        before > self.room.iter().sum()
    }

    /// Has bees ride in the place of loose ones of others.
    fn instead(&mut self, books: &mut Books, slot: &mut Filling, (donor, mut room): (usize, i64)) {
        for (other, held) in loose(slot).into_iter().filter(|&(other, _)| other != donor) {
            let spared = self.spared_of(other, held);
            let less = |more: i64| {
                let all = more * self.stay(donor);
                all.checked_div(self.stay(other))
                    .unwrap_or(held)
                    .min(spared)
            };
            let ways = (1..=room).rev().map(|more| (more, less(more)));
            let mut ways = ways.filter(|&(_, less)| less > 0);
            let found = ways.find(|&(more, less)| books.book(&[(donor, more), (other, -less)]));
            if let Some((more, less)) = found {
                self.add(slot, donor, (more, 0));
                self.add(slot, other, (0, -less));
                room -= more;
            }
        }
    }

    /// Loose hundreds of a donor, of so many, that need not be loose.
    fn spared_of(&self, donor: usize, held: i64) -> i64 {
        let spare = self.spare_loose.checked_div(self.stay(donor));
        spare.unwrap_or(held).min(held)
    }

    /// Leaves out loose bees that are not needed; of a lot that is, no small rest stays.
    fn drop(&mut self, books: &mut Books, slot: &mut Filling) {
        for (donor, held) in loose(slot) {
            let most = self.over(slot).checked_div(self.stay(donor));
            let most = most.unwrap_or(held);
            let less = match most >= held {
                true => held,
                false => most.min(held - SMALL),
            };
            if less > 0 && books.book(&[(donor, -less)]) {
                self.add(slot, donor, (0, -less));
            }
        }
    }

    /// Takes loose bees of another colony instead, as far as they are needed: of one whose brood is there, then of the largest
    /// lot, then of one of the same site as what else is there.
    fn merge(&mut self, books: &mut Books, slot: &mut Filling) {
        let with_brood = |slot: &Filling, donor| slot.brood.contains_key(&donor);
        let (own, strange): (Vec<_>, Vec<_>) = loose(slot)
            .into_iter()
            .partition(|&(donor, _)| with_brood(slot, donor));
        for (donor, _) in strange.into_iter().chain(own) {
            let lot = |slot: &Filling, of: usize| slot.lots.get(&of).copied().unwrap_or_default();
            let held = lot(slot, donor);
            let short = held.loose * self.stay(donor) - self.over(slot).max(0);
            let brood: Vec<usize> = slot.brood.keys().copied().collect();
            let lots = loose(slot).into_iter().rev().map(|(other, _)| other);
            let near = self.of_its_sites(books, slot, donor);
            for other in brood
                .into_iter()
                .chain(lots)
                .chain(near)
                .filter(|&other| other != donor)
            {
                let fewer = lot(slot, other).loose > 0 || held.riding == 0;
                let more = hundreds_for(self.stay(other), short);
                let enough = short <= 0 || more > 0;
                if fewer && enough && books.book(&[(other, more), (donor, -held.loose)]) {
                    self.add(slot, other, (0, more));
                    self.add(slot, donor, (0, -held.loose));
                    break;
                }
            }
        }
    }

    /// Donors that give and stand at the sites that a compartment is filled from, where one alone is of another site.
    fn of_its_sites(&self, books: &Books, slot: &Filling, donor: usize) -> Vec<usize> {
        let donors = &self.instance.donors;
        let of_frames = of_frames(self.instance, slot).map(|of| of.home);
        let of_others = slot.lots.keys().filter(|&&of| of != donor);
        let sites: Vec<SiteId> = of_frames
            .chain(of_others.map(|&of| donors[of].home))
            .collect();
        let is_near = |of: usize| sites.contains(&donors[of].home);
        let near = (0..donors.len()).filter(|&of| books.taken[of] > 0 && is_near(of));
        near.filter(|_| !is_near(donor)).collect()
    }

    /// Bees that a compartment of its site has beyond what is needed, there and in all.
    fn over(&self, slot: &Filling) -> i64 {
        let over = slot.over(self.instance).min(self.spare);
        over.min(self.spare_loose)
    }

    fn grow(&mut self, books: &mut Books, slot: &mut Filling) {
        for (donor, held) in loose(slot) {
            let more = (1..=SMALL - held).rev();
            if let Some(more) = { more }.find(|&more| books.book(&[(donor, more)])) {
                self.add(slot, donor, (0, more));
            }
        }
    }

    /// Bees that stay of a hundred of a donor.
    fn stay(&self, donor: usize) -> i64 {
        self.instance.donors[donor].stay[self.at]
    }

    /// Puts hundreds of a donor in, riding and loose, or takes them out.
    fn add(&mut self, slot: &mut Filling, donor: usize, (riding, loose): (i64, i64)) {
        let stay = self.stay(donor);
        self.room[donor] -= riding;
        self.spare += stay * (riding + loose);
        self.spare_loose += stay * loose;
        let lot = slot.lots.entry(donor).or_default();
        lot.riding += riding;
        lot.loose += loose;
        if lot.riding + lot.loose == 0 {
            slot.lots.remove(&donor);
        }
    }
}
