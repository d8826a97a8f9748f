//! Rule recipe: each line gets its frames.

use super::breach::{Breaches, Fault, Place, Rule, Spot, Thing, narrow};
use super::goals::place;
use super::supply::{frame_at, no_such};
use crate::plan::{Compartment, Plan};
use crate::scenario::{BoxKind, Scenario};

const RULE: Rule = Rule::Recipe;

pub(super) fn recipe(scenario: &Scenario, plan: &Plan, breaches: &mut Breaches) {
    for compartment in &plan.compartments {
        // A kind that does not exist has no recipe; rule boxes reports it.
        if let Some(kind) = scenario.boxes.get(compartment.kind.0) {
            frames(scenario, kind, compartment, breaches);
            counts(kind, compartment, breaches);
        }
    }
}

fn frames(scenario: &Scenario, kind: &BoxKind, given: &Compartment, breaches: &mut Breaches) {
    let spot = Spot::of(given);
    for placed in &given.frames {
        let Some(line) = kind.lines.get(placed.line) else {
            let fault = no_such(Thing::Line, placed.line, kind.lines.len());
            breaches.add(RULE, Place::Compartment(spot), fault);
            continue;
        };
        // An origin that does not exist is reported by rule supply.
        let frame = frame_at(scenario, placed.origin);
        if frame.is_some_and(|frame| place(line, frame).is_none()) {
            let place = Place::Line(spot, placed.line);
            breaches.add(RULE, place, Fault::Unfit(placed.origin));
        }
    }
}

fn counts(kind: &BoxKind, given: &Compartment, breaches: &mut Breaches) {
    for (index, line) in kind.lines.iter().enumerate() {
        let placed = given.frames.iter().filter(|placed| placed.line == index);
        let found: i128 = placed.map(|placed| i128::from(placed.count)).sum();
        if found != i128::from(line.count) {
            let fault = Fault::Count {
                found: narrow(found),
                asked: line.count,
            };
            breaches.add(RULE, Place::Line(Spot::of(given), index), fault);
        }
    }
}
