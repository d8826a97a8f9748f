//! Rule ride: bees stay on their brood.

use crate::yard::{bees, compartment, holds, only, plan, plan_of, scenario};
use spareframe_solver::*;

/// The plan with so many hundreds riding in each of its two compartments, and 16 in each in all.
fn riding(first: i64, second: i64) -> Plan {
    let mut plan = plan();
    plan.compartments[0].bees = vec![bees(0, first, 16 - first)];
    plan.compartments[1].bees = vec![bees(0, second, 16 - second)];
    plan
}

#[test]
fn ride_at_least_half_of_each_frame_rounded_up_for_each_alone() {
    // Half of 15 is 8 for each of the two frames, and not 15 for both.
    holds(&scenario(), &riding(8, 8));
    only(&scenario(), &riding(8, 7), Rule::Ride, 1);
}

#[test]
fn ride_at_most_all_that_sit_on_the_brood_frames() {
    holds(&scenario(), &riding(15, 15));
    only(&scenario(), &riding(16, 15), Rule::Ride, 1);
    let breach = check(&scenario(), &riding(16, 15)).1[0];
    assert_eq!(breach.place, Place::ToSite(ColonyId(0), SiteId(1)));
    let fault = Fault::Above {
        found: Amount::Hundreds(Hundreds(31)),
        most: Amount::Hundreds(Hundreds(30)),
    };
    assert_eq!(breach.fault, fault);
}

#[test]
fn ride_is_counted_for_a_site_and_not_for_a_compartment() {
    holds(&scenario(), &riding(16, 0));
    holds(&scenario(), &riding(1, 15));
}

#[test]
fn ride_as_much_as_the_colony_says() {
    let mut scenario = scenario();
    scenario.colonies[0].rides = Percent(0);
    holds(&scenario, &riding(0, 0));
    scenario.colonies[0].rides = Percent(100);
    holds(&scenario, &riding(15, 15));
    only(&scenario, &riding(15, 14), Rule::Ride, 1);
}

#[test]
fn ride_on_frames_without_brood_none() {
    let mut plan = riding(15, 15);
    plan.compartments[0].frames[1].origin = Origin::Colony(ColonyId(0), 2);
    holds(&scenario(), &plan);
    plan.compartments[0].bees = vec![bees(0, 16, 0)];
    only(&scenario(), &plan, Rule::Ride, 1);
}

#[test]
fn ride_to_each_of_two_sites_by_itself() {
    let mut scenario = scenario();
    let near = BoxKind {
        name: "box at the yard".into(),
        site: SiteId(0),
        bees: Bees(1072),
        ..scenario.boxes[0].clone()
    };
    scenario.boxes.push(near);
    let mut here = compartment(0, 0);
    here.kind = BoxId(1);
    let mut plan = plan_of(vec![compartment(0, 0), here]);
    holds(&scenario, &plan);
    // Together as many ride as before, but at one site too many and at the other too few.
    plan.compartments[0].bees = vec![bees(0, 16, 0)];
    plan.compartments[1].bees = vec![bees(0, 7, 9)];
    only(&scenario, &plan, Rule::Ride, 2);
}

#[test]
fn ride_from_each_colony_by_itself() {
    let mut scenario = scenario();
    scenario.colonies[1].hold = None;
    let mut plan = plan();
    plan.compartments[1].frames[0].origin = Origin::Colony(ColonyId(1), 0);
    plan.compartments[1].bees = vec![bees(1, 15, 1)];
    holds(&scenario, &plan);
    plan.compartments[1].bees = vec![bees(0, 15, 1)];
    only(&scenario, &plan, Rule::Ride, 2);
}
