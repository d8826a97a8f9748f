//! Rule bees: enough arrive and stay.

use crate::yard::{
    bees, compartment, holds, only, plan, plan_of, scenario, small, with_small_boxes,
};
use spareframe_solver::*;

fn with_loose(first: i64, second: i64) -> Plan {
    let mut plan = plan();
    plan.compartments[0].bees = vec![bees(0, 15, first)];
    plan.compartments[1].bees = vec![bees(0, 15, second)];
    plan
}

#[test]
fn bees_of_a_compartment_may_be_99_short_and_not_100() {
    let mut scenario = scenario();
    scenario.boxes[0].bees = Bees(1599);
    holds(&scenario, &with_loose(0, 2));
    scenario.boxes[0].bees = Bees(1600);
    only(&scenario, &with_loose(0, 2), Rule::Bees, 1);
    holds(&scenario, &with_loose(1, 1));
}

#[test]
fn bees_of_a_site_are_never_short() {
    let mut scenario = scenario();
    scenario.boxes[0].bees = Bees(1550);
    holds(&scenario, &with_loose(0, 1));
    scenario.boxes[0].bees = Bees(1551);
    only(&scenario, &with_loose(0, 1), Rule::Bees, 1);
    let breach = check(&scenario, &with_loose(0, 1)).1[0];
    assert_eq!(breach.place, Place::Site(SiteId(1)));
}

#[test]
fn bees_fly_home_below_the_distance_only() {
    let mut scenario = scenario();
    scenario.drift.homing_metres = 5000;
    holds(&scenario, &plan());
    scenario.drift.homing_metres = 5001;
    // Both compartments, and their site.
    only(&scenario, &plan(), Rule::Bees, 3);
    // 48 hundreds of which 67 stay each are 3216.
    holds(&scenario, &with_loose(9, 9));
    only(&scenario, &with_loose(8, 9), Rule::Bees, 1);
}

#[test]
fn bees_at_the_donors_own_site_fly_home_too() {
    let mut scenario = scenario();
    scenario.boxes[0].site = SiteId(0);
    only(&scenario, &plan(), Rule::Bees, 3);
    scenario.drift.flying = Percent(0);
    holds(&scenario, &plan());
}

#[test]
fn bees_come_in_lots_of_a_hundred_or_more() {
    for (riding, loose) in [(0, 0), (0, -1), (-1, 2)] {
        let mut plan = plan();
        plan.compartments[0].bees.push(bees(0, riding, loose));
        plan.compartments[1].bees = vec![bees(0, 15, 1)];
        let (_, breaches) = check(&scenario(), &plan);
        assert_eq!(breaches.len(), 1, "{breaches:?}");
        assert_eq!(
            (breaches[0].rule, breaches[0].fault),
            (Rule::Bees, Fault::Empty)
        );
    }
}

/// A mating box with so many loose hundreds, and two small boxes.
fn beside_small(loose: i64, smalls: [(i64, i64); 2]) -> Plan {
    let mut first = compartment(0, 0);
    first.bees = vec![bees(0, 15, loose)];
    let [a, b] = smalls;
    plan_of(vec![first, small(0, a.0, a.1), small(1, b.0, b.1)])
}

#[test]
fn bees_of_a_small_box_are_loose() {
    let scenario = with_small_boxes();
    holds(&scenario, &beside_small(1, [(0, 1), (0, 2)]));
    // 100 loose bees are within a hundred of 150, riding ones are none of them.
    let mut plan = beside_small(3, [(2, 0), (0, 1)]);
    plan.compartments[0].bees = vec![bees(0, 13, 3)];
    only(&scenario, &plan, Rule::Bees, 1);
    let breach = check(&scenario, &plan).1[0];
    let fault = Fault::Below {
        found: Amount::Loose(Bees(0)),
        least: Amount::Loose(Bees(51)),
    };
    assert_eq!(breach.fault, fault);
}

#[test]
fn bees_of_small_boxes_are_covered_by_loose_bees_of_the_site() {
    let mut scenario = with_small_boxes();
    scenario.boxes[0].bees = Bees(1400);
    // 1700 bees stay of 1700 needed, but 200 loose of 300.
    only(&scenario, &beside_small(0, [(0, 1), (0, 1)]), Rule::Bees, 1);
    let breach = check(&scenario, &beside_small(0, [(0, 1), (0, 1)])).1[0];
    assert_eq!(breach.place, Place::BroodlessAt(SiteId(1)));
    // Loose bees in a compartment with a brood line count for the site.
    holds(&scenario, &beside_small(1, [(0, 1), (0, 1)]));
}

#[test]
fn a_substitute_with_brood_makes_no_brood_line() {
    let mut scenario = with_small_boxes();
    let brood = scenario.boxes[0].lines[0].ask;
    let feed = Grams(0);
    scenario.boxes[1].lines[0].substitutes = vec![Substitute { ask: brood, feed }];
    scenario.boxes[0].bees = Bees(1400);
    only(&scenario, &beside_small(0, [(0, 1), (0, 1)]), Rule::Bees, 1);
    scenario.boxes[1].lines[0].ask.sealed = Span::from(1);
    let breaches = check(&scenario, &beside_small(0, [(0, 1), (0, 1)])).1;
    assert!(
        breaches.iter().all(|b| b.rule == Rule::Recipe),
        "{breaches:?}"
    );
}
