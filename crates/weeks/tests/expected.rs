//! The yard of a later day against the colony model alone, and against rules that any yard keeps.

use approx::assert_relative_eq;
use proptest::prelude::*;
use spareframe_colony::{Colony as Model, Setting};
use spareframe_solver::honey::Season;
use spareframe_solver::{
    Colony, Crop, FrameGroup, FrameState, Grams, Hundreds, Milli, Scenario, share_of,
};
use spareframe_weeks::{Counts, expected};

fn yard() -> Scenario {
    include!("../../solver/doctests/yard.rs")
}

/// Bees, brood cells, sealed cells and grams of stores that hang in a colony.
fn held(yard: &Scenario, colony: &Colony) -> [f64; 4] {
    let mut sums = [colony.extra_bees.bees().0, 0, 0, 0];
    for group in &colony.frames {
        let comb = &yard.combs[group.frame.comb.0];
        let count = i64::from(group.count);
        sums[0] += count * group.frame.bees.bees().0;
        sums[1] += count * share_of(group.frame.brood, comb.cells);
        sums[2] += count * share_of(group.frame.sealed, comb.cells);
        sums[3] += count * share_of(group.frame.stores, comb.stores.0);
    }
    sums.map(|sum| sum as f64)
}

fn frames(colony: &Colony) -> u32 {
    colony.frames.iter().map(|group| group.count).sum()
}

/// The same colony in the model alone.
fn model(yard: &Scenario, colony: &Colony, setting: &Setting, days: u32) -> Model {
    let [bees, brood, sealed, _] = held(yard, colony);
    let mut model = Model::counted(bees, brood - sealed, sealed, setting);
    let room = |group: &FrameGroup| {
        let cells = yard.combs[group.frame.comb.0].cells;
        i64::from(group.count) * share_of(Milli(group.frame.drawn.0 - group.frame.stores.0), cells)
    };
    model.cells = colony.frames.iter().map(room).sum::<i64>() as f64;
    model.run(setting, days);
    model
}

#[test]
fn what_hangs_in_it_is_what_the_model_holds() {
    let yard = yard();
    let setting = yard.colony_model.setting();
    for days in [1, 7, 21, 60] {
        let later = expected(&yard, &Counts::default(), None, days).unwrap();
        assert_eq!(later.validate(), Ok(()));
        for (before, after) in yard.colonies.iter().zip(&later.colonies) {
            let due = model(&yard, before, &setting, days);
            let [bees, brood, sealed, _] = held(&later, after);
            // A thousandth of each comb is rounded down, and a hundred bees.
            let combs = f64::from(frames(after)) * 8.0;
            assert!(
                (due.bees() - bees).abs() <= 100.0,
                "{days}: {} {bees}",
                due.bees()
            );
            assert!(
                (due.brood() - brood).abs() <= combs,
                "{days}: {} {brood}",
                due.brood()
            );
            assert!((due.sealed() - sealed).abs() <= 2.0 * combs);
        }
    }
}

#[test]
fn a_flow_comes_nearer_and_its_crop_less() {
    let mut yard = yard();
    yard.colonies[0].crop = Some(Crop {
        honey: Grams(20_000),
        from: 5,
        to: 24,
    });
    let crop = |days| {
        expected(&yard, &Counts::default(), None, days)
            .unwrap()
            .colonies[0]
            .crop
            .unwrap()
    };
    assert_eq!(
        crop(5),
        Crop {
            honey: Grams(20_000),
            from: 0,
            to: 19
        }
    );
    let half = crop(15);
    assert_eq!((half.from, half.to), (-10, 9));
    assert!((8_000..12_000).contains(&half.honey.0), "{half:?}");
    assert_eq!(crop(30).honey, Grams(1));
}

#[test]
fn in_a_dearth_bees_live_from_their_stores() {
    let yard = yard();
    let stores = |dearth, days| {
        held(
            &yard,
            &expected(&yard, &Counts::default(), dearth, days)
                .unwrap()
                .colonies[0],
        )[3]
    };
    let [bees, brood, sealed, before] = held(&yard, &yard.colonies[0]);
    assert_eq!(stores(None, 60), before);
    assert_eq!(stores(Some((10, 30)), 9), before);
    // 7 mg a bee and 18 mg an open cell a day. Khoury, Barron and Myerscough 2013 (second hand).
    let eaten = 0.007 * bees + 0.018 * (brood - sealed);
    let left = stores(Some((0, 0)), 30);
    assert_relative_eq!(before - left, eaten.min(before), epsilon = 30.0);
    assert!(stores(Some((0, 5)), 6) < left);
    assert_eq!(stores(Some((-9, 300)), 300), 0.0);
}

#[test]
fn with_something_begun_there_is_no_outlook() {
    let mut yard = yard();
    yard.done.push(spareframe_solver::Compartment {
        kind: spareframe_solver::BoxId(0),
        box_no: 1,
        place: 1,
        frames: Vec::new(),
        bees: Vec::new(),
    });
    assert_eq!(expected(&yard, &Counts::default(), None, 3), None);
}

fn frame() -> impl Strategy<Value = FrameState> {
    (
        0..=1000_i64,
        0..=1000_i64,
        0..=1000_i64,
        0..=1000_i64,
        0..30_i64,
    )
        .prop_map(|(drawn, brood, sealed, stores, bees)| {
            let brood = drawn * brood / 1000;
            FrameState {
                comb: spareframe_solver::CombId(0),
                brood: Milli(brood),
                sealed: Milli(brood * sealed / 1000),
                stores: Milli((drawn - brood) * stores / 1000),
                drawn: Milli(drawn),
                bees: Hundreds(bees),
            }
        })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1_000))]

    #[test]
    fn any_yard_stays_one(
        groups in proptest::collection::vec((0..12_u32, frame()), 1..8),
        extra in 0..300_i64, counted in 1..366, days in 0..120_u32,
    ) {
        let mut yard = yard();
        yard.colony_model.season = Some(Season { counted, later: 0 });
        yard.gives.clear();
        let group = |(count, frame)| FrameGroup { count, frame, queen: false };
        yard.colonies[0].frames = groups.into_iter().map(group).collect();
        yard.colonies[0].extra_bees = Hundreds(extra);
        prop_assume!(yard.validate().is_ok());
        let later = expected(&yard, &Counts::default(), None, days).unwrap();
        prop_assert_eq!(later.validate(), Ok(()));
        for (before, after) in yard.colonies.iter().zip(&later.colonies) {
            // No comb is made or lost, and none drawn or eaten away.
            prop_assert_eq!(frames(before), frames(after));
            let drawn = |colony: &Colony| -> i64 {
                colony.frames.iter().map(|g| i64::from(g.count) * g.frame.drawn.0).sum()
            };
            prop_assert_eq!(drawn(before), drawn(after));
            prop_assert!(held(&later, after)[3] <= held(&yard, before)[3]);
            let due = model(&yard, before, &yard.colony_model.setting(), days);
            let [bees, brood, ..] = held(&later, after);
            prop_assert!((due.bees() - bees).abs() <= 100.0);
            let combs = f64::from(frames(after)) * 8.0 + 1.0;
            prop_assert!((due.brood() - brood).abs() <= combs, "{} {}", due.brood(), brood);
        }
    }
}
