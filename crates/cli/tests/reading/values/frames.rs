//! Quick counts, frames, combs, weights and distances.

use super::support::{colony, load};
use spareframe_solver::{
    Bees, BoxId, CellBatch, Colony, CombId, FrameGroup, FrameState, Grams, Hundreds, Milli,
    Percent, Span, Worth,
};

#[test]
fn quick_counts_and_frame_by_frame_mean_the_same() {
    let quick = colony(
        "    brood: 2.5 combs at 100 %\n    sealed: 60 %\n    stores: 1.25 frames\n    empty: 2\n    foundation: 1\n    bees: 4 frames",
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
            "    brood: {} combs at 100 %\n    stores: {} frames\n    empty: {empty}\n    foundation: {bare}{}",
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
    let quick = colony("    brood: 1.5 combs at 100 %\n    stores: 1 frame");
    let detail = colony(
        "    frames:\n      - {brood: 100 %}\n      - {brood: 50 %}\n      - {stores: 100 %}",
    );
    assert_eq!(quick, detail);
    // Half of 2100 bees, to the nearest hundred.
    assert_eq!(quick.frames[2].frame.bees, Hundreds(11));
    // 57 % sealed, of half a comb, rounded half up.
    assert_eq!(quick.frames[1].frame.sealed, Milli(285));
}

/// A glance counts combs with brood, not full ones: nobody finds frames of 100 % brood.
#[test]
fn combs_counted_at_a_glance_hold_what_they_are_said_to_or_what_is_usual() {
    let same = |quick: &str, frames: &str| {
        let detail = colony(&format!("    frames: [{frames}]"));
        assert_eq!(colony(quick), detail, "{quick}");
    };
    same("    brood: 6 combs", "{count: 6, brood: 65 %}");
    same("    brood: 6 combs at 70 %", "{count: 6, brood: 70 %}");
    same(
        "    brood: 2.5 combs at 60 %",
        "{count: 2, brood: 60 %}, {brood: 30 %}",
    );
    same("    stores: 3 combs", "{count: 3, stores: 80 %}");
    same(
        "    stores: 1.5 combs at 90 %",
        "{stores: 90 %}, {stores: 45 %}",
    );
    // So much brood, on combs as they are found; stores that are full are full.
    same(
        "    brood: 2.1 full frames",
        "{count: 3, brood: 65 %}, {brood: 15 %}",
    );
    same(
        "    stores: 2.5 full frames",
        "{count: 2, stores: 100 %}, {stores: 50 %}",
    );
    let floor = |keep: &str| colony(&format!("    brood: 6 combs\n    keep: {{brood: {keep}}}"));
    assert_eq!(floor("5 combs").keep.brood, Milli(3250));
    assert_eq!(floor("5 combs at 60 %").keep.brood, Milli(3000));
    assert_eq!(floor("2 frames").keep.brood, Milli(2000));
}

#[test]
fn bees_that_no_frame_has_room_for_are_extra_and_extra_bees_come_on_top() {
    let quick = colony("    brood: 1 combs at 100 %\n    bees: 5000\n    extra bees: 80 bees");
    assert_eq!(quick.frames[0].frame.bees, Hundreds(21));
    assert_eq!(quick.extra_bees, Hundreds(50 - 21 + 1));
}

#[test]
fn the_last_frame_that_bees_reach_gets_what_is_left_of_them() {
    let quick = colony("    brood: 3 combs at 100 %\n    stores: 1 frame\n    bees: 5000");
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
        let c = colony(&format!(
            "    brood: 1 combs at 100 %\n    keep: {{stores: {text}}}"
        ));
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
             colonies: {{c: {{site: a, brood: 3 combs at 100 %}}}}\nrecipes: {{r: {{lines: [{{brood: 10 %}}]}}}}\n\
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
         distances: [{from: b, to: a, is: 7 km}]\ncolonies: {x: {site: a, brood: 3 combs at 100 %}, y: {site: c, brood: 1 combs at 100 %}}\n\
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
fn own_combs_follow_from_their_area_or_from_figures() {
    let sc = load(
        "spareframe: 2\nsites: {a: }\ncombs: {half: {area: 4 dm2}, odd: {bees: 940, cells: 3000, stores: 1 lb}, Zander: {area: 8.1 dm2, bees: 2000}, tiny: {area: 0.1}}\n\
         colonies: {c: {comb: half, brood: 1 combs at 100 %}, d: {comb: odd, brood: 1 combs at 100 %}}\n\
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
fn frames_without_a_size_have_that_of_all_colonies() {
    let of = |combs: [&str; 2]| {
        let sc = load(&format!(
            "spareframe: 2\nsites: {{a: }}\ncolonies:\n  b: {{comb: {}, brood: 4 combs}}\n  \
             c: {{comb: {}, brood: 4 combs}}\nstore room: [{{count: 4, drawn: 0}}]\n\
             recipes: {{r: {{lines: [{{brood: 20 %}}]}}}}\nboxes: {{x: {{count: 1, recipe: r}}}}",
            combs[0], combs[1]
        ));
        let name = |comb: CombId| sc.combs[comb.0].name.clone();
        [
            name(sc.store_room[0].frame.comb),
            name(sc.boxes[0].lines[0].ask.comb),
        ]
    };
    assert_eq!(of(["Zander", "Zander"]), ["Zander"; 2]);
    let deep = "Langstroth deep";
    assert_eq!(of(["Zander", "Dadant-Blatt"]), [deep; 2]);
    assert_eq!(of([deep, deep]), [deep; 2]);
}
