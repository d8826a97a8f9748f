//! Breaches in words.

use crate::yard::{bees, compartment, plan, plan_of, scenario};
use spareframe_solver::*;

fn said(scenario: &Scenario, plan: &Plan) -> Vec<String> {
    let breaches = check(scenario, plan).1;
    breaches
        .iter()
        .map(|b| b.in_words(scenario).to_string())
        .collect()
}

#[test]
fn a_breach_names_what_the_breeder_named() {
    let mut scenario = scenario();
    scenario.colonies[0].keep.bees = Hundreds(124);
    scenario.colonies[0].draw.brood = Some(Milli(1000));
    assert_eq!(
        said(&scenario, &plan()),
        [
            "keep: colony a: found 12300 bees left, expected at least 12400 bees",
            "draw: colony a: found 1.200 brood frames taken, expected at most 1.000 brood frames",
        ]
    );
}

#[test]
fn a_frame_group_is_counted_from_one() {
    let mut plan = plan();
    plan.compartments[1].frames[0].origin = Origin::Colony(ColonyId(0), 1);
    let breaches = check(&scenario(), &plan).1;
    assert_eq!(breaches[0].origin(), Some(Origin::Colony(ColonyId(0), 1)));
    assert_eq!(
        said(&scenario(), &plan),
        [
            "supply: colony a, frame group 2 (brood 60%): found 1 frame, expected 0 frames: the queen is there"
        ]
    );
}

#[test]
fn bees_that_do_not_ride_are_told_with_their_site() {
    let mut plan = plan_of(vec![compartment(0, 0)]);
    plan.compartments[0].bees = vec![bees(0, 7, 9)];
    assert_eq!(
        said(&scenario(), &plan),
        [
            "ride: colony a, for site hill: found 700 bees riding, expected at least 800 bees to \
             ride on the brood frames that leave"
        ]
    );
}
