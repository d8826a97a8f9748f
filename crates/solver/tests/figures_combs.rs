//! Published figures on combs, brood and feed, reproduced with the solver's own units.
//! Beside each: its source and whether its text was seen.

use approx::assert_relative_eq;
use spareframe_solver::honey::{BROOD_DAYS, EGG_DAYS, LARVA_DAYS, SEALED_DAYS};
use spareframe_solver::{Bees, Comb, Grams, Milli, share_of};

/// Eighths of a comb.
fn eighths(count: i64) -> Milli {
    Milli(125 * count)
}

#[test]
fn a_comb_side_in_eighths() {
    // A full side of about 8 dm2: 1000 bees, 3200 worker cells, 1 kg of food. Source: practice
    // notes on the Liebefeld rule (common practice).
    let side = Comb {
        name: "one side".into(),
        bees: Bees(1000),
        cells: 3200,
        stores: Grams(1000),
    };
    assert_eq!(share_of(eighths(4), side.stores.0), 500);
    assert_eq!(share_of(eighths(1), side.cells), 400);
    assert_eq!(share_of(eighths(2), side.bees.0), 250);
    // 125 g and 400 cells to the dm2 of one side, same source.
    assert_eq!(side.stores.0 / 8, 125);
    assert_eq!(side.cells / 8, 400);
}

#[test]
fn brood_of_a_deep_frame_by_area() {
    // 23.6 worker cells to the square inch; 10 frames have 2700 sq in on both sides. Source:
    // Oregon grading rule as relayed (second hand).
    let thousand = Comb {
        name: "1000 sq in".into(),
        bees: Bees(0),
        cells: 23_600,
        stores: Grams(0),
    };
    assert_eq!(share_of(Milli(135), thousand.cells), 3186);
    assert_eq!(share_of(Milli(600), thousand.cells), 14_160);
    assert_eq!(share_of(Milli(1000), thousand.cells), 23_600);
    assert_eq!(2700 / 10 / 2, 135);
    assert_relative_eq!(135.0_f64 * 2.54 * 2.54, 871.0, max_relative = 1e-3);
}

#[test]
fn cells_to_the_square_decimetre() {
    // Both faces, n cells in a row of 10 cm: 2.309 n^2. Source: Betts 1938, Bee World (seen).
    let betts = |n: f64| 2.309 * n * n;
    assert_relative_eq!(betts(12.8), 378.0, max_relative = 1e-3);
    assert_relative_eq!(betts(20.0), 923.6, max_relative = 1e-4);
    // One side, cells w mm wide: 2 / (sqrt 3 w^2). Derived from the hexagon.
    let one_side = |w: f64| 2.0 / (3.0_f64.sqrt() * (w / 100.0).powi(2));
    for (width, cells) in [(5.4, 396.0), (5.3, 411.0), (5.2, 427.0)] {
        assert_eq!(one_side(width).round(), cells);
        // Betts' constant is twice that of one side.
        assert_relative_eq!(
            betts(100.0 / width),
            2.0 * one_side(width),
            max_relative = 1e-3
        );
    }
}

#[test]
fn brood_classes_at_steady_laying() {
    // Egg 3, larva 6, sealed 12 days. Source: ACT Beekeepers 2022, handbook (seen).
    assert_eq!((EGG_DAYS, LARVA_DAYS, SEALED_DAYS), (3, 6, 12));
    // 2000 a day for 21 days are 42,000 cells. Source: Swiss note, handbook (seen).
    assert_eq!(2000 * BROOD_DAYS, 42_000);
}

#[test]
fn sugar_for_missing_stores() {
    // 1 kg of sugar is 1.25 kg of honey equivalent; 20 kg for winter; 1 kg of sugar to 0.63 l
    // of water is 61.3 % by weight. Source: British Beekeepers Association, handbook (seen).
    let missing = Grams(20_000) - Grams(12_000);
    assert_eq!(missing, Grams(8_000));
    // Sugar is 0.8 of the honey equivalent.
    assert_eq!(share_of(Milli(800), missing.0), 6_400);
    assert_relative_eq!(100.0 / 1.63, 61.3, max_relative = 1e-3);
}
