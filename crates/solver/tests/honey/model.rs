//! The rates at their edges.

use spareframe_solver::honey::{
    ColonyModel, HoneyRates, frame_charge, hundred_charge, rates, simulated,
};
use spareframe_solver::*;

fn comb() -> Comb {
    Comb {
        name: "comb".into(),
        bees: Hundreds(21),
        cells: 6400,
        stores: Grams(2000),
    }
}

fn frame() -> FrameState {
    FrameState {
        comb: CombId(0),
        brood: Milli(600),
        sealed: Milli(350),
        stores: Milli(200),
        drawn: Milli(1000),
        bees: Hundreds(17),
    }
}

fn colony(from: i32, to: i32) -> Colony {
    Colony {
        name: "a".into(),
        site: SiteId(0),
        role: "production".into(),
        hold: None,
        frames: vec![FrameGroup {
            count: 8,
            frame: frame(),
            queen: false,
        }],
        extra_bees: Hundreds(120),
        crop: Some(Crop {
            honey: Grams(25_000),
            from,
            to,
        }),
        rides: Percent(50),
        apart: false,
        keep: Keep::default(),
        draw: Draw::default(),
    }
}

fn rated(colony: &Colony, mortality: i64) -> HoneyRates {
    rates(
        &[comb()],
        colony,
        &ColonyModel {
            mortality: Milli(mortality),
            season: None,
        },
    )
}

#[test]
fn a_colony_without_crop_gives_up_nothing() {
    let none = Colony {
        crop: None,
        ..colony(0, 30)
    };
    assert_eq!(rated(&none, 100), HoneyRates::default());
    let model = ColonyModel::default();
    let lost = simulated(&[comb()], &none, &model, Hundreds(50), &[(frame(), 3)]);
    assert_eq!(lost, Grams(0));
}

#[test]
fn a_flow_in_the_past_costs_only_stores() {
    let past = colony(-20, -1);
    assert_eq!(
        rated(&past, 100),
        HoneyRates {
            stores: true,
            ..HoneyRates::default()
        }
    );
    let model = ColonyModel::default();
    // 0.2 x 2000 g x 3 frames.
    let lost = simulated(&[comb()], &past, &model, Hundreds(50), &[(frame(), 3)]);
    assert_eq!(lost, Grams(1_200));
}

#[test]
fn days_before_today_do_not_count() {
    assert_eq!(rated(&colony(-20, 20), 100), rated(&colony(0, 20), 100));
}

#[test]
fn what_is_too_young_for_the_flow_costs_nothing() {
    // A flow that ends today is flown by today's foragers alone.
    let today = rated(&colony(0, 0), 100);
    assert!(today.bees > 0);
    assert_eq!((today.sealed, today.open), (0, 0));
    // Open brood is sealed at most 12 days from now: nothing has emerged after 12 days.
    let soon = rated(&colony(0, 12), 100);
    assert!(soon.sealed > 0);
    assert_eq!(soon.open, 0);
    // Later flows turn the order round: brood outlives today's bees.
    let late = rated(&colony(40, 60), 100);
    assert!(late.open > late.bees, "{late:?}");
}

#[test]
fn rates_scale_with_the_crop_and_round_up() {
    let mut colony = colony(0, 20);
    let one = rated(&colony, 100);
    colony.crop = Some(Crop {
        honey: Grams(50_000),
        from: 0,
        to: 20,
    });
    let two = rated(&colony, 100);
    for (one, two) in [
        (one.bees, two.bees),
        (one.sealed, two.sealed),
        (one.open, two.open),
    ] {
        assert!(
            one > 0 && (2 * one - 1..=2 * one).contains(&two),
            "{one} {two}"
        );
    }
}

#[test]
fn rates_are_rounded_up_to_whole_milligrams_for_a_thousand() {
    // A flow of today alone is flown by the foragers of today, so 1000 of the 25,600 bees take
    // 1000 / 25,600 of it: of 1 g 39.0625 mg, of 64 g 2.5 g.
    for (honey, milligrams) in [(1, 40), (64, 2_500), (65, 2_540)] {
        let mut colony = colony(0, 0);
        colony.crop = Some(Crop {
            honey: Grams(honey),
            from: 0,
            to: 0,
        });
        assert_eq!(rated(&colony, 100).bees, milligrams);
    }
}

#[test]
fn frames_and_hundreds_of_bees_are_charged_in_whole_grams_rounded_up() {
    let rates = HoneyRates {
        bees: 10_001,
        sealed: 1_000,
        open: 3_000,
        stores: true,
    };
    // 10,001 mg for 1000 bees are just over 1 g for a hundred.
    assert_eq!(hundred_charge(rates), Grams(2));
    // 2240 sealed and 1600 open cells of 6400: 2.24 g and 4.8 g, and 400 g of stores.
    assert_eq!(frame_charge(&comb(), &frame(), rates), Grams(400 + 8));
    let exact = HoneyRates {
        bees: 10_000,
        sealed: 0,
        open: 2_500,
        stores: false,
    };
    assert_eq!(hundred_charge(exact), Grams(1));
    assert_eq!(frame_charge(&comb(), &frame(), exact), Grams(4));
}

#[test]
fn small_amounts_are_scaled_up() {
    // 500 bees are all there is: a rate for 1000 is twice the loss of 500, which is the crop.
    let mut few = colony(0, 0);
    few.frames.clear();
    few.extra_bees = Hundreds(5);
    assert_eq!(rated(&few, 100).bees, 50_000_000);
}

#[test]
fn edges_give_figures() {
    let mut empty = colony(0, 30);
    empty.frames.clear();
    empty.extra_bees = Hundreds(0);
    for mortality in [i64::MIN, -1, 0, 1, 355, 999, 1000, 1001, i64::MAX] {
        let of = rated(&empty, mortality);
        assert_eq!(
            of,
            HoneyRates {
                stores: true,
                ..HoneyRates::default()
            }
        );
        for (from, to) in [
            (0, 0),
            (0, 365),
            (-5, 3),
            (400, 500),
            (i32::MIN, i32::MAX),
            (9, 2),
        ] {
            let colony = colony(from, to);
            let of = rated(&colony, mortality);
            assert!(of.bees >= 0 && of.sealed >= 0 && of.open >= 0);
            let crop = 25_000_000;
            assert!(of.bees <= crop && of.sealed <= crop && of.open <= crop);
            let model = ColonyModel {
                mortality: Milli(mortality),
                season: None,
            };
            for bees in [i64::MIN, 0, 1, i64::MAX] {
                let lost = simulated(&[comb()], &colony, &model, Hundreds(bees), &[(frame(), 99)]);
                assert!(lost.0 >= 99 * 400 && lost.0 <= 99 * 400 + 25_000);
            }
        }
    }
    // A comb that is not there is no comb.
    assert!(rates(&[], &colony(0, 9), &ColonyModel::default()).bees > 0);
    // Figures beyond all bounds are charged without a panic, as what is not valid is.
    let huge = HoneyRates {
        bees: i64::MAX,
        sealed: i64::MAX,
        open: i64::MAX,
        stores: true,
    };
    assert!(frame_charge(&comb(), &frame(), huge) > Grams(0));
    assert!(hundred_charge(huge) > Grams(0));
    let sealed_beyond_brood = FrameState {
        brood: Milli(0),
        ..frame()
    };
    let _ = frame_charge(&comb(), &sealed_beyond_brood, huge);
}

#[test]
fn same_input_same_figures() {
    let first = rated(&colony(3, 33), 123);
    for _ in 0..3 {
        assert_eq!(rated(&colony(3, 33), 123), first);
    }
}
