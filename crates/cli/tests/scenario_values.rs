//! Exact values: what the reader makes of a text, figure by figure.

use spareframe::scenario::read;
use spareframe_solver::{
    Ask, Bees, CellBatch, Colony, Crop, Draw, FrameGroup, FrameState, Grams, Keep, Milli,
    Milligrams, Scenario, Worth,
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

/// A scenario with these lines for its only colony (8 dm2 a side: 2080 bees, 6400 cells, 2 kg).
fn colony_in(more: &str, lines: &str) -> Colony {
    let text = format!(
        "spareframe: 1\nday: 2031-05-20\nsites: {{a: }}\n{more}\ncolonies:\n  c:\n    comb: Zander\n{lines}\n\
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
    // 8320 bees: four frames are covered, the rest is bare.
    let detail = colony(
        "    frames:\n      - {count: 2, brood: 100 %, sealed: 60 %, bees: 100 %}\n      - {brood: 50 %, sealed: 60 %, bees: 100 %}\n      - {stores: 100 %, bees: 100 %}\n      - {stores: 25 %, bees: 0}\n      - {count: 2, bees: 0}\n      - {drawn: 0}",
    );
    assert_eq!(quick, detail);
}

#[test]
fn shares_round_to_thousandths_half_away_from_zero() {
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
    assert_eq!(quick.frames[2].frame.bees, Milli(500));
    // 57 % sealed, of half a comb, rounded half up.
    assert_eq!(quick.frames[1].frame.sealed, Milli(285));
}

#[test]
fn bees_that_no_frame_has_room_for_are_extra() {
    let quick = colony("    brood: 1 frame\n    bees: 5000\n    extra bees: 80");
    assert_eq!(quick.frames[0].frame.bees, Milli(1000));
    assert_eq!(quick.extra_bees, Bees(5000 - 2080 + 80));
}

#[test]
fn a_frame_is_held_in_thousandths_of_its_comb() {
    let c = colony(
        "    frames:\n      - {count: 3, brood: 33.3 %, sealed: 0.5, stores: 12.34 %, drawn: 95 %, bees: 80 %, queen: yes}",
    );
    let frame = FrameState {
        comb: c.frames[0].frame.comb,
        brood: Milli(333),
        sealed: Milli(167),
        stores: Milli(123),
        drawn: Milli(950),
        bees: Milli(800),
    };
    let group = FrameGroup {
        count: 3,
        frame,
        queen: true,
    };
    assert_eq!(c.frames, [group]);
}

/// 1 lb = 0.45359237 kg and 1 mi = 1609.344 m, exactly: international yard and pound agreement of
/// 1959. Figures are rounded once, half away from zero.
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
            "spareframe: 1\nsites: {{a: , b: }}\ndistances: [{{from: a, to: b, is: {text}}}]\n\
             settings: {{homing distance: {text}, flying share: 30 %, forager mortality: 12.5 %, honey cap: 1.5 kg}}\n\
             colonies: {{c: {{site: a, brood: 3 frames}}}}\nrecipes: {{r: {{lines: [{{brood: 10 %}}]}}}}\n\
             boxes: {{b: {{count: 1, recipe: r, site: b}}}}"
        ));
        assert_eq!(sc.distances, [[0, metres], [metres, 0]], "{text}");
        assert_eq!(sc.drift.homing_metres, metres);
        assert_eq!(sc.drift.flying, Milli(300));
        assert_eq!(sc.colony_model.mortality, Milli(125));
        assert_eq!(sc.honey_cap, Some(Milligrams(1_500_000)));
    }
}

#[test]
fn a_stated_distance_stands_over_coordinates() {
    let sc = load(
        "spareframe: 1\nsites: {a: {at: [50, 8]}, b: {at: [51, 8]}, c: {at: [50, 8]}}\n\
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
        bees: Bees(bees),
        stores: Grams(stores),
        drawn: Milli(drawn),
    };
    assert_eq!(production.role, "production");
    assert_eq!(production.keep, keep(6000, 20_000, 10_000, 0));
    let usual = Draw {
        frames: Some(2),
        honey: Some(Milligrams(3_000_000)),
        ..none
    };
    assert_eq!(production.draw, usual);

    let one = colony(
        "    brood: 9 frames\n    keep: {bees: 5 frames}\n    draw: {brood: 1.5 frames, honey: 500 g}",
    );
    assert_eq!(one.keep, keep(6000, 10_400, 10_000, 0));
    let restated = Draw {
        brood: Some(Milli(1500)),
        honey: Some(Milligrams(500_000)),
        ..usual
    };
    assert_eq!(one.draw, restated);

    let lifted = colony("    brood: 9 frames\n    draw: {frames: none, honey: none}");
    assert_eq!(lifted.draw, none);
    assert_eq!(lifted.keep, production.keep, "floors stay");

    let all = colony("    brood: 9 frames\n    draw: all");
    assert_eq!((all.keep, all.draw), (Keep::default(), none));

    let nucleus = colony("    brood: 3 frames\n    role: nucleus\n    keep: {drawn: 2 frames}");
    assert_eq!(nucleus.keep, keep(1000, 2500, 1000, 2000));
    assert_eq!(nucleus.draw, none);
}

#[test]
fn a_share_of_the_bees_is_of_the_colony_and_may_be_lifted() {
    let role = "roles: {giver: {keep: {bees: 1 frame}, draw: {bees: 30 %, frames: 3}}}";
    let lines = "    role: giver\n    frames: [{count: 2, brood: 50 %}, {stores: 10 %}]\n    extra bees: 101";
    let giver = colony_in(role, lines);
    // 2 x 2080 + 1040 + 101 = 5301 bees, 30 % of them rounded half up.
    assert_eq!(giver.draw.bees, Some(Bees(1590)));
    // A role knows no comb; frames covered are of the first standard size, 2288 bees.
    assert_eq!(giver.keep.bees, Bees(2288));
    let lifted = colony_in(role, &format!("{lines}\n    draw: {{bees: none}}"));
    assert_eq!((lifted.draw.bees, lifted.draw.frames), (None, Some(3)));
    let number = colony_in(role, &format!("{lines}\n    draw: {{bees: 700}}"));
    assert_eq!(number.draw.bees, Some(Bees(700)));
}

#[test]
fn own_combs_follow_from_their_area_or_from_figures() {
    let sc = load(
        "spareframe: 1\nsites: {a: }\ncombs: {half: {area: 4 dm2}, odd: {bees: 900, cells: 3000, stores: 1 lb}, Zander: {area: 8.1 dm2, bees: 2000}}\n\
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
    assert_eq!(figures("half"), (1040, 3200, 1000));
    assert_eq!(figures("odd"), (900, 3000, 454));
    assert_eq!(figures("Zander"), (2000, 6480, 2025));
    assert_eq!(figures("Langstroth deep"), (2288, 7040, 2200));
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
    assert!(matches!(
        b.lines[0].ask,
        Ask::AtLeast {
            brood: Milli(100),
            ..
        }
    ));
    let batch = |count, boxes| CellBatch { count, boxes };
    let id = spareframe_solver::BoxId(0);
    assert_eq!(sc.cells, Some(vec![batch(4, vec![id]), batch(2, vec![])]));
}

#[test]
fn a_hold_keeps_its_reason_and_no_is_no_hold() {
    let hold = |text: &str| colony(&format!("    brood: 1 frame\n    hold: {text}")).hold;
    assert_eq!(hold("treatment"), Some("treatment".into()));
    assert_eq!(hold("no"), None);
    assert_eq!(hold("yes"), Some("no reason given".into()));
}
