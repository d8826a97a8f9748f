//! Rule boxes: what is stocked exists, once, and whole where it must be.

use super::asked::Asked;
use super::breach::{Breaches, Fault, Place, Rule, Spot, Thing};
use super::supply::no_such;
use crate::plan::Plan;
use crate::scenario::{BoxId, BoxKind, Scenario};
use std::collections::{BTreeMap, BTreeSet};

const RULE: Rule = Rule::Boxes;

pub(super) fn boxes(scenario: &Scenario, plan: &Plan, breaches: &mut Breaches) {
    let mut seen = BTreeSet::new();
    // Compartments stocked of each box that exists.
    let mut stocked = BTreeMap::<(BoxId, u32), u32>::new();
    for spot in plan.compartments.iter().map(Spot::of) {
        let Some(kind) = scenario.boxes.get(spot.kind.0) else {
            let fault = no_such(Thing::Kind, spot.kind.0, scenario.boxes.len());
            breaches.add(RULE, Place::Kind(spot.kind), fault);
            continue;
        };
        let exists = exists(kind, spot, breaches);
        if !seen.insert(spot) {
            breaches.add(RULE, Place::Compartment(spot), Fault::Twice);
        } else if exists {
            *stocked.entry((spot.kind, spot.box_no)).or_default() += 1;
        }
        if Asked::of(scenario, spot).is_some_and(|asked| asked.left_alone) {
            breaches.add(RULE, Place::Compartment(spot), Fault::Stands);
        }
    }
    whole(scenario, &stocked, breaches);
}

fn exists(kind: &BoxKind, spot: Spot, breaches: &mut Breaches) -> bool {
    let named = [
        (Thing::Box, spot.box_no, kind.count),
        (Thing::Compartment, spot.place, kind.compartments),
    ];
    let mut exists = true;
    for (thing, index, there) in named {
        if index >= there {
            let (index, there) = (index.into(), there.into());
            let fault = Fault::Unknown {
                thing,
                index,
                there,
            };
            breaches.add(RULE, Place::Kind(spot.kind), fault);
            exists = false;
        }
    }
    exists
}

/// A box that is begun, or in which something stands, may be stocked in part.
fn whole(scenario: &Scenario, stocked: &BTreeMap<(BoxId, u32), u32>, breaches: &mut Breaches) {
    let records = scenario.done.iter();
    let begun = records.map(|record| (record.kind, record.box_no));
    let stands = scenario.standing.iter().map(|s| (s.kind, s.box_no));
    let begun: BTreeSet<_> = begun.chain(stands).collect();
    for (&(id, box_no), &stocked) in stocked {
        let kind = scenario.boxes.get(id.0).filter(|kind| kind.whole);
        let all = kind.map_or(stocked, |kind| kind.compartments);
        if stocked != all && !begun.contains(&(id, box_no)) {
            breaches.add(RULE, Place::Box(id, box_no), Fault::InPart { stocked, all });
        }
    }
}
