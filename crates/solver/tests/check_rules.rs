//! The independent check: a valid plan, and for each rule plans that break only that rule.

use spareframe_solver::honey::{ColonyModel, rates};
use spareframe_solver::*;

fn frame(brood: i64, sealed: i64, stores: i64, drawn: i64, bees: i64) -> FrameState {
    FrameState {
        comb: CombId(0),
        brood: Milli(brood),
        sealed: Milli(sealed),
        stores: Milli(stores),
        drawn: Milli(drawn),
        bees: Milli(bees),
    }
}

fn group(count: u32, frame: FrameState) -> FrameGroup {
    FrameGroup {
        count,
        frame,
        queen: false,
    }
}

fn colony(name: &str, site: usize) -> Colony {
    Colony {
        name: name.into(),
        site: SiteId(site),
        role: "production".into(),
        hold: None,
        frames: vec![
            group(6, frame(600, 400, 200, 1000, 750)),
            FrameGroup {
                queen: true,
                ..group(1, frame(600, 400, 200, 1000, 750))
            },
            group(4, frame(0, 0, 900, 1000, 250)),
        ],
        extra_bees: Bees(3000),
        crop: Some(Crop {
            honey: Grams(20_000),
            from: 5,
            to: 30,
        }),
        keep: Keep::default(),
        draw: Draw::default(),
    }
}

fn scenario() -> Scenario {
    let mut held = colony("held", 0);
    held.hold = Some("foul brood suspected".into());
    Scenario {
        combs: vec![Comb {
            name: "comb".into(),
            bees: Bees(2000),
            cells: 5000,
            stores: Grams(2000),
        }],
        sites: vec![
            Site {
                name: "yard".into(),
            },
            Site {
                name: "hill".into(),
            },
        ],
        distances: vec![vec![0, 5000], vec![5000, 0]],
        colonies: vec![colony("a", 0), held],
        store_room: vec![SpareFrames {
            count: 2,
            frame: frame(0, 0, 800, 1000, 0),
        }],
        boxes: vec![BoxKind {
            name: "mating box".into(),
            count: 2,
            compartments: 2,
            site: SiteId(1),
            worth: Worth(1000),
            whole: false,
            lines: vec![
                Line {
                    name: "brood".into(),
                    count: 1,
                    ask: Ask::AtLeast {
                        comb: CombId(0),
                        brood: Milli(500),
                        sealed: Milli(300),
                        stores: Milli(0),
                        drawn: Milli(0),
                    },
                    substitutes: vec![],
                },
                Line {
                    name: "food".into(),
                    count: 1,
                    ask: Ask::AtLeast {
                        comb: CombId(0),
                        brood: Milli(0),
                        sealed: Milli(0),
                        stores: Milli(500),
                        drawn: Milli(500),
                    },
                    substitutes: vec![Substitute {
                        ask: Ask::Foundation { comb: CombId(0) },
                        feed: Grams(1000),
                    }],
                },
            ],
            bees: Bees(1600),
        }],
        ..Scenario::default()
    }
}

fn placed(line: usize, origin: Origin) -> PlacedFrames {
    PlacedFrames {
        line,
        origin,
        count: 1,
    }
}

fn compartment(box_no: u32, place: u32) -> Compartment {
    Compartment {
        kind: BoxId(0),
        box_no,
        place,
        frames: vec![
            placed(0, Origin::Colony(ColonyId(0), 0)),
            placed(1, Origin::StoreRoom(0)),
        ],
        bees: vec![PlacedBees {
            colony: ColonyId(0),
            bees: Bees(1600),
        }],
    }
}

fn plan() -> Plan {
    Plan {
        compartments: vec![compartment(0, 0), compartment(0, 1)],
        ..Plan::default()
    }
}

/// The breaches are of this rule alone, and there are so many.
fn only(scenario: &Scenario, plan: &Plan, rule: Rule, count: usize) {
    let (_, breaches) = check(scenario, plan);
    assert!(breaches.iter().all(|b| b.rule == rule), "{breaches:#?}");
    assert_eq!(breaches.len(), count, "{breaches:#?}");
    assert!(
        breaches
            .iter()
            .all(|b| !b.place.is_empty() && !b.expected.is_empty())
    );
}

#[test]
fn valid_plan_has_no_breach_and_its_goals() {
    let scenario = scenario();
    let (goals, breaches) = check(&scenario, &plan());
    assert_eq!(breaches, vec![]);
    let rates = rates(
        &scenario.combs,
        &scenario.colonies[0],
        &ColonyModel::default(),
    );
    // Two frames of 2000 sealed and 1000 open cells and 400 g, and 3200 bees of which 3000
    // sit on these frames.
    let honey = 2 * (2000 * rates.sealed + 1000 * rates.open + 400_000) + 3200 * rates.bees;
    assert_eq!(
        goals,
        Goals {
            worth: Worth(2000),
            honey: Milligrams(honey),
            opened: 1,
            shaken: Bees(200)
        }
    );
    assert!(rates.bees > 0 && rates.sealed > 0);
}

#[test]
fn empty_plan_is_valid_whatever_the_floors() {
    let mut scenario = scenario();
    scenario.colonies[0].keep.bees = Bees(1_000_000);
    scenario.honey_cap = Some(Milligrams(0));
    scenario.cells = Some(vec![]);
    assert_eq!(
        check(&scenario, &Plan::default()),
        (Goals::default(), vec![])
    );
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
    only(&scenario(), &plan, Rule::Supply, 1);
    let mut plan = self::plan();
    plan.compartments[0].bees[0].colony = ColonyId(1);
    let (_, breaches) = check(&scenario(), &plan);
    assert_eq!(breaches.len(), 1);
    assert!(breaches[0].expected.contains("foul brood suspected"));
}

#[test]
fn recipe_counts_frames() {
    let mut plan = plan();
    plan.compartments[0].frames.pop();
    only(&scenario(), &plan, Rule::Recipe, 1);
    let mut plan = self::plan();
    plan.compartments[0].frames[0].count = 2;
    only(&scenario(), &plan, Rule::Recipe, 1);
}

#[test]
fn recipe_wants_fitting_frames() {
    let mut plan = plan();
    plan.compartments[0].frames[0].origin = Origin::Colony(ColonyId(0), 2);
    only(&scenario(), &plan, Rule::Recipe, 1);
    // Too little sealed brood is enough to miss.
    let mut scenario = scenario();
    scenario.colonies[0].frames[0].frame.sealed = Milli(299);
    only(&scenario, &self::plan(), Rule::Recipe, 2);
}

#[test]
fn recipe_takes_substitutes() {
    let mut scenario = scenario();
    scenario.store_room[0].frame = frame(0, 0, 0, 0, 0);
    assert_eq!(check(&scenario, &plan()).1, vec![]);
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
fn keep_each_floor_to_the_last_unit() {
    // Left of colony a: 5 brood frames of 0.6; 7 x 1500 + 4 x 500 + 3000 - 3200 bees;
    // 5 x 400 + 4 x 1800 g; 9 drawn combs.
    let exact = Keep {
        brood: Milli(3000),
        bees: Bees(12_300),
        stores: Grams(9_200),
        drawn: Milli(9_000),
    };
    let mut scenario = scenario();
    scenario.colonies[0].keep = exact;
    assert_eq!(check(&scenario, &plan()).1, vec![]);
    for keep in [
        Keep {
            brood: Milli(3001),
            ..exact
        },
        Keep {
            bees: Bees(12_301),
            ..exact
        },
        Keep {
            stores: Grams(9_201),
            ..exact
        },
        Keep {
            drawn: Milli(9_001),
            ..exact
        },
    ] {
        scenario.colonies[0].keep = keep;
        only(&scenario, &plan(), Rule::Keep, 1);
    }
    // A floor that was missed before matters only where something is taken.
    scenario.colonies[0].keep = exact;
    scenario.colonies[1].keep.bees = Bees(1_000_000);
    assert_eq!(check(&scenario, &plan()).1, vec![]);
}

#[test]
fn draw_each_cap_to_the_last_unit() {
    let mut scenario = scenario();
    let honey = check(&scenario, &plan()).0.honey;
    let exact = Draw {
        frames: Some(2),
        brood: Some(Milli(1200)),
        bees: Some(Bees(3200)),
        honey: Some(honey),
    };
    scenario.colonies[0].draw = exact;
    scenario.honey_cap = Some(honey);
    assert_eq!(check(&scenario, &plan()).1, vec![]);
    for draw in [
        Draw {
            frames: Some(1),
            ..exact
        },
        Draw {
            brood: Some(Milli(1199)),
            ..exact
        },
        Draw {
            bees: Some(Bees(3199)),
            ..exact
        },
        Draw {
            honey: Some(Milligrams(honey.0 - 1)),
            ..exact
        },
    ] {
        scenario.colonies[0].draw = draw;
        only(&scenario, &plan(), Rule::Draw, 1);
    }
    scenario.colonies[0].draw = exact;
    scenario.honey_cap = Some(Milligrams(honey.0 - 1));
    only(&scenario, &plan(), Rule::Draw, 1);
}

#[test]
fn bees_of_one_compartment() {
    // One bee moved from one compartment to the other: the site has enough, one has not.
    let mut plan = plan();
    plan.compartments[0].bees[0].bees = Bees(1599);
    plan.compartments[1].bees[0].bees = Bees(1601);
    only(&scenario(), &plan, Rule::Bees, 1);
}

#[test]
fn bees_fly_home_below_the_distance_only() {
    let mut scenario = scenario();
    scenario.drift.homing_metres = 5000;
    assert_eq!(check(&scenario, &plan()).1, vec![]);
    scenario.drift.homing_metres = 5001;
    // Both compartments, and their site.
    only(&scenario, &plan(), Rule::Bees, 3);
}

#[test]
fn bees_of_a_site_are_exact_where_each_compartment_may_round() {
    // 0.67 x 2388 = 1599.96: the loss is of whole bees, so 1600 stay in each compartment,
    // but not 3200 of 4776 on the site.
    let mut scenario = scenario();
    scenario.drift = Drift {
        homing_metres: 5001,
        flying: Milli(330),
    };
    let mut plan = plan();
    for compartment in &mut plan.compartments {
        compartment.bees[0].bees = Bees(2388);
    }
    only(&scenario, &plan, Rule::Bees, 1);
    // 4777 x 0.67 = 3200.59.
    plan.compartments[0].bees[0].bees = Bees(2389);
    assert_eq!(check(&scenario, &plan).1, vec![]);
    // 2387 x 0.67 = 1599.29 is still within a bee, 2386 x 0.67 = 1598.62 is not.
    plan.compartments[0].bees[0].bees = Bees(2391);
    plan.compartments[1].bees[0].bees = Bees(2387);
    assert_eq!(check(&scenario, &plan).1, vec![]);
    plan.compartments[1].bees[0].bees = Bees(2386);
    only(&scenario, &plan, Rule::Bees, 1);
}

#[test]
fn bees_are_counted_in_positive_numbers() {
    let mut plan = plan();
    plan.compartments[0].bees.push(PlacedBees {
        colony: ColonyId(0),
        bees: Bees(0),
    });
    plan.compartments[0].bees.push(PlacedBees {
        colony: ColonyId(0),
        bees: Bees(-5),
    });
    only(&scenario(), &plan, Rule::Bees, 2);
}

#[test]
fn boxes_exist_and_are_stocked_once() {
    let scenario = scenario();
    let one = |box_no, place| Plan {
        compartments: vec![compartment(box_no, place)],
        ..Plan::default()
    };
    only(&scenario, &one(2, 0), Rule::Boxes, 1);
    only(&scenario, &one(0, 2), Rule::Boxes, 1);
    let twice = Plan {
        compartments: vec![compartment(0, 0), compartment(0, 0)],
        ..Plan::default()
    };
    only(&scenario, &twice, Rule::Boxes, 1);
    let mut unknown = one(0, 0);
    unknown.compartments[0].kind = BoxId(9);
    only(&scenario, &unknown, Rule::Boxes, 1);
}

#[test]
fn boxes_marked_whole_are_stocked_whole() {
    let mut scenario = scenario();
    scenario.boxes[0].whole = true;
    assert_eq!(check(&scenario, &plan()).1, vec![]);
    only(
        &scenario,
        &Plan {
            compartments: vec![compartment(1, 1)],
            ..Plan::default()
        },
        Rule::Boxes,
        1,
    );
    let spread = Plan {
        compartments: vec![compartment(0, 0), compartment(1, 0)],
        ..Plan::default()
    };
    only(&scenario, &spread, Rule::Boxes, 2);
}

#[test]
fn cells_one_for_each_compartment() {
    let mut scenario = scenario();
    let batch = |count, boxes: &[usize]| CellBatch {
        count,
        boxes: boxes.iter().map(|&b| BoxId(b)).collect(),
    };
    for enough in [
        None,
        Some(vec![batch(2, &[])]),
        Some(vec![batch(1, &[0]), batch(1, &[])]),
        Some(vec![batch(2, &[77, 0])]),
    ] {
        scenario.cells = enough;
        assert_eq!(check(&scenario, &plan()).1, vec![]);
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
    scenario.cells = Some(vec![
        CellBatch {
            count: 1,
            boxes: vec![],
        },
        CellBatch {
            count: 1,
            boxes: vec![BoxId(0)],
        },
    ]);
    let mut plan = plan();
    plan.compartments[1].kind = BoxId(1);
    assert_eq!(check(&scenario, &plan).1, vec![]);
    plan.compartments[0].kind = BoxId(1);
    plan.compartments[0].place = 0;
    only(&scenario, &plan, Rule::Cells, 1);
}

#[test]
fn nothing_in_a_plan_or_scenario_makes_it_panic() {
    let far = usize::MAX;
    let plan = Plan {
        compartments: vec![
            Compartment {
                kind: BoxId(0),
                box_no: u32::MAX,
                place: u32::MAX,
                frames: vec![
                    PlacedFrames {
                        line: far,
                        origin: Origin::StoreRoom(far),
                        count: 0
                    },
                    PlacedFrames {
                        line: 0,
                        origin: Origin::Colony(ColonyId(far), far),
                        count: u32::MAX,
                    },
                    PlacedFrames {
                        line: 0,
                        origin: Origin::Colony(ColonyId(0), far),
                        count: u32::MAX,
                    },
                    PlacedFrames {
                        line: 0,
                        origin: Origin::Colony(ColonyId(0), 0),
                        count: u32::MAX,
                    },
                ],
                bees: vec![
                    PlacedBees {
                        colony: ColonyId(far),
                        bees: Bees(i64::MIN)
                    },
                    PlacedBees {
                        colony: ColonyId(0),
                        bees: Bees(i64::MAX)
                    },
                    PlacedBees {
                        colony: ColonyId(0),
                        bees: Bees(i64::MAX)
                    },
                ],
            };
            2
        ],
        ..Plan::default()
    };
    let mut scenario = scenario();
    let (_, breaches) = check(&scenario, &plan);
    for rule in [
        Rule::Supply,
        Rule::Recipe,
        Rule::Keep,
        Rule::Bees,
        Rule::Boxes,
    ] {
        assert!(breaches.iter().any(|b| b.rule == rule), "{rule:?}");
    }
    let extreme = |v: i64| FrameState {
        comb: CombId(0),
        brood: Milli(v),
        sealed: Milli(v),
        stores: Milli(v),
        drawn: Milli(v),
        bees: Milli(v),
    };
    for v in [i64::MIN, i64::MAX] {
        scenario.combs[0] = Comb {
            name: String::new(),
            bees: Bees(v),
            cells: v,
            stores: Grams(v),
        };
        for colony in &mut scenario.colonies {
            for group in &mut colony.frames {
                group.count = u32::MAX;
                group.frame = extreme(v);
            }
            colony.extra_bees = Bees(v);
            colony.site = SiteId(far);
            colony.crop = Some(Crop {
                honey: Grams(v),
                from: i32::MIN,
                to: i32::MAX,
            });
            colony.keep = Keep {
                brood: Milli(v),
                bees: Bees(v),
                stores: Grams(v),
                drawn: Milli(v),
            };
        }
        scenario.drift.flying = Milli(v);
        scenario.boxes[0].bees = Bees(v);
        scenario.boxes[0].worth = Worth(v);
        scenario.honey_cap = Some(Milligrams(v));
        scenario.colony_model.mortality = Milli(v);
        let _ = check(&scenario, &plan);
    }
    scenario.distances.clear();
    scenario.combs.clear();
    scenario.sites.clear();
    scenario.cells = Some(vec![CellBatch {
        count: u32::MAX,
        boxes: vec![BoxId(far)],
    }]);
    let _ = check(&scenario, &plan);
}
