//! Rule supply: no more than there is.

use super::account::{Account, Taken};
use super::breach::{Amount, Breaches, Fault, Place, Rule, Spot, Thing, hundreds, narrow};
use crate::plan::{Compartment, Origin, Plan};
use crate::scenario::{ColonyId, FrameState, Scenario};
use crate::units::Hundreds;

const RULE: Rule = Rule::Supply;

pub(super) fn supply(
    scenario: &Scenario,
    plan: &Plan,
    (taken, done): (&Taken, &Taken),
    accounts: &[Account],
    breaches: &mut Breaches,
) {
    for compartment in plan.touched() {
        named(scenario, compartment, breaches);
    }
    on_hold(scenario, accounts, breaches);
    off_combs(accounts, breaches);
    let groups = taken.groups.iter().zip(&done.groups);
    for (id, (taken, done)) in groups.enumerate() {
        of_colony(scenario, ColonyId(id), (taken, done), breaches);
    }
    let shelf = taken.store_room.iter().zip(&done.store_room);
    for (index, (entry, (&taken, &done))) in scenario.store_room.iter().zip(shelf).enumerate() {
        let place = Place::Origin(Origin::StoreRoom(index));
        let most = done.max(entry.count.into());
        breaches.cap(RULE, place, (taken, most), Amount::Frames);
    }
}

/// Origins and colonies that the plan names must exist, and give something.
fn named(scenario: &Scenario, compartment: &Compartment, breaches: &mut Breaches) {
    let spot = Spot::of(compartment);
    for placed in &compartment.frames {
        let place = Place::From(spot, placed.origin);
        if let Some(fault) = unknown(scenario, placed.origin) {
            breaches.add(RULE, Place::Compartment(spot), fault);
        }
        if placed.count == 0 {
            breaches.add(RULE, place, Fault::Empty);
        }
    }
    for placed in &compartment.bees {
        let (index, there) = (placed.colony.0, scenario.colonies.len());
        if index >= there {
            let fault = no_such(Thing::Colony, index, there);
            breaches.add(RULE, Place::Compartment(spot), fault);
        }
    }
}

fn unknown(scenario: &Scenario, origin: Origin) -> Option<Fault> {
    let (thing, index, there) = match origin {
        Origin::StoreRoom(entry) => (Thing::Entry, entry, scenario.store_room.len()),
        Origin::Colony(id, group) => match scenario.colonies.get(id.0) {
            None => (Thing::Colony, id.0, scenario.colonies.len()),
            Some(colony) => (Thing::FrameGroup(id), group, colony.frames.len()),
        },
    };
    (index >= there).then(|| no_such(thing, index, there))
}

pub(super) fn no_such(thing: Thing, index: usize, there: usize) -> Fault {
    Fault::Unknown {
        thing,
        index: u64::try_from(index).unwrap_or(u64::MAX),
        there: u64::try_from(there).unwrap_or(u64::MAX),
    }
}

/// What was done alone is blamed for nothing.
fn on_hold(scenario: &Scenario, accounts: &[Account], breaches: &mut Breaches) {
    for (id, (colony, account)) in scenario.colonies.iter().zip(accounts).enumerate() {
        if colony.hold.is_some() && account.gives_more && account.drawn.any() {
            let fault = Fault::OnHold {
                frames: narrow(account.drawn.frames),
                bees: Hundreds(narrow(account.drawn.bees.all())),
            };
            breaches.add(RULE, Place::Colony(ColonyId(id)), fault);
        }
    }
}

/// Bees beside the frames cannot be taken. What was done alone is blamed for nothing.
fn off_combs(accounts: &[Account], breaches: &mut Breaches) {
    let giving = accounts.iter().enumerate();
    for (id, account) in giving.filter(|(_, account)| account.gives_more) {
        let place = Place::Colony(ColonyId(id));
        let can_be_taken = account.can_be_taken.max(account.done.bees.all());
        let taken = (account.drawn.bees.all(), can_be_taken);
        breaches.cap(RULE, place, taken, hundreds);
    }
}

fn of_colony(
    scenario: &Scenario,
    id: ColonyId,
    (taken, done): (&[i128], &[i128]),
    breaches: &mut Breaches,
) {
    let groups = scenario.colonies.get(id.0).map_or(&[][..], |c| &c.frames);
    let counts = taken.iter().zip(done);
    for (index, (group, (&taken, &done))) in groups.iter().zip(counts).enumerate() {
        let place = Place::Origin(Origin::Colony(id, index));
        if group.queen && taken > done {
            breaches.add(RULE, place, Fault::Queen(narrow(taken)));
        }
        let most = done.max(group.count.into());
        breaches.cap(RULE, place, (taken, most), Amount::Frames);
    }
}

/// The frame that an origin gives, if it exists.
pub(super) fn frame_at(scenario: &Scenario, origin: Origin) -> Option<&FrameState> {
    match origin {
        Origin::Colony(colony, group) => {
            let colony = scenario.colonies.get(colony.0)?;
            colony.frames.get(group).map(|group| &group.frame)
        }
        Origin::StoreRoom(entry) => scenario.store_room.get(entry).map(|entry| &entry.frame),
    }
}
