//! What stands from an earlier day, and what it lacks for its next cell.

use crate::yard::{bees, compartment, holds, only, placed, plan, plan_of, scenario, stands};
use spareframe_solver::*;

/// Mating box 2.1 stands; for a next cell it is to hold a brood frame, food, and so many bees.
fn standing(fewest: i64) -> Scenario {
    let mut scenario = scenario();
    let kind = &mut scenario.boxes[0];
    kind.again = Recipe {
        lines: kind.lines.clone(),
        bees: Bees(fewest),
    };
    scenario.standing = vec![stands(1, 0)];
    scenario
}

fn with(frames: Vec<PlacedFrames>, shares: Vec<PlacedBees>) -> Plan {
    let mut plan = plan();
    plan.compartments.push(Compartment {
        frames,
        bees: shares,
        ..compartment(1, 0)
    });
    plan
}

fn brood() -> PlacedFrames {
    placed(0, Origin::Colony(ColonyId(0), 0))
}

fn food() -> PlacedFrames {
    placed(1, Origin::StoreRoom(0))
}

#[test]
fn recipe_asks_for_what_is_lacking_and_no_more() {
    let mut scenario = standing(1000);
    // Neither 20 % brood nor 30 % stores are enough.
    let both = |bees| with(vec![brood(), food()], bees);
    holds(&scenario, &both(vec![bees(0, 8, 0)]));
    only(
        &scenario,
        &with(vec![brood()], vec![bees(0, 8, 0)]),
        Rule::Recipe,
        1,
    );
    scenario.standing[0].frames[0].frame.stores = Milli(500);
    // Only with 80 % without brood is it food: the line says no brood.
    scenario.boxes[0].again.lines[1].ask.brood = Span::ANY;
    holds(&scenario, &with(vec![brood()], vec![bees(0, 8, 0)]));
    only(&scenario, &both(vec![bees(0, 8, 0)]), Rule::Recipe, 1);
    // A new stocking beside it asks for all of its recipe.
    only(
        &scenario,
        &plan_of(vec![Compartment {
            frames: vec![brood()],
            ..compartment(1, 1)
        }]),
        Rule::Recipe,
        1,
    );
}

#[test]
fn a_frame_that_stands_serves_the_first_line_that_lacks_it() {
    let mut scenario = standing(900);
    let any = |name: &str| Line {
        name: name.into(),
        count: 1,
        ask: Ask::any(CombId(0)),
        substitutes: vec![],
    };
    let brood_line = scenario.boxes[0].lines[0].clone();
    scenario.boxes[0].again.lines = vec![any("any"), brood_line];
    scenario.standing[0].frames[0].frame = scenario.colonies[0].frames[0].frame;
    // The brood frame serves the first line, so that the second lacks one.
    let second = PlacedFrames { line: 1, ..brood() };
    holds(&scenario, &with(vec![second.clone()], vec![bees(0, 8, 0)]));
    only(
        &scenario,
        &with(vec![brood()], vec![bees(0, 8, 0)]),
        Rule::Recipe,
        2,
    );
    // With a comb beside it, each line has what it asks for.
    let comb = FrameGroup {
        count: 1,
        frame: scenario.store_room[0].frame,
        queen: false,
    };
    scenario.standing[0].frames.push(comb);
    holds(&scenario, &with(vec![], vec![]));
    only(
        &scenario,
        &with(vec![second], vec![bees(0, 8, 0)]),
        Rule::Recipe,
        1,
    );
}

#[test]
fn bees_that_stand_count_and_fewer_than_a_hundred_are_not_asked_for() {
    let all = vec![brood(), food()];
    // 900 stand, and 800 at least ride in.
    holds(&standing(1700), &with(all.clone(), vec![bees(0, 8, 0)]));
    only(
        &standing(1800),
        &with(all, vec![bees(0, 8, 0)]),
        Rule::Bees,
        2,
    );
    let mut scenario = standing(999);
    scenario.boxes[0].again.lines.clear();
    holds(&scenario, &with(vec![], vec![]));
    scenario.boxes[0].again.bees = Bees(1000);
    only(&scenario, &with(vec![], vec![]), Rule::Bees, 2);
    // No brood comes, so that loose bees alone cover it.
    holds(&scenario, &with(vec![], vec![bees(0, 0, 1)]));
}

#[test]
fn boxes_in_which_bees_stand_are_free_for_a_next_cell_alone() {
    let mut scenario = standing(0);
    scenario.boxes[0].again = Recipe::default();
    scenario.boxes[0].whole = true;
    // One compartment of the second box stands, so that it may be stocked in part.
    holds(&scenario, &with(vec![], vec![]));
    holds(&scenario, &plan());
    scenario.standing[0].wants_cell = false;
    only(&scenario, &with(vec![], vec![]), Rule::Boxes, 1);
    let mut other = plan();
    other.compartments.push(compartment(1, 1));
    holds(&scenario, &other);
}

#[test]
fn cells_are_for_next_cells_too() {
    let mut scenario = standing(0);
    scenario.boxes[0].again = Recipe::default();
    scenario.cells = Some(vec![CellBatch {
        count: 2,
        boxes: vec![],
    }]);
    only(&scenario, &with(vec![], vec![]), Rule::Cells, 1);
    holds(&scenario, &plan());
}

#[test]
fn what_is_done_on_top_of_what_stands_is_in_the_plan_as_it_stands() {
    let mut scenario = standing(1700);
    let whole = with(vec![brood(), food()], vec![bees(0, 8, 0)]);
    let record = &whole.compartments[2];
    scenario.done = vec![record.clone()];
    holds(&scenario, &whole);
    // It lacks nothing, so that it gets its cell.
    let mut left = plan();
    left.begun = scenario.done.clone();
    only(&scenario, &left, Rule::Done, 1);
    (scenario.done[0].frames, scenario.done[0].bees) = (vec![food()], vec![]);
    left.begun.clone_from(&scenario.done);
    holds(&scenario, &whole);
    holds(&scenario, &left);
}
