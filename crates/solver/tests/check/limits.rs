//! Rules keep and draw.

use crate::yard::{holds, only, plan, scenario};
use spareframe_solver::*;

#[test]
fn keep_each_floor_to_the_last_unit() {
    // Left of colony a: 5 brood frames of 0.6; 7 x 15 + 4 x 5 + 30 - 32 hundreds;
    // 5 x 400 + 4 x 1800 g; 9 drawn combs.
    let exact = Keep {
        brood: Milli(3000),
        bees: Hundreds(123),
        stores: Grams(9_200),
        drawn: Milli(9_000),
        covered: Percent(0),
    };
    let mut scenario = scenario();
    scenario.colonies[0].keep = exact;
    holds(&scenario, &plan());
    let broken: [fn(&mut Keep); 4] = [
        |keep| keep.brood.0 += 1,
        |keep| keep.bees.0 += 1,
        |keep| keep.stores.0 += 1,
        |keep| keep.drawn.0 += 1,
    ];
    for broken in broken {
        scenario.colonies[0].keep = exact;
        broken(&mut scenario.colonies[0].keep);
        only(&scenario, &plan(), Rule::Keep, 1);
    }
    // A floor that was missed before matters only where something is taken.
    scenario.colonies[0].keep = exact;
    scenario.colonies[1].keep.bees = Hundreds(10_000);
    holds(&scenario, &plan());
}

#[test]
fn keep_of_a_colony_below_a_floor_is_what_it_has() {
    let mut scenario = scenario();
    scenario.colonies[0].keep.stores = Grams(1_000_000);
    only(&scenario, &plan(), Rule::Keep, 1);
    // Brood without stores leaves as much of them as there is.
    for group in &mut scenario.colonies[0].frames {
        if group.frame.brood.0 > 0 {
            group.frame.stores = Milli(0);
        }
    }
    holds(&scenario, &plan());
}

/// Colony a is to keep its brood covered whole; so many loose hundreds more are taken.
fn covered(extra_bees: i64, each: i64, more: i64) -> (Scenario, Plan) {
    let mut scenario = scenario();
    let colony = &mut scenario.colonies[0];
    colony.keep.covered = Percent(100);
    colony.extra_bees = Hundreds(extra_bees);
    for group in &mut colony.frames[..2] {
        group.frame.bees = Hundreds(each);
    }
    let mut plan = plan();
    for compartment in &mut plan.compartments {
        let riding = each.min(15);
        compartment.bees[0].riding = Hundreds(riding);
        compartment.bees[0].loose = Hundreds(16 - riding);
    }
    plan.compartments[0].bees[0].loose.0 += more;
    (scenario, plan)
}

#[test]
fn keep_covered_leaves_bees_for_all_brood_that_stays() {
    // 125 hundreds before, 84 would cover all 7 brood frames of 0.6; the 5 that stay take 60, so 65
    // may go.
    let (scenario, plan) = covered(0, 15, 33);
    holds(&scenario, &plan);
    let (scenario, plan) = covered(0, 15, 34);
    only(&scenario, &plan, Rule::Keep, 1);
    let fault = Fault::Bare {
        bees: Hundreds(59),
        least: Hundreds(60),
    };
    assert_eq!(check(&scenario, &plan).1[0].fault, fault);
}

#[test]
fn keep_covered_counts_brood_with_the_queen() {
    let (mut scenario, plan) = covered(0, 15, 33);
    scenario.colonies[0].frames[1].frame.brood = Milli(650);
    only(&scenario, &plan, Rule::Keep, 1);
    scenario.colonies[0].extra_bees = Hundreds(1);
    holds(&scenario, &plan);
}

#[test]
fn keep_covered_of_a_colony_below_it_is_what_it_has() {
    // 76 hundreds where 84 would cover: 60 x 76 / 84 = 54.3, so 55 must stay, and 21 may go.
    let (mut scenario, mut plan) = covered(0, 8, 0);
    scenario.boxes[0].bees = Bees(900);
    for (compartment, loose) in plan.compartments.iter_mut().zip([2, 3]) {
        compartment.bees[0].loose = Hundreds(loose);
    }
    holds(&scenario, &plan);
    plan.compartments[0].bees[0].loose.0 += 1;
    only(&scenario, &plan, Rule::Keep, 1);
    let fault = Fault::Bare {
        bees: Hundreds(54),
        least: Hundreds(55),
    };
    assert_eq!(check(&scenario, &plan).1[0].fault, fault);
}

#[test]
fn keep_covered_asks_nothing_of_a_colony_that_gives_nothing() {
    let (mut scenario, plan) = covered(0, 15, 0);
    scenario.colonies[1].keep.covered = Percent(100);
    scenario.colonies[1].extra_bees = Hundreds(0);
    for group in &mut scenario.colonies[1].frames {
        group.frame.bees = Hundreds(0);
    }
    holds(&scenario, &plan);
}

#[test]
fn draw_each_cap_to_the_last_unit() {
    let mut scenario = scenario();
    let honey = check(&scenario, &plan()).0.cost.honey;
    let exact = Draw {
        frames: Some(2),
        brood: Some(Milli(1200)),
        bees: Some(Hundreds(32)),
        honey: Some(honey),
    };
    scenario.colonies[0].draw = exact;
    scenario.honey_cap = Some(honey);
    holds(&scenario, &plan());
    let less = Grams(honey.0 - 1);
    let broken = [
        Draw {
            frames: Some(1),
            ..exact
        },
        Draw {
            brood: Some(Milli(1199)),
            ..exact
        },
        Draw {
            bees: Some(Hundreds(31)),
            ..exact
        },
        Draw {
            honey: Some(less),
            ..exact
        },
    ];
    for draw in broken {
        scenario.colonies[0].draw = draw;
        only(&scenario, &plan(), Rule::Draw, 1);
    }
    scenario.colonies[0].draw = exact;
    scenario.honey_cap = Some(less);
    only(&scenario, &plan(), Rule::Draw, 1);
}
