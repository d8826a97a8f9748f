//! Random yards, solved and put into compartments.

use std::collections::BTreeMap;

use super::*;
use crate::check::check;
use crate::plan::{Compartment, Cost, Origin, PlacedFrames};
use crate::scenario::{Colony, Scenario};
use crate::solve::Ceiling;
use crate::solve::master::Clock;
use crate::solve::minimise::minimise;
use crate::support::{generate::apiary, plain, rng::Rng};
use crate::units::{Bees, Grams};

const YARDS: u64 = 30;

fn solved(scenario: &Scenario, earlier: Option<&Plan>) -> (Instance, Totals, Plan) {
    let instance = Instance::new(scenario, earlier, &Ceiling::default());
    let minimum = minimise(&instance, Clock::default());
    let best = minimum.best.expect("nothing at all is a plan");
    let totals = spare(scenario, &instance, best.totals);
    let plan = allocate(&instance, &totals, earlier).expect("totals go into compartments");
    (instance, totals, plan)
}

/// What totals cost by the instance's figures.
fn cost(instance: &Instance, totals: &Totals) -> Cost {
    let mut cost = instance.base;
    let place = |class: usize, need: usize| i64::from(instance.classes[class][need].unwrap());
    for (&(class, need), &count) in &totals.shelf {
        cost.substitutes += place(class, need) * i64::from(count);
    }
    for (at, donor) in instance.donors.iter().enumerate() {
        let own = totals.frames.iter().filter(|((from, _, _), _)| *from == at);
        let mut counts: BTreeMap<usize, u32> = BTreeMap::new();
        for (&(_, item, need), &count) in own {
            *counts.entry(item).or_default() += count;
            cost.substitutes += place(donor.items[item].class, need) * i64::from(count);
        }
        let bees = totals.bees.iter().filter(|((from, _), _)| *from == at);
        let bees: i64 = bees.map(|(_, (riding, loose))| riding + loose).sum();
        let mut cells = 0;
        for (&item, &count) in &counts {
            let item = &donor.items[item];
            cells += item.cells * i64::from(count);
            cost.honey += Grams(item.charge * i64::from(count));
        }
        cost.honey += Grams(donor.hundred * bees);
        if let Some(share) = donor.burden {
            cost.burden += share.burden(bees, cells) - share.burden(0, 0);
        }
        let opened = bees > 0 || !counts.is_empty();
        cost.opened += i64::from(opened && !donor.opened);
    }
    cost
}

fn assert_sound(scenario: &Scenario, plan: &Plan, seed: u64) -> crate::plan::Goals {
    let (goals, breaches) = check(scenario, plan);
    assert!(breaches.is_empty(), "seed {seed}: {breaches:#?}\n{plan:#?}");
    goals
}

#[test]
fn what_is_chosen_becomes_a_plan_that_breaks_no_rule_and_costs_as_much() {
    for seed in 0..YARDS {
        let scenario = apiary(seed);
        let (instance, totals, plan) = solved(&scenario, None);
        let goals = assert_sound(&scenario, &plan, seed);
        assert_eq!(goals.cost, cost(&instance, &totals), "seed {seed}");
        let count: i64 = totals.compartments.iter().sum();
        assert_eq!(i64::try_from(plan.compartments.len()), Ok(count));
    }
}

#[test]
fn what_is_begun_is_finished_by_a_plan_that_breaks_no_rule() {
    for seed in 0..YARDS {
        let rng = &mut Rng::new(seed);
        let mut scenario = apiary(seed);
        let (_, _, plan) = solved(&scenario, None);
        let compartments = plan.compartments.iter();
        let records = compartments.filter_map(|compartment| begun(rng, compartment));
        scenario.done = records.collect();
        let (instance, totals, plan) = solved(&scenario, None);
        let goals = assert_sound(&scenario, &plan, seed);
        assert_eq!(goals.cost, cost(&instance, &totals), "seed {seed}");
    }
}

/// A compartment with some of what goes into it, or none.
fn begun(rng: &mut Rng, compartment: &Compartment) -> Option<Compartment> {
    let mut record = compartment.clone();
    match rng.range(0, 3) {
        0 => return None,
        1 => {}
        2 => record.bees.clear(),
        _ => {
            record.frames.pop();
        }
    }
    Some(record)
}

#[test]
fn all_bees_of_a_brood_frame_ride_where_that_costs_no_more() {
    let brood = plain::frame(600, 0, 17);
    let colony = |name: &str, count, extra| Colony {
        name: name.into(),
        ..plain::colony(vec![plain::group(count, brood)], extra)
    };
    let kind = plain::kind(1, vec![plain::line("brood", 500, 0)], 1500);
    let mut yard = plain::yard(colony("a", 4, 0), kind);
    // Of the bees at home a third flies home: 17 that ride are too few, and others are added, as few as will do.
    let of = |plan: Plan| -> Vec<(i64, i64)> {
        let bees = plan.compartments.iter().flat_map(|c| &c.bees);
        bees.map(|lot| (lot.riding.0, lot.loose.0)).collect()
    };
    assert_eq!(of(solved(&yard, None).2), [(17, 6)]);
    // One frame of four is a quarter of the brood: a quarter of the bees leaves at the same price.
    yard.boxes[0].bees = Bees(700);
    assert_eq!(of(solved(&yard, None).2), [(17, 0)]);
    // Of two colonies that might add bees, none is opened for that.
    yard.colonies.push(colony("b", 4, 40));
    assert_eq!(of(solved(&yard, None).2), [(17, 0)]);
}

/// Frames without brood and bees may have gone round between sites; `solve` answers with the earlier plan itself.
#[test]
fn near_to_itself_a_plan_has_the_same_brood_again() {
    for seed in 0..YARDS / 3 {
        let scenario = apiary(seed);
        let (_, totals, plan) = solved(&scenario, None);
        let instance = Instance::new(&scenario, Some(&plan), &Ceiling::default());
        let mut again = allocate(&instance, &totals, Some(&plan)).expect("as before");
        again.put_in_order();
        assert_eq!(
            brood(&scenario, &again),
            brood(&scenario, &plan),
            "seed {seed}"
        );
    }
}

/// Each compartment with the brood in it.
fn brood(scenario: &Scenario, plan: &Plan) -> Vec<Compartment> {
    let with_brood = |placed: &PlacedFrames| match placed.origin {
        Origin::Colony(id, group) => scenario.colonies[id.0].frames[group].frame.brood.0 > 0,
        Origin::StoreRoom(_) => false,
    };
    let mut compartments = plan.compartments.clone();
    for compartment in &mut compartments {
        compartment.bees.clear();
        compartment.frames.retain(with_brood);
    }
    compartments
}
