//! Exact values: what the reader makes of a text, figure by figure.

use spareframe::scenario::read;
use spareframe_solver::{
    Ask, Bees, BoxId, CellBatch, Colony, CombId, Crop, Draw, FrameGroup, FrameState, Grams,
    Hundreds, Keep, Milli, Percent, Prices, Scenario, Span, Worth,
};

fn load(text: &str) -> Scenario {
    let result = read("t.yaml", text.as_bytes());
    let shown: String = result
        .findings
        .iter()
        .map(|f| f.render(text, false))
        .collect();
    result.loaded.unwrap_or_else(|| panic!("{shown}")).scenario
}

/// A scenario with these lines for its only colony (8 dm2 a side: 2100 bees, 6400 cells, 2 kg).
fn colony_in(more: &str, lines: &str) -> Colony {
    let text = format!(
        "spareframe: 2\nday: 2031-05-20\nsites: {{a: }}\n{more}\ncolonies:\n  c:\n    comb: Zander\n{lines}\n\
         recipes: {{r: {{lines: [{{drawn: 10 %, comb: Zander}}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}}}\n"
    );
    load(&text).colonies.remove(0)
}

fn colony(lines: &str) -> Colony {
    colony_in("", lines)
}

#[test]
fn quick_counts_and_frame_by_frame_mean_the_same() {
    let quick = colony(
        "    brood: 2.5 frames\n    sealed: 60 %\n    stores: 1.25 frames\n    empty: 2\n    foundation: 1\n    bees: 4 frames",
    );
    // 8400 bees: four frames are covered, the rest is bare.
    let detail = colony(
        "    frames:\n      - {count: 2, brood: 100 %, sealed: 60 %, bees: 100 %}\n      - {brood: 50 %, sealed: 60 %, bees: 100 %}\n      - {stores: 100 %, bees: 100 %}\n      - {stores: 25 %, bees: 0}\n      - {count: 2, bees: 0}\n      - {drawn: 0}",
    );
    assert_eq!(quick, detail);
}

#[test]
fn shares_round_to_thousandths_halves_up() {
    for (text, thousandths) in [
        ("60 %", 600),
        ("0.6", 600),
        ("0.05 %", 1),
        ("0.04 %", 0),
        ("14.45 %", 145),
        ("33.34%", 333),
        ("100 %", 1000),
    ] {
        let c = colony(&format!("    frames: [{{brood: {text}}}]"));
        assert_eq!(c.frames[0].frame.brood, Milli(thousandths), "{text}");
    }
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig {
        cases: 100,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(20_310_520),
        ..Default::default()
    })]

    /// Quick counts written out frame by frame, with so many frames covered from the first on.
    #[test]
    fn quick_counts_are_frames_written_out(
        brood in 0..4000_u32, stores in 0..4000_u32, empty in 0..3_u32, bare in 0..3_u32,
        covered in proptest::option::of(0..12_u32),
    ) {
        let mut frames = Vec::new();
        let mut left = covered;
        let mut bees = |usual: &str| match &mut left {
            None => usual.to_owned(),
            Some(0) => "0 %".to_owned(),
            Some(n) => { *n -= 1; "100 %".to_owned() }
        };
        for (key, total, usual) in [("brood", brood, "100 %"), ("stores", stores, "50 %")] {
            for i in 0..total.div_ceil(1000) {
                let share = (total - i * 1000).min(1000);
                frames.push(format!("{{{key}: {}, bees: {}}}", f64::from(share) / 1000.0, bees(usual)));
            }
        }
        for _ in 0..empty {
            frames.push(format!("{{bees: {}}}", bees("0 %")));
        }
        for _ in 0..bare {
            frames.push("{drawn: 0}".to_owned());
        }
        proptest::prop_assume!(!frames.is_empty());
        let extra = left.unwrap_or(0);
        let quick = colony(&format!(
            "    brood: {} frames\n    stores: {} frames\n    empty: {empty}\n    foundation: {bare}{}",
            f64::from(brood) / 1000.0,
            f64::from(stores) / 1000.0,
            covered.map(|n| format!("\n    bees: {n} frames")).unwrap_or_default(),
        ));
        let detail = colony(&format!(
            "    frames: [{}]\n    extra bees: {extra} frames", frames.join(", ")
        ));
        let singly = |c: &Colony| -> Vec<FrameState> {
            let each = |g: &FrameGroup| vec![g.frame; g.count as usize];
            c.frames.iter().flat_map(each).collect()
        };
        proptest::prop_assert_eq!(singly(&quick), singly(&detail));
        proptest::prop_assert_eq!(quick.extra_bees, detail.extra_bees);
    }
}

#[test]
fn quick_counts_without_bees_cover_brood_and_half_the_stores() {
    let quick = colony("    brood: 1.5 frames\n    stores: 1 frame");
    let detail = colony(
        "    frames:\n      - {brood: 100 %}\n      - {brood: 50 %}\n      - {stores: 100 %}",
    );
    assert_eq!(quick, detail);
    // Half of 2100 bees, to the nearest hundred.
    assert_eq!(quick.frames[2].frame.bees, Hundreds(11));
    // 57 % sealed, of half a comb, rounded half up.
    assert_eq!(quick.frames[1].frame.sealed, Milli(285));
}

#[test]
fn bees_that_no_frame_has_room_for_are_extra_and_extra_bees_come_on_top() {
    let quick = colony("    brood: 1 frame\n    bees: 5000\n    extra bees: 80");
    assert_eq!(quick.frames[0].frame.bees, Hundreds(21));
    assert_eq!(quick.extra_bees, Hundreds(50 - 21 + 1));
}

#[test]
fn the_last_frame_that_bees_reach_gets_what_is_left_of_them() {
    let quick = colony("    brood: 3 frames\n    stores: 1 frame\n    bees: 5000");
    let groups: Vec<_> = quick
        .frames
        .iter()
        .map(|g| (g.count, g.frame.bees))
        .collect();
    let wanted = [(2, Hundreds(21)), (1, Hundreds(8)), (1, Hundreds(0))];
    assert_eq!(groups, wanted);
    assert_eq!(quick.extra_bees, Hundreds(0));
}

#[test]
fn a_frame_is_held_in_thousandths_of_its_comb_and_its_bees_in_hundreds() {
    let c = colony(
        "    frames:\n      - {count: 3, brood: 33.3 %, sealed: 0.5, stores: 12.34 %, drawn: 95 %, bees: 80 %, queen: yes}",
    );
    let frame = FrameState {
        comb: c.frames[0].frame.comb,
        brood: Milli(333),
        sealed: Milli(167),
        stores: Milli(123),
        drawn: Milli(950),
        // 80 % of 21 hundreds, to the nearest.
        bees: Hundreds(17),
    };
    let group = FrameGroup {
        count: 3,
        frame,
        queen: true,
    };
    assert_eq!(c.frames, [group]);
}

/// 1 lb = 0.45359237 kg and 1 mi = 1609.344 m, exactly: international yard and pound agreement of
/// 1959. Figures are rounded once, halves up.
#[test]
fn weights_and_distances_are_exact_in_every_unit() {
    for (text, grams) in [
        ("400 g", 400),
        ("0.49 g", 0),
        ("0.5 g", 1),
        ("1.4995 kg", 1500),
        ("16 oz", 454),
        ("1000 lb", 453_592),
        ("6 kg", 6000),
        ("2.5kg", 2500),
        ("1 lb", 454),
        ("12 lb", 5443),
        ("100 lb", 45_359),
        ("1 oz", 28),
        ("100 oz", 2835),
    ] {
        let c = colony(&format!("    brood: 1 frame\n    keep: {{stores: {text}}}"));
        assert_eq!(c.keep.stores, Grams(grams), "{text}");
    }
    for (text, metres) in [
        ("900 m", 900),
        ("3.4 km", 3400),
        ("2 mi", 3219),
        ("0.5 mi", 805),
        ("10 mi", 16_093),
    ] {
        let sc = load(&format!(
            "spareframe: 2\nsites: {{a: , b: }}\ndistances: [{{from: a, to: b, is: {text}}}]\n\
             settings: {{homing distance: {text}, flying share: 30.5 %, forager mortality: 12.5 %, honey cap: 1.5 kg}}\n\
             colonies: {{c: {{site: a, brood: 3 frames}}}}\nrecipes: {{r: {{lines: [{{brood: 10 %}}]}}}}\n\
             boxes: {{b: {{count: 1, recipe: r, site: b}}}}"
        ));
        assert_eq!(sc.distances, [[0, metres], [metres, 0]], "{text}");
        assert_eq!(sc.drift.homing_metres, metres);
        assert_eq!(sc.drift.flying, Percent(31));
        assert_eq!(sc.colony_model.mortality, Milli(125));
        assert_eq!(sc.honey_cap, Some(Grams(1500)));
    }
}

#[test]
fn a_stated_distance_stands_over_coordinates() {
    let sc = load(
        "spareframe: 2\nsites: {a: {at: [50, 8]}, b: {at: [51, 8]}, c: {at: [50, 8]}}\n\
         distances: [{from: b, to: a, is: 7 km}]\ncolonies: {x: {site: a, brood: 3 frames}, y: {site: c, brood: 1 frame}}\n\
         recipes: {r: {lines: [{brood: 10 %}]}}\nboxes: {b: {count: 1, recipe: r, site: b}}",
    );
    // One degree of a meridian at the mean earth radius 6371.0088 km.
    let degree = (6_371_008.8_f64 * 1_f64.to_radians()).round() as u64;
    assert_eq!(
        sc.distances,
        [[0, 7000, 0], [7000, 0, degree], [0, degree, 0]]
    );
}

#[test]
fn crop_days_count_from_the_stocking_day() {
    let crop = |flow: &str| {
        let lines = format!("    brood: 3 frames\n    crop: 22 kg\n    flow: {flow}");
        colony(&lines).crop.unwrap()
    };
    let of = |from, to| Crop {
        honey: Grams(22_000),
        from,
        to,
    };
    assert_eq!(crop("[2031-05-20, 2031-05-20]"), of(0, 0));
    assert_eq!(crop("[2031-05-10, 2031-06-01]"), of(-10, 12));
    assert_eq!(crop("[2031-06-08, 2031-07-02]"), of(19, 43));
    // Over a leap day.
    assert_eq!(crop("[2032-02-28, 2032-03-01]"), of(284, 286));
}

#[test]
fn a_colony_restates_single_limits_of_its_role() {
    let none = Draw::default();
    let production = colony("    brood: 9 frames");
    let keep = |brood, bees, stores, drawn| Keep {
        brood: Milli(brood),
        bees: Hundreds(bees),
        stores: Grams(stores),
        drawn: Milli(drawn),
        covered: Percent(100),
    };
    assert_eq!(production.role, "production");
    assert_eq!(production.keep, keep(6000, 200, 10_000, 0));
    let usual = Draw {
        frames: Some(2),
        honey: Some(Grams(3000)),
        ..none
    };
    assert_eq!(production.draw, usual);

    let one = colony(
        "    brood: 9 frames\n    keep: {bees: 5 frames}\n    draw: {brood: 1.5 frames, honey: 500 g}",
    );
    assert_eq!(one.keep, keep(6000, 105, 10_000, 0));
    let restated = Draw {
        brood: Some(Milli(1500)),
        honey: Some(Grams(500)),
        ..usual
    };
    assert_eq!(one.draw, restated);

    let lifted = colony("    brood: 9 frames\n    draw: {frames: none, honey: none}");
    assert_eq!(lifted.draw, none);
    assert_eq!(lifted.keep, production.keep, "floors stay");

    let all = colony("    brood: 9 frames\n    draw: all");
    assert_eq!((all.keep, all.draw), (Keep::default(), none));

    let nucleus = colony(
        "    brood: 3 frames\n    role: nucleus\n    keep: {drawn: 2 frames, covered: 150.4 %}",
    );
    let covered = Percent(150);
    let wanted = Keep {
        covered,
        ..keep(1000, 25, 1000, 2000)
    };
    assert_eq!(nucleus.keep, wanted);
    assert_eq!(nucleus.draw, none);
}

#[test]
fn floors_of_bees_go_up_to_the_next_hundred_and_caps_down() {
    let limits = |bees: &str| {
        let lines =
            format!("    brood: 9 frames\n    keep: {{bees: {bees}}}\n    draw: {{bees: {bees}}}");
        let c = colony(&lines);
        (c.keep.bees.0, c.draw.bees.unwrap().0)
    };
    assert_eq!(limits("2000"), (20, 20));
    assert_eq!(limits("2001"), (21, 20));
    assert_eq!(limits("1_999"), (20, 19));
    assert_eq!(limits("40"), (1, 0));
    // Frames are rounded alike in both, so that a cap of two frames is what two frames hold.
    assert_eq!(limits("2 frames"), (42, 42));
    assert_eq!(limits("1.5 frames"), (32, 32));
}

#[test]
fn a_share_of_the_bees_is_of_the_colony_and_may_be_lifted() {
    let role = "roles: {giver: {keep: {bees: 1 frame}, draw: {bees: 30 %, frames: 3}}}";
    let lines = "    role: giver\n    frames: [{count: 2, brood: 50 %}, {stores: 10 %}]\n    extra bees: 101";
    let giver = colony_in(role, lines);
    // 2 x 21 + 11 + 1 = 54 hundreds, 30 % of them to the nearest.
    assert_eq!(giver.draw.bees, Some(Hundreds(16)));
    let lifted = colony_in(role, &format!("{lines}\n    draw: {{bees: none}}"));
    assert_eq!((lifted.draw.bees, lifted.draw.frames), (None, Some(3)));
    let number = colony_in(role, &format!("{lines}\n    draw: {{bees: 700}}"));
    assert_eq!(number.draw.bees, Some(Hundreds(7)));
}

/// Frames in a role were once counted in the first standard size, whatever the colony's own comb.
#[test]
fn frames_in_a_role_are_frames_of_the_colonys_own_comb() {
    let sc = load(
        "spareframe: 2\nsites: {a: }\nroles: {giver: {keep: {bees: 4 frames}, draw: {bees: 2.5 frames}}}\n\
         colonies: {big: {role: giver, comb: Dadant-Blatt, brood: 9}, small: {role: giver, comb: mini, brood: 9}}\n\
         recipes: {r: {bees: 2000, lines: [{brood: 10 %}, {brood: 10 %, comb: Dadant-Blatt}]}}\n\
         boxes: {b: {count: 1, recipe: r}}",
    );
    let limits = |at: usize| {
        let colony = &sc.colonies[at];
        (colony.keep.bees.0, colony.draw.bees.unwrap().0)
    };
    // 11.3 dm2 a side make 29 hundreds, 2 dm2 make 5: 72.5 and 12.5 go up.
    assert_eq!(limits(0), (116, 73));
    assert_eq!(limits(1), (20, 13));
}

#[test]
fn what_rides_is_what_the_colony_says_else_its_role_else_the_settings() {
    let rides = |more: &str, lines: &str| colony_in(more, lines).rides;
    let role = "roles: {r: {keep: {brood: 1}, rides: 30 %}}";
    let both = "settings: {rides: 80 %}\nroles: {r: {keep: {brood: 1}, rides: 30 %}, s: {keep: {brood: 1}}}";
    let brood = "    brood: 9 frames";
    assert_eq!(rides("", brood), Percent(50));
    assert_eq!(rides("settings: {rides: 80.5 %}", brood), Percent(81));
    assert_eq!(rides(role, &format!("{brood}\n    role: r")), Percent(30));
    let s = both.replace("r: {keep", "unused: {keep");
    assert_eq!(rides(&s, &format!("{brood}\n    role: s")), Percent(80));
    let own = format!("{brood}\n    role: r\n    rides: 0");
    assert_eq!(rides(both, &own), Percent(0));
    // It is no limit, so it outlives them.
    let apart = format!("{brood}\n    role: r\n    draw: all");
    assert_eq!(rides(role, &apart), Percent(30));
}

#[test]
fn a_colony_is_taken_apart_as_its_own_draw_says_else_its_roles() {
    let role = "roles: {r: {draw: all, keep: {brood: 3}}}";
    let of = |lines: &str| {
        let c = colony_in(role, &format!("    brood: 9 frames\n    role: r{lines}"));
        (c.apart, c.keep.brood.0, c.draw.frames)
    };
    assert_eq!(
        of(""),
        (true, 0, None),
        "the role's own floors are set aside"
    );
    assert_eq!(of("\n    keep: {brood: 2}"), (true, 2000, None));
    assert_eq!(of("\n    draw: {frames: 4}"), (false, 0, Some(4)));
    let own = colony("    brood: 9 frames\n    draw: all\n    keep: {brood: 1}");
    assert_eq!((own.apart, own.keep.brood), (true, Milli(1000)));
    assert!(!colony("    brood: 9 frames").apart);
}

#[test]
fn a_built_in_role_restated_stands_for_itself_alone() {
    let role = "roles: {production: {keep: {stores: 5 kg}}}";
    let c = colony_in(role, "    brood: 9 frames");
    let stores = Grams(5000);
    let wanted = Keep {
        stores,
        ..Keep::default()
    };
    assert_eq!((c.keep, c.draw), (wanted, Draw::default()));
}

#[test]
fn prices_are_what_the_settings_say_key_by_key() {
    let prices = |settings: &str| {
        load(&format!(
            "spareframe: 2\n{settings}sites: {{a: }}\ncolonies: {{c: {{brood: 9}}}}\n\
             recipes: {{r: {{bees: 2000, lines: [{{brood: 10 %}}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}}}"
        ))
        .prices
    };
    assert_eq!(prices(""), Prices::default());
    let some = prices("settings: {prices: {burden: 0.5 g, hive opened: 1 oz}}\n");
    let wanted = Prices {
        burden: Grams(1),
        opened: Grams(28),
        ..Prices::default()
    };
    assert_eq!(some, wanted);
    let others = prices("settings: {prices: {substitute: 0 g, frame drawn otherwise: 1 kg}}\n");
    let wanted = Prices {
        substitute: Grams(0),
        otherwise: Grams(1000),
        ..Prices::default()
    };
    assert_eq!(others, wanted);
}

#[test]
fn a_line_has_one_end_or_two_and_may_refuse_brood() {
    let ask = |line: &str| {
        let text = format!(
            "spareframe: 2\nsites: {{a: }}\ncolonies: {{c: {{brood: 9}}}}\n\
             recipes: {{r: {{bees: 2000, lines: [{{brood: 10 %}}, {line}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}}}"
        );
        load(&text).boxes[0].lines[1].clone()
    };
    let any = Ask::any(CombId(0));
    let brood = |brood| Ask { brood, ..any };
    assert_eq!(ask("{brood: 50 %}").ask, brood(Span::from(500)));
    assert_eq!(ask("{brood: 20 % to 60 %}").ask, brood(Span::of(200, 600)));
    assert_eq!(ask("{brood: 20 to 60 %}").ask, brood(Span::of(200, 600)));
    assert_eq!(ask("{brood: 0.2 to 0.6}").ask, brood(Span::of(200, 600)));
    let comb = Ask {
        brood: Span::NONE,
        drawn: Span::from(800),
        stores: Span::of(0, 300),
        ..any
    };
    let line = ask("{drawn: 80 %, stores: 0 to 30 %, no brood: yes, or: [{foundation: yes}]}");
    assert_eq!(line.ask, comb);
    assert_eq!(line.substitutes[0].ask, Ask::foundation(CombId(0)));
    assert_eq!(ask("{drawn: 80 %, no brood: no}").ask.brood, Span::ANY);
}

#[test]
fn no_cells_and_nothing_done_are_said_with_an_empty_list() {
    let with = |more: &str| {
        load(&format!(
            "spareframe: 2\nsites: {{a: }}\ncolonies: {{c: {{brood: 9}}}}\n{more}\n\
             recipes: {{r: {{bees: 2000, lines: [{{brood: 10 %}}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}, d: {{count: 1, recipe: r}}}}"
        ))
    };
    assert_eq!(with("").cells, None);
    assert_eq!(with("cells: []").cells, Some(vec![]));
    assert_eq!(with("cells: {}").cells, Some(vec![]));
    assert_eq!(with("done: []").done, []);
    // A box that is not named has none.
    let batch = CellBatch {
        count: 3,
        boxes: vec![BoxId(1)],
    };
    assert_eq!(with("cells: {d: 3}").cells, Some(vec![batch]));
}

#[test]
fn own_combs_follow_from_their_area_or_from_figures() {
    let sc = load(
        "spareframe: 2\nsites: {a: }\ncombs: {half: {area: 4 dm2}, odd: {bees: 940, cells: 3000, stores: 1 lb}, Zander: {area: 8.1 dm2, bees: 2000}, tiny: {area: 0.1}}\n\
         colonies: {c: {comb: half, brood: 1 frame}, d: {comb: odd, brood: 1 frame}}\n\
         recipes: {r: {bees: 2 frames, lines: [{comb: odd, brood: 10 %}]}}\n\
         boxes: {b: {count: 2, compartments: 3, recipe: r, worth: 1.5, whole: yes}}\n\
         cells: [{count: 4, for: [b]}, {count: 2}]",
    );
    let comb = |name: &str| sc.combs.iter().find(|c| c.name == name).unwrap();
    let figures = |name| {
        let c = comb(name);
        (c.bees.0, c.cells, c.stores.0)
    };
    // Bees in hundreds, to the nearest, at least one.
    assert_eq!(figures("half"), (10, 3200, 1000));
    assert_eq!(figures("odd"), (9, 3000, 454));
    assert_eq!(figures("Zander"), (20, 6480, 2025));
    assert_eq!(figures("tiny"), (1, 80, 25));
    assert_eq!(figures("Langstroth deep"), (23, 7040, 2200));
    let b = &sc.boxes[0];
    assert_eq!(
        (b.count, b.compartments, b.worth, b.whole),
        (2, 3, Worth(1500), true)
    );
    assert_eq!(
        b.bees,
        Bees(1800),
        "frames covered of the first line's comb"
    );
    assert_eq!(b.lines[0].ask.brood, Span::from(100));
    let batch = |count, boxes| CellBatch { count, boxes };
    let id = BoxId(0);
    assert_eq!(sc.cells, Some(vec![batch(4, vec![id]), batch(2, vec![])]));
}

#[test]
fn a_hold_keeps_its_reason_and_no_is_no_hold() {
    let hold = |text: &str| colony(&format!("    brood: 1 frame\n    hold: {text}")).hold;
    assert_eq!(hold("treatment"), Some("treatment".into()));
    assert_eq!(hold("no"), None);
    assert_eq!(hold("yes"), Some("no reason given".into()));
}
