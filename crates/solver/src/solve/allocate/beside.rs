//! Frames without brood go where brood of their colony is, or else its bees: which compartment gets whose is a tie that
//! the totals leave open, also between kinds of box.

use std::collections::BTreeMap;

use super::slots::Filling;
use crate::plan::{Origin, PlacedFrames};
use crate::scenario::ColonyId;
use crate::solve::instance::Instance;

/// Where frames may go.
struct Beside<'a> {
    instance: &'a Instance,
    /// Donors by colony.
    donors: BTreeMap<ColonyId, usize>,
    /// Compartments where a donor's brood or bees are.
    homes: BTreeMap<usize, Vec<usize>>,
}

/// Exchanges frames without brood between compartments, one for one, as long as more are then beside brood of their
/// colony, or else its bees, and lines are served as well.
pub(super) fn beside_their_own(instance: &Instance, slots: &mut [Filling]) {
    let donors = instance.donors.iter().enumerate();
    let mut beside = Beside {
        instance,
        donors: donors.map(|(at, donor)| (donor.id, at)).collect(),
        homes: BTreeMap::new(),
    };
    for (at, slot) in slots.iter().enumerate() {
        for &donor in slot.brood.keys().chain(slot.lots.keys()) {
            beside.homes.entry(donor).or_default().push(at);
        }
    }
    let mut more = true;
    while std::mem::take(&mut more) {
        for at in 0..slots.len() {
            let mut which = 0;
            while which < slots[at].frames.len() {
                match beside.exchange(slots, (at, which)) {
                    true => more = true,
                    false => which += 1,
                }
            }
        }
    }
}

impl Beside<'_> {
    /// Exchanges one frame for another where that is for the better.
    fn exchange(&self, slots: &mut [Filling], (at, which): (usize, usize)) -> bool {
        let own = &slots[at].frames[which];
        let Some(donor) = self
            .donor(own.origin)
            .filter(|_| self.may_go(&slots[at], own))
        else {
            return false;
        };
        let homes = self.homes.get(&donor).into_iter().flatten();
        for &to in homes.filter(|&&to| to != at) {
            for other in 0..slots[to].frames.len() {
                if self.better(&slots[at], own, (&slots[to], &slots[to].frames[other])) {
                    let (out, into) = (own.origin, slots[to].frames[other].origin);
                    replace(&mut slots[at], which, into);
                    replace(&mut slots[to], other, out);
                    return true;
                }
            }
        }
        false
    }

    /// Whether two frames are better off in each other's place.
    fn better(
        &self,
        slot: &Filling,
        own: &PlacedFrames,
        (there, other): (&Filling, &PlacedFrames),
    ) -> bool {
        let place =
            |slot: &Filling, line: usize, of: &PlacedFrames| self.place(slot, line, of.origin);
        let now = place(slot, own.line, own).zip(place(there, other.line, other));
        let then = place(slot, own.line, other).zip(place(there, other.line, own));
        let as_well = now
            .zip(then)
            .is_some_and(|(now, then)| then.0 + then.1 <= now.0 + now.1);
        let home = |slot: &Filling, of: &PlacedFrames| self.home(slot, of.origin);
        self.may_go(there, other)
            && as_well
            && home(slot, other) + home(there, own) > home(slot, own) + home(there, other)
    }

    fn donor(&self, origin: Origin) -> Option<usize> {
        match origin {
            Origin::Colony(id, _) => self.donors.get(&id).copied(),
            Origin::StoreRoom(_) => None,
        }
    }

    /// Without brood, and not kept where it is by an earlier plan.
    fn may_go(&self, slot: &Filling, of: &PlacedFrames) -> bool {
        let item = self.item(of.origin);
        slot.earlier.is_none() && item.is_none_or(|(_, brood)| brood == 0)
    }

    /// How much at home a frame is: beside brood, or else bees, of its colony.
    fn home(&self, slot: &Filling, origin: Origin) -> u32 {
        match self.donor(origin) {
            Some(donor) if slot.brood.contains_key(&donor) => 2,
            Some(donor) if slot.lots.contains_key(&donor) => 1,
            _ => 0,
        }
    }

    /// Class and brood of a colony's frame.
    fn item(&self, origin: Origin) -> Option<(usize, i64)> {
        let Origin::Colony(_, group) = origin else {
            return None;
        };
        let items = &self.instance.donors[self.donor(origin)?].items;
        let of = items
            .iter()
            .find(|item| item.parts.iter().any(|part| part.group == group))?;
        Some((of.class, of.brood))
    }

    /// Place of a frame in the order of preference of a compartment's line.
    fn place(&self, slot: &Filling, line: usize, origin: Origin) -> Option<i64> {
        let class = match origin {
            Origin::Colony(..) => self.item(origin)?.0,
            Origin::StoreRoom(entry) => {
                let mut shelf = self.instance.shelf.iter();
                shelf.position(|class| class.iter().any(|&(at, _)| at == entry))?
            }
        };
        let need = |(need, place): (&crate::solve::instance::Need, &Option<_>)| {
            let here = need.kind == slot.kind && need.line == line;
            (*place).filter(|_| here).map(i64::from)
        };
        let places = self
            .instance
            .needs
            .iter()
            .zip(&self.instance.classes[class]);
        places.into_iter().find_map(need)
    }
}

/// Puts a frame of another origin in the place of one.
fn replace(slot: &mut Filling, which: usize, origin: Origin) {
    let line = slot.frames[which].line;
    slot.frames[which].count -= 1;
    let alike = |placed: &&mut PlacedFrames| placed.line == line && placed.origin == origin;
    match slot.frames.iter_mut().find(alike) {
        Some(same) => same.count += 1,
        None => slot.frames.push(PlacedFrames {
            line,
            origin,
            count: 1,
        }),
    }
    slot.frames.retain(|placed| placed.count > 0);
}
