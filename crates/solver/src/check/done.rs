//! Rule done: what is already done is in the plan as it stands.

use super::words::{breach, counted, origin_name, place_of};
use super::{Breach, Rule};
use crate::Plan;
use crate::plan::{Compartment, PlacedBees, PlacedFrames};
use crate::scenario::Scenario;
use std::collections::BTreeSet;

fn same_place(a: &Compartment, b: &Compartment) -> bool {
    (a.kind, a.box_no, a.place) == (b.kind, b.box_no, b.place)
}

fn frames_of(compartment: &Compartment, like: &PlacedFrames) -> i128 {
    let same = |f: &&PlacedFrames| (f.line, f.origin) == (like.line, like.origin);
    let counts = compartment.frames.iter().filter(same);
    counts.map(|f| i128::from(f.count)).sum()
}

fn bees_of(compartment: &Compartment, like: &PlacedBees) -> i128 {
    let same = compartment.bees.iter().filter(|b| b.colony == like.colony);
    same.map(|b| i128::from(b.bees.0)).sum()
}

pub(super) fn done(scenario: &Scenario, plan: &Plan, breaches: &mut Vec<Breach>) {
    let rule = Rule::Done;
    for record in &scenario.done {
        let place = place_of(scenario, record);
        let Some(compartment) = plan.touched().find(|c| same_place(c, record)) else {
            breaches.push(breach(
                rule,
                &place,
                "nothing",
                "what is already done there",
            ));
            continue;
        };
        for placed in &record.frames {
            let (found, least) = (frames_of(compartment, placed), frames_of(record, placed));
            if found < least {
                breaches.push(breach(
                    rule,
                    &format!("{place}, {}", origin_name(scenario, placed.origin)),
                    counted(found, "frame", "frames"),
                    format!(
                        "at least {}: done already",
                        counted(least, "frame", "frames")
                    ),
                ));
            }
        }
        for placed in &record.bees {
            let (found, least) = (bees_of(compartment, placed), bees_of(record, placed));
            if found < least {
                breaches.push(breach(
                    rule,
                    &place,
                    format!("{} of one colony", counted(found, "bee", "bees")),
                    format!("at least {}: done already", counted(least, "bee", "bees")),
                ));
            }
        }
    }
    begun(scenario, plan, breaches);
}

/// What stays begun is as it was recorded, and is not stocked besides.
fn begun(scenario: &Scenario, plan: &Plan, breaches: &mut Vec<Breach>) {
    let mut seen = BTreeSet::new();
    for compartment in &plan.begun {
        let place = place_of(scenario, compartment);
        let key = (compartment.kind, compartment.box_no, compartment.place);
        let twice =
            !seen.insert(key) || plan.compartments.iter().any(|c| same_place(c, compartment));
        if twice {
            breaches.push(breach(
                Rule::Done,
                &place,
                "in the plan twice",
                "in it once",
            ));
        }
        let records = scenario.done.iter().filter(|r| same_place(r, compartment));
        let mut rest = compartment.clone();
        for record in records {
            rest = rest.less(record);
        }
        if !rest.frames.is_empty() || !rest.bees.is_empty() {
            breaches.push(breach(
                Rule::Done,
                &place,
                "more than is done there, and not stocked",
                "what is already done there",
            ));
        }
    }
}
