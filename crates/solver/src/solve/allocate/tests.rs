//! Random yards, solved and put into compartments.

mod yard;

use std::collections::BTreeMap;

use super::*;
use crate::check::check;
use crate::plan::{Compartment, Cost, Origin};
use crate::scenario::Scenario;
use crate::solve::Ceiling;
use crate::solve::master::Clock;
use crate::solve::minimise::minimise;
use crate::units::Grams;
use yard::{Dice, yard};

const YARDS: u64 = 30;

fn solved(scenario: &Scenario, earlier: Option<&Plan>) -> (Instance, Totals, Plan) {
    let instance = Instance::new(scenario, earlier, &Ceiling::default());
    let minimum = minimise(&instance, Clock::default());
    let totals = minimum.best.expect("nothing at all is a plan").totals;
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
        let scenario = yard(&mut Dice::new(seed));
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
        let mut dice = Dice::new(seed);
        let mut scenario = yard(&mut dice);
        let (_, _, plan) = solved(&scenario, None);
        let compartments = plan.compartments.iter();
        let records = compartments.filter_map(|compartment| begun(&mut dice, compartment));
        scenario.done = records.collect();
        let (instance, totals, plan) = solved(&scenario, None);
        let goals = assert_sound(&scenario, &plan, seed);
        assert_eq!(goals.cost, cost(&instance, &totals), "seed {seed}");
    }
}

/// A compartment with some of what goes into it, or none.
fn begun(dice: &mut Dice, compartment: &Compartment) -> Option<Compartment> {
    let mut record = compartment.clone();
    match dice.below(4) {
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
fn near_to_itself_a_plan_is_the_same_again() {
    for seed in 0..YARDS / 3 {
        let scenario = yard(&mut Dice::new(seed));
        let (_, totals, plan) = solved(&scenario, None);
        let instance = Instance::new(&scenario, Some(&plan), &Ceiling::default());
        let mut again = allocate(&instance, &totals, Some(&plan)).expect("as before");
        again.put_in_order();
        assert_eq!(again, plan, "seed {seed}");
    }
}

/// How well bees stay with their brood, over many yards.
#[derive(Debug, Default)]
struct Measured {
    compartments: usize,
    few_colonies: usize,
    brood_colonies: usize,
    brood_frames: u32,
    with_bees: u32,
    lots: usize,
}

impl Measured {
    fn add(&mut self, scenario: &Scenario, compartment: &Compartment) {
        self.compartments += 1;
        self.lots += compartment.bees.len();
        self.few_colonies += usize::from(compartment.bees.len() <= 2);
        let mut colonies = std::collections::BTreeSet::new();
        for placed in &compartment.frames {
            let Origin::Colony(colony, group) = placed.origin else {
                continue;
            };
            let frame = &scenario.colonies[colony.0].frames[group].frame;
            if frame.brood.0 > 0 && frame.bees.0 > 0 {
                colonies.insert(colony);
                let own = |bees: &&crate::PlacedBees| bees.colony == colony && bees.riding.0 > 0;
                let with = compartment.bees.iter().any(|bees| own(&bees));
                self.brood_frames += placed.count;
                self.with_bees += if with { placed.count } else { 0 };
            }
        }
        self.brood_colonies += usize::from(colonies.len() <= 1);
    }
}

#[test]
fn bees_stay_with_their_brood_and_few_colonies_meet() {
    let mut measured = Measured::default();
    for seed in 1000..1000 + YARDS {
        let scenario = yard(&mut Dice::new(seed));
        let (_, _, plan) = solved(&scenario, None);
        for compartment in &plan.compartments {
            measured.add(&scenario, compartment);
            assert!(compartment.bees.iter().all(|bees| bees.taken().0 >= 1));
        }
    }
    assert!(
        measured.with_bees * 100 >= measured.brood_frames * 95,
        "{measured:?}"
    );
    assert!(
        measured.few_colonies * 100 >= measured.compartments * 95,
        "{measured:?}"
    );
}
