//! A yard with two sites and one kind of box, and a plan for it that breaks no rule.

use spareframe_solver::*;

pub fn frame(brood: i64, sealed: i64, stores: i64, drawn: i64, bees: i64) -> FrameState {
    FrameState {
        comb: CombId(0),
        brood: Milli(brood),
        sealed: Milli(sealed),
        stores: Milli(stores),
        drawn: Milli(drawn),
        bees: Hundreds(bees),
    }
}

fn group(count: u32, frame: FrameState) -> FrameGroup {
    FrameGroup {
        count,
        frame,
        queen: false,
    }
}

/// 7 brood frames of 15 hundreds, one of them with the queen, 4 honey combs of 5, and 30 besides.
pub fn colony(name: &str, site: usize) -> Colony {
    Colony {
        name: name.into(),
        site: SiteId(site),
        role: "production".into(),
        hold: None,
        frames: vec![
            group(6, frame(600, 400, 200, 1000, 15)),
            FrameGroup {
                queen: true,
                ..group(1, frame(600, 400, 200, 1000, 15))
            },
            group(4, frame(0, 0, 900, 1000, 5)),
        ],
        extra_bees: Hundreds(30),
        crop: Some(Crop {
            honey: Grams(20_000),
            from: 5,
            to: 30,
        }),
        keep: Keep::default(),
        draw: Draw::default(),
        rides: Percent(50),
        apart: false,
    }
}

pub fn line(name: &str, ask: Ask) -> Line {
    Line {
        name: name.into(),
        count: 1,
        ask,
        substitutes: vec![],
    }
}

fn food() -> Line {
    Line {
        substitutes: vec![Substitute {
            ask: Ask::foundation(CombId(0)),
            feed: Grams(1000),
        }],
        ..line(
            "food",
            Ask {
                stores: Span::from(500),
                drawn: Span::from(500),
                ..Ask::any(CombId(0))
            },
        )
    }
}

fn mating_box() -> BoxKind {
    let brood = Ask {
        brood: Span::from(500),
        sealed: Span::from(300),
        ..Ask::any(CombId(0))
    };
    BoxKind {
        name: "mating box".into(),
        count: 2,
        compartments: 2,
        site: SiteId(1),
        worth: Worth(1000),
        whole: false,
        lines: vec![line("brood", brood), food()],
        bees: Bees(1600),
    }
}

/// Colonies `a` and `held` at the yard; mating boxes on the hill, too far off for bees to fly home.
pub fn scenario() -> Scenario {
    let mut held = colony("held", 0);
    held.hold = Some("foul brood suspected".into());
    let site = |name: &str| Site { name: name.into() };
    Scenario {
        combs: vec![Comb {
            name: "comb".into(),
            bees: Hundreds(20),
            cells: 5000,
            stores: Grams(2000),
        }],
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

pub fn placed(line: usize, origin: Origin) -> PlacedFrames {
    PlacedFrames {
        line,
        origin,
        count: 1,
    }
}

pub fn bees(colony: usize, riding: i64, loose: i64) -> PlacedBees {
    PlacedBees {
        colony: ColonyId(colony),
        riding: Hundreds(riding),
        loose: Hundreds(loose),
    }
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
