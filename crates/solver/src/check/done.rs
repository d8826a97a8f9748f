//! Rule done: what is already done is in the plan as it stands.

use super::breach::{Amount, Breaches, Fault, Place, Rule, Spot, hundreds};
use super::rest::{Done, Inside};
use super::stocked::finished;
use crate::plan::Plan;
use crate::scenario::Scenario;
use std::collections::{BTreeMap, BTreeSet};

const RULE: Rule = Rule::Done;

pub(super) fn done(scenario: &Scenario, plan: &Plan, done: &Done, breaches: &mut Breaches) {
    let mut touched = BTreeMap::new();
    for compartment in plan.touched() {
        touched.entry(Spot::of(compartment)).or_insert(compartment);
    }
    for (spot, record) in &done.0 {
        match touched.get(spot) {
            Some(compartment) => holds(*spot, &Inside::of(compartment), record, breaches),
            None => breaches.add(RULE, Place::Compartment(*spot), Fault::Absent),
        }
    }
    begun(plan, done, breaches);
    left_out(scenario, plan, done, breaches);
}

/// A compartment holds what is recorded: frames by line and origin, bees by colony.
fn holds(spot: Spot, inside: &Inside, record: &Inside, breaches: &mut Breaches) {
    for (key, &least) in &record.frames {
        let found = inside.frames.get(key).copied().unwrap_or(0);
        let place = Place::From(spot, key.1);
        breaches.floor(RULE, place, (found, least), Amount::Frames);
    }
    for (colony, least) in &record.bees {
        let found = inside.bees.get(colony).copied().unwrap_or_default();
        let place = Place::BeesIn(spot, *colony);
        breaches.floor(RULE, place, (found.all(), least.all()), hundreds);
    }
}

/// What stays begun is as it was recorded, and is not stocked besides.
fn begun(plan: &Plan, done: &Done, breaches: &mut Breaches) {
    let mut seen: BTreeSet<_> = plan.compartments.iter().map(Spot::of).collect();
    for compartment in &plan.begun {
        let spot = Spot::of(compartment);
        if !seen.insert(spot) {
            breaches.add(RULE, Place::Compartment(spot), Fault::Twice);
        }
        if !done.to_come(compartment).is_empty() {
            breaches.add(RULE, Place::Compartment(spot), Fault::MoreThanDone);
        }
    }
}

/// What lacks nothing is stocked, as far as there are cells for all such compartments.
fn left_out(scenario: &Scenario, plan: &Plan, done: &Done, breaches: &mut Breaches) {
    let begun: BTreeSet<_> = plan.begun.iter().map(Spot::of).collect();
    for spot in finished(scenario, done) {
        if begun.contains(&spot) {
            breaches.add(RULE, Place::Compartment(spot), Fault::LeftOut);
        }
    }
}
