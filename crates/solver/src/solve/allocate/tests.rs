//! Random yards, solved and put into compartments.

use std::collections::{BTreeMap, BTreeSet};

use itertools::Itertools;

use super::*;
use crate::check::check;
use crate::plan::{Compartment, Cost, Origin, PlacedFrames};
use crate::scenario::{Colony, ColonyId, Line, SiteId, SpareFrames};
use crate::solve::Ceiling;
use crate::solve::master::Clock;
use crate::solve::minimise::minimise;
use crate::support::{generate::apiary, plain, rng::Rng};
use crate::units::{Bees, Grams, Hundreds};

const YARDS: u64 = 30;

fn solved(scenario: &Scenario, earlier: Option<&Plan>) -> (Instance, Totals, Plan) {
    let instance = Instance::new(scenario, earlier, &Ceiling::default());
    let minimum = minimise(&instance, Clock::default());
    let best = minimum.best.expect("nothing at all is a plan");
    let totals = spare(scenario, &instance, best.totals);
    let plan =
        allocate(scenario, &instance, &totals, earlier).expect("totals go into compartments");
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

/// Boxes with brood of one of the first colonies each, far from all; each colony as many hundreds as it gives, those of the first ones on
/// their brood as far as they can be. Whose loose bees are then in which box.
fn loose(mut yard: Scenario, gives: &[i64]) -> Vec<Vec<(usize, i64)>> {
    for site in yard.sites.len()..3 {
        yard.sites.push(crate::scenario::Site {
            name: site.to_string(),
        });
    }
    yard.distances = vec![vec![9000; 3]; 3];
    yard.boxes[0].site = SiteId(2);
    let boxes = yard.boxes[0].count;
    for (at, colony) in yard.colonies.iter_mut().enumerate() {
        colony.name = at.to_string();
    }
    let instance = Instance::new(&yard, None, &Ceiling::default());
    let site = instance.kinds[0].site;
    let least = |donor: usize| if donor < boxes as usize { 9 } else { 0 };
    let bees = gives.iter().enumerate();
    let totals = Totals {
        compartments: vec![boxes.into()],
        frames: (0..boxes as usize).map(|at| ((at, 0, 0), 1)).collect(),
        bees: bees
            .map(|(at, &all)| ((at, site), (least(at), all - least(at))))
            .collect(),
        ..Totals::default()
    };
    let plan = allocate(&yard, &instance, &totals, None).expect("totals go into compartments");
    assert_sound(&yard, &plan, 0);
    let loose = |lot: &crate::plan::PlacedBees| (lot.colony.0, lot.loose.0);
    let boxes = plan.compartments.iter();
    boxes
        .map(|of| of.bees.iter().map(loose).filter(|lot| lot.1 > 0).collect())
        .collect()
}

fn boxes(count: u32, bees: i64) -> crate::scenario::BoxKind {
    plain::kind(count, vec![plain::line("brood", 500, 0)], bees)
}

/// A colony at a site that may give so many hundreds.
fn at(site: usize, most: i64) -> Colony {
    let brood = plain::group(4, plain::frame(600, 0, 17));
    let mut colony = plain::colony(vec![brood], 100);
    colony.site = SiteId(site);
    colony.draw.bees = Some(Hundreds(most));
    colony
}

#[test]
fn no_more_takes_the_place_of_a_lot_than_is_needed() {
    let mut yard = plain::yard(at(0, 20), boxes(1, 2000));
    yard.colonies.push(at(0, 20));
    // Of 500 bees of another colony 300 are too many: 200 more of the first will do, which may give no more.
    assert_eq!(loose(yard, &[18, 5]), [[(0, 3)]]);
}

#[test]
fn a_compartment_is_filled_from_one_site_where_that_costs_no_more() {
    let mut yard = plain::yard(at(0, 17), boxes(2, 2200));
    yard.colonies.extend([at(0, 40), at(1, 40)]);
    assert_eq!(loose(yard, &[17, 22, 5]), [[(1, 5)], [(1, 5)]]);
}

/// A lot of loose bees of a colony without brood there, and more of another that is there instead: found by trying.
#[test]
fn no_lot_of_strangers_is_left_that_a_colony_there_could_give_at_no_more_cost() {
    for seed in 0..YARDS {
        let scenario = apiary(seed);
        let (_, _, plan) = solved(&scenario, None);
        let goals = assert_sound(&scenario, &plan, seed);
        let dear = |goals: &crate::plan::Goals| {
            let cost = goals.cost;
            (cost.honey, cost.total(&scenario.prices))
        };
        let with_brood = brood(&scenario, &plan);
        for (at, compartment) in plan.compartments.iter().enumerate() {
            let own = |id| {
                let frames = with_brood[at].frames.iter();
                let mut origins = frames.map(|placed| placed.origin);
                origins.any(|origin| matches!(origin, Origin::Colony(of, _) if of == id))
            };
            let strange = |of: &usize| {
                let lot = &compartment.bees[*of];
                lot.riding.0 == 0 && !own(lot.colony)
            };
            for lot in (0..compartment.bees.len()).filter(strange) {
                let others = (0..compartment.bees.len()).filter(|&other| other != lot);
                let most = compartment.bees[lot].loose.0;
                for (other, more) in others.cartesian_product(0..=most) {
                    let mut tried = plan.clone();
                    let bees = &mut tried.compartments[at].bees;
                    bees[other].loose.0 += more;
                    bees.remove(lot);
                    let (then, breaches) = check(&scenario, &tried);
                    let no_worse = then.worth == goals.worth
                        && dear(&then).0 <= dear(&goals).0
                        && dear(&then).1 <= dear(&goals).1;
                    assert!(
                        !breaches.is_empty() || !no_worse,
                        "seed {seed}: {compartment:#?} without {lot}, {more} more of {other}"
                    );
                }
            }
        }
    }
}

#[test]
fn each_compartment_gets_a_comb_with_stores_where_there_are_enough() {
    let combs = Line {
        count: 2,
        ..plain::line("combs", 0, 0)
    };
    let mut bees = plain::colony(vec![plain::group(4, plain::frame(0, 0, 20))], 0);
    bees.draw.frames = Some(0);
    let mut yard = plain::yard(bees, plain::kind(2, vec![combs], 1000));
    let spare = |stores| SpareFrames {
        count: 2,
        frame: plain::frame(0, stores, 0),
    };
    yard.store_room = vec![spare(700), spare(0)];
    let plan = solved(&yard, None).2;
    assert_sound(&yard, &plan, 0);
    let full = |placed: &PlacedFrames| match placed.origin {
        Origin::StoreRoom(0) => placed.count,
        _ => 0,
    };
    let boxes = plan.compartments.iter();
    let full: Vec<u32> = boxes.map(|of| of.frames.iter().map(full).sum()).collect();
    assert_eq!(full, [1, 1]);
}

#[test]
fn boxes_are_filled_in_one_place() {
    let brood = plain::frame(600, 0, 17);
    let colony = |site| Colony {
        site,
        ..plain::colony(vec![plain::group(2, brood)], 20)
    };
    let kind = crate::scenario::BoxKind {
        compartments: 2,
        ..plain::kind(2, vec![plain::line("brood", 500, 0)], 1000)
    };
    let mut yard = plain::yard(colony(SiteId(0)), kind);
    yard.sites.push(yard.sites[0].clone());
    yard.distances = vec![vec![0, 9000], vec![9000, 0]];
    yard.colonies.push(colony(SiteId(1)));
    let instance = Instance::new(&yard, None, &Ceiling::default());
    let filling = |number: u32, colony: usize| slots::Filling {
        kind: 0,
        box_no: number / 2,
        place: number % 2,
        missing: vec![],
        frames: vec![plain::placed(0, Origin::Colony(ColonyId(colony), 0))],
        present: BTreeSet::new(),
        brood: BTreeMap::new(),
        lots: BTreeMap::new(),
        covered: true,
        earlier: None,
    };
    let mut slots: Vec<_> = (0..4).map(|at| filling(at, at as usize % 2)).collect();
    number(&instance, &mut slots);
    let places: Vec<_> = slots.iter().map(|slot| (slot.box_no, slot.place)).collect();
    assert_eq!(places, [(0, 0), (0, 1), (1, 0), (1, 1)]);
    let origin = |at: usize| slots[at].frames[0].origin;
    assert_eq!((origin(0), origin(2)), (origin(1), origin(3)));
}

/// Frames without brood and bees may have gone round between sites; `solve` answers with the earlier plan itself.
#[test]
fn near_to_itself_a_plan_has_the_same_brood_again() {
    for seed in 0..YARDS / 3 {
        let scenario = apiary(seed);
        let (_, totals, plan) = solved(&scenario, None);
        let instance = Instance::new(&scenario, Some(&plan), &Ceiling::default());
        let mut again = allocate(&scenario, &instance, &totals, Some(&plan)).expect("as before");
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
