//! Rules supply, recipe, boxes, cells and give.

use crate::yard::{bees, compartment, frame, holds, only, plan, plan_of, scenario};
use spareframe_solver::*;

#[test]
fn supply_of_a_frame_group() {
    let mut scenario = scenario();
    scenario.colonies[0].frames[0].count = 1;
    only(&scenario, &plan(), Rule::Supply, 1);
}

#[test]
fn supply_of_the_store_room() {
    let mut scenario = scenario();
    scenario.store_room[0].count = 1;
    only(&scenario, &plan(), Rule::Supply, 1);
}

#[test]
fn supply_never_with_the_queen() {
    let mut plan = plan();
    plan.compartments[0].frames[0].origin = Origin::Colony(ColonyId(0), 1);
    only(&scenario(), &plan, Rule::Supply, 1);
}

#[test]
fn supply_never_from_a_colony_on_hold() {
    let mut plan = plan();
    plan.compartments[0].frames[0].origin = Origin::Colony(ColonyId(1), 0);
    plan.compartments[0].bees = vec![bees(1, 15, 1)];
    only(&scenario(), &plan, Rule::Supply, 1);
    // Loose bees alone are bees, too.
    let mut plan = self::plan();
    plan.compartments[0].bees = vec![bees(0, 15, 0), bees(1, 0, 1)];
    only(&scenario(), &plan, Rule::Supply, 1);
    let breach = check(&scenario(), &plan).1[0];
    let fault = Fault::OnHold {
        frames: 0,
        bees: Hundreds(1),
    };
    assert_eq!(
        (breach.place, breach.fault),
        (Place::Colony(ColonyId(1)), fault)
    );
}

#[test]
fn supply_of_bees_ends_with_those_on_combs_without_the_queen() {
    // 6 frames of 15 hundreds and 4 of 5; the queen's 15 and 30 beside the frames stay.
    let with = |loose: i64| {
        let mut plan = plan();
        plan.compartments[0].bees = vec![bees(0, 15, loose)];
        plan.compartments[1].bees = vec![bees(0, 15, 1)];
        plan
    };
    holds(&scenario(), &with(110 - 31));
    only(&scenario(), &with(110 - 30), Rule::Supply, 1);
    let breach = check(&scenario(), &with(110 - 30)).1[0];
    assert_eq!(
        breach.in_words(&scenario()).to_string(),
        "supply: colony a: found 11100 bees, expected at most 11000 bees: no more sit on its frames \
         without the queen"
    );
}

#[test]
fn recipe_counts_frames() {
    let mut plan = plan();
    plan.compartments[0].frames.pop();
    only(&scenario(), &plan, Rule::Recipe, 1);
    let mut plan = self::plan();
    plan.compartments[0].frames[1].count = 2;
    only(&scenario(), &plan, Rule::Recipe, 1);
}

#[test]
fn recipe_wants_fitting_frames() {
    let mut plan = plan();
    plan.compartments[0].frames[1].origin = Origin::Colony(ColonyId(0), 2);
    holds(&scenario(), &plan);
    plan.compartments[0].frames[1].line = 0;
    plan.compartments[0].frames[0].line = 1;
    // Neither has stores enough, nor brood.
    only(&scenario(), &plan, Rule::Recipe, 2);
    // Too little sealed brood is enough to miss.
    let mut scenario = scenario();
    scenario.colonies[0].frames[0].frame.sealed = Milli(299);
    only(&scenario, &self::plan(), Rule::Recipe, 2);
}

#[test]
fn recipe_spans_hold_at_both_ends() {
    type Share = fn(&mut Ask) -> &mut Span;
    let shares: [(Share, i64); 4] = [
        (|ask| &mut ask.brood, 600),
        (|ask| &mut ask.sealed, 400),
        (|ask| &mut ask.stores, 200),
        (|ask| &mut ask.drawn, 1000),
    ];
    for (share, is) in shares {
        let spans = [
            (is, is, 0),
            (0, is, 0),
            (is, 1000, 0),
            (0, is - 1, 2),
            (is + 1, 1001, 2),
        ];
        for (least, most, breaches) in spans {
            let mut scenario = scenario();
            *share(&mut scenario.boxes[0].lines[0].ask) = Span::of(least, most);
            // The compartments keep a brood line, whatever this one asks for.
            let ask = &mut scenario.boxes[0].lines[0].ask;
            ask.brood.least = ask.brood.least.max(Milli(1));
            only(&scenario, &plan(), Rule::Recipe, breaches);
        }
    }
}

#[test]
fn recipe_takes_substitutes() {
    let mut scenario = scenario();
    scenario.store_room[0].frame = frame(0, 0, 0, 0, 0);
    holds(&scenario, &plan());
    // Drawn comb without stores is neither the line's frame nor foundation.
    scenario.store_room[0].frame = frame(0, 0, 0, 1000, 0);
    only(&scenario, &plan(), Rule::Recipe, 2);
    // Another frame size never fits.
    scenario.combs.push(scenario.combs[0].clone());
    scenario.store_room[0].frame = FrameState {
        comb: CombId(1),
        ..frame(0, 0, 0, 0, 0)
    };
    only(&scenario, &plan(), Rule::Recipe, 2);
}

#[test]
fn boxes_exist_and_are_stocked_once() {
    let scenario = scenario();
    let one = |box_no, place| plan_of(vec![compartment(box_no, place)]);
    only(&scenario, &one(2, 0), Rule::Boxes, 1);
    only(&scenario, &one(0, 2), Rule::Boxes, 1);
    let twice = plan_of(vec![compartment(0, 0), compartment(0, 0)]);
    only(&scenario, &twice, Rule::Boxes, 1);
    let mut unknown = one(0, 0);
    unknown.compartments[0].kind = BoxId(9);
    only(&scenario, &unknown, Rule::Boxes, 1);
}

#[test]
fn boxes_marked_whole_are_stocked_whole() {
    let mut scenario = scenario();
    scenario.boxes[0].whole = true;
    holds(&scenario, &plan());
    only(&scenario, &plan_of(vec![compartment(1, 1)]), Rule::Boxes, 1);
    let spread = plan_of(vec![compartment(0, 0), compartment(1, 0)]);
    only(&scenario, &spread, Rule::Boxes, 2);
}

fn batch(count: u32, boxes: &[usize]) -> CellBatch {
    CellBatch {
        count,
        boxes: boxes.iter().map(|&b| BoxId(b)).collect(),
    }
}

#[test]
fn cells_one_for_each_compartment() {
    let mut scenario = scenario();
    for enough in [
        None,
        Some(vec![batch(2, &[])]),
        Some(vec![batch(1, &[0]), batch(1, &[])]),
        Some(vec![batch(2, &[77, 0])]),
    ] {
        scenario.cells = enough;
        holds(&scenario, &plan());
    }
    for few in [
        vec![],
        vec![batch(1, &[0])],
        vec![batch(5, &[1]), batch(1, &[])],
    ] {
        scenario.cells = Some(few);
        only(&scenario, &plan(), Rule::Cells, 1);
    }
}

#[test]
fn cells_are_matched_not_given_out_in_order() {
    // Kind 0 takes cells of either batch, kind 1 only those of batch 0: kind 0 must leave
    // batch 0 alone.
    let mut scenario = scenario();
    let mut other = scenario.boxes[0].clone();
    other.name = "other box".into();
    scenario.boxes.push(other);
    scenario.cells = Some(vec![batch(1, &[]), batch(1, &[0])]);
    let mut plan = plan();
    plan.compartments[1].kind = BoxId(1);
    holds(&scenario, &plan);
    plan.compartments[0].kind = BoxId(1);
    only(&scenario, &plan, Rule::Cells, 1);
}

#[test]
fn give_of_a_colony_and_of_a_frame_group() {
    let wish = |group, frames| Scenario {
        gives: vec![Give {
            colony: ColonyId(0),
            group,
            frames,
        }],
        ..scenario()
    };
    for (group, frames, breaches) in [
        (None, 2, 0),
        (None, 3, 1),
        (Some(0), 2, 0),
        (Some(0), 3, 1),
        (Some(1), 1, 1),
        (Some(1), 0, 0),
        (Some(usize::MAX), 1, 1),
    ] {
        only(&wish(group, frames), &plan(), Rule::Give, breaches);
    }
    only(&wish(None, 1), &Plan::default(), Rule::Give, 1);
}
