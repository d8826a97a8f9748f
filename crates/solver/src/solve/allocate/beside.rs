//! Frames without brood go where there would be nothing to eat, or where brood of their colony is, or else its bees: which
//! compartment gets which is a tie that the totals leave open, also between kinds of box.

use std::collections::BTreeMap;

use super::slots::Filling;
use crate::plan::{Origin, PlacedFrames};
use crate::scenario::{ColonyId, FrameState, Line, Scenario};
use crate::solve::instance::Instance;

/// Where frames may go.
struct Beside<'a> {
    scenario: &'a Scenario,
    instance: &'a Instance,
    /// Donors by colony.
    donors: BTreeMap<ColonyId, usize>,
    /// Compartments where a donor's brood or bees are.
    homes: BTreeMap<usize, Vec<usize>>,
}

/// Exchanges frames without brood between compartments, one for one, as long as more compartments then have stores or
/// feed, or else more frames are beside brood of their colony, or else its bees, and lines are served as well.
pub(super) fn beside_their_own(scenario: &Scenario, instance: &Instance, slots: &mut [Filling]) {
    let donors = instance.donors.iter().enumerate();
    let mut beside = Beside {
        scenario,
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
        let hungry = (0..slots.len()).filter(|&at| !beside.fed(&slots[at], None));
        let hungry: Vec<usize> = hungry.collect();
        for at in 0..slots.len() {
            let mut which = 0;
            while which < slots[at].frames.len() {
                match beside.exchange(slots, &hungry, (at, which)) {
                    true => more = true,
                    false => which += 1,
                }
            }
        }
    }
}

impl Beside<'_> {
    /// Exchanges one frame for another where that is for the better.
    fn exchange(
        &self,
        slots: &mut [Filling],
        hungry: &[usize],
        (at, which): (usize, usize),
    ) -> bool {
        let own = &slots[at].frames[which];
        if !self.may_go(&slots[at], own) {
            return false;
        }
        let donor = self.donor(own.origin);
        let homes = donor.and_then(|donor| self.homes.get(&donor));
        let feeds = |_: &&usize| self.feeds(&slots[at], own.line, own.origin);
        let places = hungry.iter().filter(feeds);
        let places = places.chain(homes.into_iter().flatten());
        for &to in places.filter(|&&to| to != at) {
            for other in 0..slots[to].frames.len() {
                if self.better((&slots[at], own), (&slots[to], &slots[to].frames[other])) {
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
        (slot, own): (&Filling, &PlacedFrames),
        (there, other): (&Filling, &PlacedFrames),
    ) -> bool {
        let place = |slot: &Filling, line: usize, of: &PlacedFrames| {
            self.line(slot, line).place_of(self.frame(of.origin))
        };
        let now = place(slot, own.line, own).zip(place(there, other.line, other));
        let then = place(slot, own.line, other).zip(place(there, other.line, own));
        let as_well = now
            .zip(then)
            .is_some_and(|(now, then)| then.0 + then.1 <= now.0 + now.1);
        let fed = |own: Option<_>, other: Option<_>| {
            u32::from(self.fed(slot, own)) + u32::from(self.fed(there, other))
        };
        let home = |slot: &Filling, of: &PlacedFrames| self.home(slot, of.origin);
        let now = || (fed(None, None), home(slot, own) + home(there, other));
        let then = || {
            let fed = fed(Some((own, other.origin)), Some((other, own.origin)));
            (fed, home(slot, other) + home(there, own))
        };
        self.may_go(there, other) && as_well && then() > now()
    }

    fn donor(&self, origin: Origin) -> Option<usize> {
        match origin {
            Origin::Colony(id, _) => self.donors.get(&id).copied(),
            Origin::StoreRoom(_) => None,
        }
    }

    fn frame(&self, origin: Origin) -> &FrameState {
        match origin {
            Origin::Colony(id, group) => &self.scenario.colonies[id.0].frames[group].frame,
            Origin::StoreRoom(entry) => &self.scenario.store_room[entry].frame,
        }
    }

    fn line(&self, slot: &Filling, line: usize) -> &Line {
        let kind = &self.instance.kinds[slot.kind];
        let boxes = &self.scenario.boxes[kind.id.0];
        match kind.again {
            true => &boxes.again.lines[line],
            false => &boxes.lines[line],
        }
    }

    /// Without brood, and not kept where it is by an earlier plan.
    fn may_go(&self, slot: &Filling, of: &PlacedFrames) -> bool {
        slot.earlier.is_none() && self.frame(of.origin).brood.0 == 0
    }

    /// How much at home a frame is: beside brood, or else bees, of its colony.
    fn home(&self, slot: &Filling, origin: Origin) -> u32 {
        match self.donor(origin) {
            Some(donor) if slot.brood.contains_key(&donor) => 2,
            Some(donor) if slot.lots.contains_key(&donor) => 1,
            _ => 0,
        }
    }

    /// Whether there are stores in a compartment or feed comes with a frame, after a frame has been exchanged for another.
    fn fed(&self, slot: &Filling, exchanged: Option<(&PlacedFrames, Origin)>) -> bool {
        let stays = |placed: &&PlacedFrames| {
            let goes = exchanged.is_some_and(|(out, _)| std::ptr::eq(out, *placed));
            placed.count > u32::from(goes)
        };
        let stays = slot.frames.iter().filter(stays);
        let mut frames = stays
            .map(|placed| (placed.line, placed.origin))
            .chain(exchanged.map(|(out, into)| (out.line, into)));
        frames.any(|(line, origin)| self.feeds(slot, line, origin))
    }

    /// Whether a frame in a line has stores, or feed comes with it.
    fn feeds(&self, slot: &Filling, line: usize, origin: Origin) -> bool {
        let (line, frame) = (self.line(slot, line), self.frame(origin));
        let substitute = line.place_of(frame).and_then(|place| place.checked_sub(1));
        frame.stores.0 > 0 || substitute.is_some_and(|at| line.substitutes[at].feed.0 > 0)
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
