//! What a plan reaches.

use crate::yard::{bees, compartment, frame, plan, plan_of, scenario};
use spareframe_solver::honey::{ColonyModel, rates};
use spareframe_solver::*;

#[test]
fn a_valid_plan_has_no_breach_and_its_goals() {
    let scenario = scenario();
    let (goals, breaches) = check(&scenario, &plan());
    assert_eq!(breaches, vec![]);
    let colony = &scenario.colonies[0];
    let rates = rates(&scenario.combs, colony, &ColonyModel::default());
    // Two frames of 2000 sealed and 1000 open cells and 400 g, and 32 hundreds of bees.
    let up = |value: i64, by: i64| (value + by - 1) / by;
    let brood = up(2000 * rates.sealed + 1000 * rates.open, 1_000_000);
    let honey = 2 * (brood + 400) + 32 * up(rates.bees, 10_000);
    // 32 of 155 hundreds are 21 %, 2 of 7 frames of brood 29 %: 29 and 9 beyond 20.
    let cost = Cost {
        honey: Grams(honey),
        burden: 38,
        substitutes: 0,
        opened: 1,
        otherwise: 0,
    };
    let worth = Worth(2000);
    assert_eq!(goals, Goals { worth, cost });
    assert!(rates.bees > 0 && rates.sealed > 0);
}

#[test]
fn the_empty_plan_is_valid_whatever_the_floors() {
    let mut scenario = scenario();
    scenario.colonies[0].keep.bees = Hundreds(10_000);
    scenario.honey_cap = Some(Grams(0));
    scenario.cells = Some(vec![]);
    let nothing = (Goals::default(), vec![]);
    assert_eq!(check(&scenario, &Plan::default()), nothing);
}

#[test]
fn the_burden_worked_by_hand_in_the_model() {
    // 15,000 bees, 20,000 brood cells; 2 frames of 21 hundreds and 4000 cells leave with 40 hundreds.
    let mut scenario = scenario();
    scenario.combs[0].cells = 4000;
    let nucleus = &mut scenario.colonies[0];
    nucleus.crop = None;
    nucleus.frames.truncate(1);
    nucleus.frames[0].count = 5;
    nucleus.frames[0].frame = frame(1000, 1000, 0, 1000, 21);
    nucleus.extra_bees = Hundreds(45);
    scenario.boxes[0].bees = Bees(2000);
    let mut plan = plan();
    for compartment in &mut plan.compartments {
        compartment.bees = vec![bees(0, 20, 0)];
    }
    let (goals, breaches) = check(&scenario, &plan);
    assert_eq!(breaches, vec![]);
    assert_eq!((goals.cost.burden, goals.cost.opened), (60, 1));
    assert_eq!(goals.cost.total(&Prices::default()), Grams(320));
    let account = remains(&scenario, &plan)[0];
    assert_eq!((account.share, account.burden), (Percent(40), 60));
    assert_eq!(account.before.cover, Hundreds(100));
    scenario.colonies[0].apart = true;
    assert_eq!(check(&scenario, &plan).0.cost.burden, 0);
}

#[test]
fn substitutes_count_their_place_for_each_frame() {
    let mut scenario = scenario();
    scenario.store_room[0].frame = frame(0, 0, 0, 0, 0);
    assert_eq!(check(&scenario, &plan()).0.cost.substitutes, 2);
    let food = &mut scenario.boxes[0].lines[1].substitutes;
    food.insert(
        0,
        Substitute {
            ask: Ask {
                brood: Span::from(1),
                ..Ask::any(CombId(0))
            },
            feed: Grams(0),
        },
    );
    assert_eq!(check(&scenario, &plan()).0.cost.substitutes, 4);
}

#[test]
fn frames_drawn_otherwise_are_counted_near_to_an_earlier_plan() {
    let scenario = scenario();
    let mut then = plan_of(vec![compartment(0, 0)]);
    then.compartments[0].frames[1].origin = Origin::Colony(ColonyId(9), 3);
    let (goals, _) = check_near(&scenario, &plan(), &then);
    // One brood frame more, and one frame less of a colony that is no longer there.
    assert_eq!(goals.cost.otherwise, 2);
    assert_eq!(plan().drawn_otherwise(&then), 2);
    assert_eq!(
        check_near(&scenario, &plan(), &plan()),
        check(&scenario, &plan())
    );
}
