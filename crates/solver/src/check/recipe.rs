//! Rule recipe: each line gets its frames.

use super::asked::Asked;
use super::breach::{Breaches, Fault, Place, Rule, Spot, Thing, narrow};
use super::goals::place;
use super::supply::{frame_at, no_such};
use crate::plan::{Compartment, Plan};
use crate::scenario::Scenario;

const RULE: Rule = Rule::Recipe;

pub(super) fn recipe(scenario: &Scenario, plan: &Plan, breaches: &mut Breaches) {
    for compartment in &plan.compartments {
        // A kind that does not exist has no recipe; rule boxes reports it.
        if let Some(asked) = Asked::of(scenario, Spot::of(compartment)) {
            frames(scenario, &asked, compartment, breaches);
            counts(&asked, compartment, breaches);
        }
    }
}

fn frames(scenario: &Scenario, asked: &Asked, given: &Compartment, breaches: &mut Breaches) {
    let spot = Spot::of(given);
    for placed in &given.frames {
        let Some((line, _)) = asked.lines.get(placed.line) else {
            let fault = no_such(Thing::Line, placed.line, asked.lines.len());
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

fn counts(asked: &Asked, given: &Compartment, breaches: &mut Breaches) {
    for (index, &(_, count)) in asked.lines.iter().enumerate() {
        let placed = given.frames.iter().filter(|placed| placed.line == index);
        let found: i128 = placed.map(|placed| i128::from(placed.count)).sum();
        if found != count {
            let fault = Fault::Count {
                found: narrow(found),
                asked: u32::try_from(count).unwrap_or(u32::MAX),
            };
            breaches.add(RULE, Place::Line(Spot::of(given), index), fault);
        }
    }
}
