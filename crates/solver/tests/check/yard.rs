//! A yard with two sites and one kind of box, and a plan for it that breaks no rule.

use crate::plain::{self, group};
pub use crate::plain::{bees, placed};
use spareframe_solver::*;

pub fn frame(brood: i64, sealed: i64, stores: i64, drawn: i64, bees: i64) -> FrameState {
    FrameState {
        sealed: Milli(sealed),
        drawn: Milli(drawn),
        ..plain::frame(brood, stores, bees)
    }
}

/// 7 brood frames of 15 hundreds, one of them with the queen, 4 honey combs of 5, and 30 besides.
pub fn colony(name: &str, site: usize) -> Colony {
    let brood = frame(600, 400, 200, 1000, 15);
    let mut frames = vec![
        group(6, brood),
        group(1, brood),
        group(4, frame(0, 0, 900, 1000, 5)),
    ];
    frames[1].queen = true;
    Colony {
        name: name.into(),
        site: SiteId(site),
        role: "production".into(),
        crop: Some(Crop {
            honey: Grams(20_000),
            from: 5,
            to: 30,
        }),
        ..plain::colony(frames, 30)
    }
}

fn food() -> Line {
    let mut line = plain::line("food", 0, 500);
    line.ask.drawn = Span::from(500);
    line.substitutes.push(Substitute {
        ask: Ask::foundation(CombId(0)),
        feed: Grams(1000),
    });
    line
}

fn mating_box() -> BoxKind {
    let mut brood = plain::line("brood", 500, 0);
    brood.ask.sealed = Span::from(300);
    BoxKind {
        name: "mating box".into(),
        compartments: 2,
        site: SiteId(1),
        ..plain::kind(2, vec![brood, food()], 1600)
    }
}

/// Colonies `a` and `held` at the yard; mating boxes on the hill, too far off for bees to fly home.
pub fn scenario() -> Scenario {
    let mut held = colony("held", 0);
    held.hold = Some("foul brood suspected".into());
    let site = |name: &str| Site { name: name.into() };
    Scenario {
        combs: vec![plain::comb(20, 5000)],
        sites: vec![site("yard"), site("hill")],
        distances: vec![vec![0, 5000], vec![5000, 0]],
        colonies: vec![colony("a", 0), held],
        store_room: vec![SpareFrames {
            count: 4,
            frame: frame(0, 0, 800, 1000, 0),
        }],
        boxes: vec![mating_box()],
        ..Scenario::default()
    }
}

/// The same with small boxes on the hill, kind 1: a frame of food and 150 loose bees.
pub fn with_small_boxes() -> Scenario {
    let mut scenario = scenario();
    scenario.boxes.push(BoxKind {
        name: "small box".into(),
        compartments: 1,
        lines: vec![food()],
        bees: Bees(150),
        ..mating_box()
    });
    scenario
}

/// A brood frame and its bees of colony `a`, and a hundred loose.
pub fn compartment(box_no: u32, place: u32) -> Compartment {
    Compartment {
        kind: BoxId(0),
        box_no,
        place,
        frames: vec![
            placed(0, Origin::Colony(ColonyId(0), 0)),
            placed(1, Origin::StoreRoom(0)),
        ],
        bees: vec![bees(0, 15, 1)],
    }
}

/// A small box with food and bees of colony `a`.
pub fn small(box_no: u32, riding: i64, loose: i64) -> Compartment {
    Compartment {
        kind: BoxId(1),
        box_no,
        place: 0,
        frames: vec![placed(0, Origin::StoreRoom(0))],
        bees: vec![bees(0, riding, loose)],
    }
}

/// Bees that stand in a mating box: a poor brood frame with 5 hundreds, and 4 besides. It wants a cell.
pub fn stands(box_no: u32, place: u32) -> Standing {
    Standing {
        kind: BoxId(0),
        box_no,
        place,
        frames: vec![group(1, frame(200, 200, 300, 1000, 5))],
        extra_bees: Hundreds(4),
        wants_cell: true,
    }
}

pub fn plan_of(compartments: Vec<Compartment>) -> Plan {
    Plan {
        compartments,
        ..Plan::default()
    }
}

pub fn plan() -> Plan {
    plan_of(vec![compartment(0, 0), compartment(0, 1)])
}

/// The breaches are of this rule alone, and there are so many.
pub fn only(scenario: &Scenario, plan: &Plan, rule: Rule, count: usize) {
    let (_, breaches) = check(scenario, plan);
    assert!(breaches.iter().all(|b| b.rule == rule), "{breaches:#?}");
    assert_eq!(breaches.len(), count, "{breaches:#?}");
    for breach in breaches {
        let words = breach.in_words(scenario);
        assert!(!words.place.is_empty() && !words.found.is_empty() && !words.expected.is_empty());
    }
}

pub fn holds(scenario: &Scenario, plan: &Plan) {
    assert_eq!(check(scenario, plan).1, vec![]);
}
