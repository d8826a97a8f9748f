//! Defects that were found once, each by a yard that failed before it was mended.
//!
//! Rules and goals: `docs/model.md`.

use super::support::linear::Rows;
use super::support::plain::{colony, frame, group, kind, line, placed, record, yard};
use super::support::{both, enumerate, proved_figures};
use spareframe_solver::*;

fn worth(scenario: &Scenario) -> i64 {
    let figures = proved_figures(scenario).expect("proved");
    assert_eq!(figures, both(enumerate::best(scenario)));
    figures.map_or(0, |(worth, _)| worth)
}

/// 6000 bees, 3000 of them already in a box that asks for 1000, of which 2010 stay. Of 2900 more, 1943 stay:
/// with 99 of those held beyond the fewest, two boxes; of 2800, 1876 stay, which with all that is held would
/// be enough.
#[test]
fn what_a_begun_box_holds_beyond_its_fewest_is_no_bound_for_others_and_no_help() {
    let brood = vec![line("brood", 500, 0)];
    let donor = colony(
        vec![group(4, frame(800, 0, 5)), group(1, frame(0, 0, 39))],
        0,
    );
    let mut scenario = yard(donor, kind(3, brood, 1000));
    scenario.done = vec![record(0, 30)];
    assert_eq!(worth(&scenario), 3000);
    scenario.colonies[0].frames[1].frame.bees = Hundreds(38);
    assert_eq!(
        worth(&scenario),
        2000,
        "a hundred bees less is one box less"
    );
}

/// A finished small box holds 67 bees of 31, one with brood 268 of 290: on balance 14 are over, so that another small
/// box needs 17, though the loose ones alone would do.
#[test]
fn what_small_boxes_hold_beyond_their_fewest_is_no_help_where_those_with_brood_are_short() {
    let frames = vec![group(4, frame(800, 0, 5)), group(4, frame(0, 800, 0))];
    let mut scenario = yard(colony(frames, 30), kind(2, vec![line("food", 0, 500)], 31));
    scenario.boxes.push(BoxKind {
        name: "with brood".into(),
        ..kind(1, vec![line("brood", 500, 0)], 290)
    });
    let small = Compartment {
        frames: vec![placed(0, Origin::Colony(ColonyId(0), 1))],
        ..record(0, 1)
    };
    let with_brood = Compartment {
        kind: BoxId(1),
        ..record(0, 4)
    };
    scenario.done = vec![small, with_brood];
    assert_eq!(worth(&scenario), 3000);
}

/// A producer with 6 hundreds of bees of 8 that it is to keep gives none, nor its brood, but its empty comb; a
/// nucleus gives the brood.
#[test]
fn a_colony_below_its_floor_of_bees_gives_a_comb_that_it_has_plenty_of() {
    let weak = vec![group(1, frame(500, 0, 6)), group(2, frame(0, 0, 0))];
    let mut scenario = yard(
        colony(weak, 0),
        kind(2, vec![line("brood", 500, 0), line("comb", 0, 0)], 300),
    );
    scenario.boxes[0].lines[1].ask.brood.most = Milli(0);
    scenario.colonies[0].keep.bees = Hundreds(8);
    let nucleus = colony(vec![group(2, frame(500, 0, 20))], 0);
    scenario.colonies.push(Colony {
        name: "nucleus".into(),
        ..nucleus
    });
    assert_eq!(worth(&scenario), 2000);
    scenario.colonies[0].keep.drawn = Milli(3000);
    assert_eq!(worth(&scenario), 0);
}

/// Shares of brood and stores in percent of fourteen frames, all different, and of seven lines: two boxes
/// take every frame there is, in one way or a few.
const FRAMES: [(i64, i64); 14] = [
    (59, 20),
    (33, 19),
    (33, 40),
    (34, 8),
    (10, 70),
    (44, 18),
    (11, 41),
    (39, 37),
    (38, 20),
    (41, 49),
    (58, 5),
    (30, 23),
    (47, 12),
    (10, 75),
];
const LINES: [(i64, i64); 7] = [
    (11, 12),
    (5, 33),
    (39, 10),
    (28, 6),
    (40, 5),
    (31, 17),
    (32, 8),
];

#[test]
fn a_hive_recorded_frame_by_frame_gives_every_frame_it_can() {
    let frames = FRAMES.map(|(brood, stores)| group(1, frame(10 * brood, 10 * stores, 10)));
    let lines = LINES.iter().enumerate();
    let lines =
        lines.map(|(at, &(brood, stores))| line(&format!("line {at}"), 10 * brood, 10 * stores));
    let mut apart = colony(frames.into(), 0);
    apart.apart = true;
    let scenario = yard(apart, kind(4, lines.collect(), 0));
    // No crop, no burden where a colony is taken apart, no substitutes: one hive is opened.
    let figures = proved_figures(&scenario).expect("proved");
    assert_eq!(figures, Some((2000, 20)));
    assert_eq!(Rows::of(&scenario).base, 0);
}

/// A box that lacks a frame which no one has: nothing is stocked, and what was taken is counted.
#[test]
fn where_nothing_is_possible_beside_what_is_done_that_is_counted_all_the_same() {
    let lines = vec![line("brood", 500, 0), line("more", 950, 0)];
    let mut donor = colony(vec![group(2, frame(800, 100, 15))], 10);
    donor.crop = Some(Crop {
        honey: Grams(20_000),
        from: 0,
        to: 20,
    });
    let mut scenario = yard(donor, kind(1, lines, 1000));
    scenario.done = vec![record(0, 20)];
    assert_eq!(enumerate::best(&scenario), None);
    assert_eq!(solve(&scenario, &SolveOptions::default()), Outcome::Nothing);
    let plan = Plan {
        compartments: vec![],
        begun: scenario.done.clone(),
    };
    let (goals, breaches) = check(&scenario, &plan);
    assert_eq!((goals.worth, breaches), (Worth(0), vec![]));
    assert_eq!(goals.cost.opened, 1);
    // 20 of 40 hundreds are half of the bees, and so is one of two brood frames.
    assert_eq!(goals.cost.burden, 50 + 30 + 10);
    assert!(goals.cost.honey > Grams(200), "its stores and more");
    let curve = curve(&scenario, &SolveOptions::default());
    let costs: Vec<Cost> = curve.points.iter().map(|point| point.cost).collect();
    assert_eq!(costs, vec![goals.cost]);
}

/// What serves lines of one kind of box.
fn serving(scenario: &Scenario) -> Vec<Origin> {
    let Outcome::Stocked(found) = solve(scenario, &SolveOptions::default()) else {
        panic!("a compartment can be stocked");
    };
    let frames = found.plan.compartments.into_iter().flat_map(|c| c.frames);
    frames.map(|placed| placed.origin).collect()
}

/// A line for a comb, brood or none, stores or none, takes the emptier of two that are at hand at one price: of the
/// shelf, whether the fuller or the emptier also serves lines that nobody stocks; of the colony; of both.
#[test]
fn a_full_honey_comb_serves_no_line_that_an_empty_one_serves_as_well() {
    let spare = |stores| SpareFrames {
        count: 1,
        frame: frame(0, stores, 0),
    };
    let own = |stores| group(1, frame(0, stores, 0));
    let (shelf, of_colony) = (
        |at| Origin::StoreRoom(at),
        |at| Origin::Colony(ColonyId(0), at),
    );
    let mut empty = line("empty", 0, 0);
    empty.ask.stores = Span {
        least: Milli(0),
        most: Milli(500),
    };
    for other in [line("stores", 0, 800), empty] {
        let lines = vec![line("brood", 500, 0), line("comb", 0, 0)];
        let brood = group(1, frame(800, 0, 20));
        let mut yard = yard(colony(vec![brood], 40), kind(1, lines, 1000));
        yard.boxes.push(BoxKind {
            name: "never".into(),
            ..kind(1, vec![other, line("more", 1000, 0)], 1000)
        });
        for (at, stores) in [[900, 100], [100, 900]].into_iter().enumerate() {
            let both = Scenario {
                store_room: stores.map(spare).to_vec(),
                ..yard.clone()
            };
            assert!(serving(&both).contains(&shelf(1 - at)), "shelf {at}");
            let mut in_hive = yard.clone();
            in_hive.colonies[0].frames.extend(stores.map(own));
            assert!(serving(&in_hive).contains(&of_colony(2 - at)), "hive {at}");
        }
        let mut either = yard.clone();
        either.colonies[0].frames.push(own(900));
        either.store_room = vec![spare(100)];
        assert!(serving(&either).contains(&shelf(0)), "hive and shelf");
        either.colonies[0].frames[1] = own(100);
        either.store_room = vec![spare(900)];
        assert!(serving(&either).contains(&of_colony(1)), "shelf and hive");
    }
}
