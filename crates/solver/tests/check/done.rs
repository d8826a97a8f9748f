//! Rule done, and how the other rules see what is done.

use crate::yard::{bees, compartment, holds, only, plan, plan_of, scenario};
use spareframe_solver::*;

fn begun(record: Compartment) -> Scenario {
    Scenario {
        done: vec![record],
        ..scenario()
    }
}

/// Three compartments, the later two with so many loose hundreds.
fn three(first: i64, second: i64, third: i64) -> Plan {
    let mut compartments = vec![compartment(0, 0), compartment(0, 1), compartment(1, 0)];
    for (compartment, loose) in compartments.iter_mut().zip([first, second, third]) {
        compartment.bees = vec![bees(0, 15, loose)];
    }
    plan_of(compartments)
}

#[test]
fn done_is_in_the_plan_as_it_stands() {
    let record = compartment(0, 1);
    holds(&begun(record.clone()), &plan());
    only(
        &begun(record.clone()),
        &plan_of(vec![compartment(0, 0)]),
        Rule::Done,
        1,
    );
    let mut more = record.clone();
    more.bees = vec![bees(0, 15, 2)];
    only(&begun(more), &plan(), Rule::Done, 1);
    let mut other = record;
    other.frames[1].origin = Origin::Colony(ColonyId(0), 2);
    only(&begun(other), &plan(), Rule::Done, 1);
}

#[test]
fn done_tells_how_many_bees_went_and_not_which() {
    let mut record = compartment(0, 1);
    for (riding, loose) in [(16, 0), (0, 16), (8, 8)] {
        record.bees = vec![bees(0, riding, loose)];
        holds(&begun(record.clone()), &plan());
    }
}

#[test]
fn what_stays_begun_is_as_it_was() {
    let mut record = compartment(1, 1);
    record.frames.pop();
    let scenario = begun(record.clone());
    let mut plan = plan();
    plan.begun = vec![record.clone()];
    holds(&scenario, &plan);
    plan.begun[0]
        .frames
        .push(compartment(1, 1).frames[1].clone());
    only(&scenario, &plan, Rule::Done, 1);
    plan.begun = vec![record.clone(), record];
    only(&scenario, &plan, Rule::Done, 1);
}

#[test]
fn what_lacks_nothing_is_stocked_where_there_are_cells() {
    let mut scenario = begun(compartment(1, 1));
    let mut plan = plan();
    plan.begun = scenario.done.clone();
    only(&scenario, &plan, Rule::Done, 1);
    assert_eq!(check(&scenario, &plan).1[0].fault, Fault::LeftOut);
    scenario.cells = Some(vec![]);
    let left = Plan {
        begun: scenario.done.clone(),
        ..Plan::default()
    };
    holds(&scenario, &left);
}

#[test]
fn what_was_done_alone_is_blamed_for_nothing() {
    let mut scenario = begun(compartment(0, 0));
    let left = plan_of(scenario.done.clone());
    let colony = &mut scenario.colonies[0];
    colony.keep.bees = Hundreds(1000);
    colony.keep.covered = Percent(1000);
    colony.draw.frames = Some(0);
    colony.hold = Some("robbed since".into());
    scenario.honey_cap = Some(Grams(0));
    holds(&scenario, &left);
    // What it gives besides breaks all but floor covered, which asks for no more than it had.
    let rules: Vec<_> = check(&scenario, &plan()).1.iter().map(|b| b.rule).collect();
    assert_eq!(rules, [Rule::Supply, Rule::Keep, Rule::Draw, Rule::Draw]);
}

#[test]
fn ride_speaks_of_frames_still_to_leave() {
    // The frame that is done left bare: no one asks it to have its bees now.
    let mut record = compartment(0, 0);
    record.bees.clear();
    let scenario = begun(record);
    let mut plan = plan();
    plan.compartments[0].bees = vec![bees(0, 0, 16)];
    holds(&scenario, &plan);
    // Nor does anything ride on it any more.
    plan.compartments[0].bees = vec![bees(0, 1, 15)];
    only(&scenario, &plan, Rule::Ride, 1);
}

#[test]
fn covered_may_be_as_after_what_is_done() {
    // 125 hundreds for 84; done took 80 loose, so that 45 sit on 84: as well as that is enough.
    let mut record = compartment(0, 0);
    record.frames.clear();
    record.bees = vec![bees(0, 0, 80)];
    let mut scenario = begun(record);
    scenario.colonies[0].extra_bees = Hundreds(0);
    scenario.colonies[0].keep.covered = Percent(100);
    scenario.colonies[0].rides = Percent(0);
    scenario.boxes[0].bees = Bees(600);
    let take = |loose| {
        let mut plan = plan_of(vec![compartment(0, 0), compartment(0, 1)]);
        plan.compartments[0].bees = vec![bees(0, 0, 80)];
        plan.compartments[1].bees = vec![bees(0, 0, loose)];
        plan
    };
    // 60 x 45 / 84 = 32.1, so 12 may go.
    holds(&scenario, &take(12));
    only(&scenario, &take(13), Rule::Keep, 1);
}

#[test]
fn covered_may_be_as_before_anything_was_done() {
    // 125 hundreds for 84, below the floor; done took a brood frame without its bees, 125 for 72.
    let mut record = compartment(0, 0);
    record.bees.clear();
    let mut scenario = begun(record);
    scenario.colonies[0].extra_bees = Hundreds(0);
    scenario.colonies[0].keep.covered = Percent(200);
    scenario.colonies[0].rides = Percent(0);
    scenario.boxes[0].bees = Bees(1700);
    let take = |loose| {
        let mut plan = plan();
        plan.compartments[0].bees = vec![bees(0, 0, 17)];
        plan.compartments[1].bees = vec![bees(0, 0, loose)];
        plan
    };
    // 60 x 125 / 84 = 89.3, so 35 may go; 60 x 125 / 72 = 104.2 would leave 20.
    holds(&scenario, &take(18));
    only(&scenario, &take(19), Rule::Keep, 1);
}

#[test]
fn what_a_compartment_holds_beyond_its_fewest_counts_for_others_up_to_99_bees() {
    let mut scenario = scenario();
    scenario.boxes[0].bees = Bees(1590);
    // 4500 bees are in the first, and 3080 must come to the two others.
    scenario.done = vec![three(30, 0, 0).compartments[0].clone()];
    only(&scenario, &three(30, 0, 0), Rule::Bees, 1);
    holds(&scenario, &three(30, 0, 1));
    // Where there are no cells for it, it need not be stocked, and nothing is credited.
    scenario.cells = Some(vec![]);
    let breaches = check(&scenario, &three(30, 0, 1)).1;
    assert!(
        breaches.iter().any(|b| b.rule == Rule::Bees),
        "{breaches:?}"
    );
}

#[test]
fn what_a_compartment_that_lacks_a_frame_holds_counts_for_no_other() {
    let mut scenario = scenario();
    scenario.boxes[0].bees = Bees(1590);
    scenario.done = vec![three(30, 0, 0).compartments[0].clone()];
    scenario.done[0].frames.pop();
    only(&scenario, &three(30, 0, 1), Rule::Bees, 1);
    holds(&scenario, &three(30, 1, 1));
}

#[test]
fn what_is_held_beyond_the_fewest_is_reckoned_on_balance() {
    // One has 10 beyond its fewest and another 90 short: there is nothing to credit.
    let mut scenario = scenario();
    scenario.boxes[0].bees = Bees(1590);
    scenario.done = three(1, 0, 0).compartments;
    scenario.done.pop();
    only(&scenario, &three(1, 0, 0), Rule::Bees, 1);
    scenario.done = vec![scenario.done[0].clone()];
    // 10 bees: 3170 must come to the two others.
    only(&scenario, &three(1, 0, 1), Rule::Bees, 1);
    // 34 bees: 3098 must.
    scenario.boxes[0].bees = Bees(1566);
    holds(&scenario, &three(1, 0, 1));
}

#[test]
fn need_of_a_begun_compartment_is_what_it_lacks_from_a_hundred_on() {
    let mut scenario = scenario();
    let mut record = compartment(0, 0);
    record.bees = vec![bees(0, 0, 15)];
    scenario.done = vec![record.clone()];
    let mut plan = plan_of(vec![record]);
    scenario.boxes[0].bees = Bees(1599);
    holds(&scenario, &plan);
    scenario.boxes[0].bees = Bees(1600);
    only(&scenario, &plan, Rule::Bees, 2);
    plan.compartments[0].bees = vec![bees(0, 0, 16)];
    holds(&scenario, &plan);
}

#[test]
fn a_whole_box_that_is_begun_may_be_stocked_in_part() {
    let mut scenario = begun(compartment(0, 0));
    scenario.boxes[0].whole = true;
    holds(&scenario, &plan_of(vec![compartment(0, 0)]));
    only(
        &scenario,
        &plan_of(vec![compartment(0, 0), compartment(1, 0)]),
        Rule::Boxes,
        1,
    );
}

#[test]
fn done_takes_bees_beside_combs_and_is_blamed_for_nothing_but_what_comes_on_top() {
    // 110 hundreds sit on combs without the queen, and 30 beside them.
    let mut scenario = scenario();
    let mut record = compartment(0, 0);
    record.bees = vec![bees(0, 15, 106)];
    scenario.done = vec![record.clone()];
    holds(&scenario, &plan_of(vec![record.clone()]));
    let more = compartment(0, 1);
    only(&scenario, &plan_of(vec![record, more]), Rule::Supply, 1);
}
