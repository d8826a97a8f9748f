//! Published figures on combs and brood, reproduced by the solver's own units and colony model.
//! Beside each: its source and whether its text was seen.

use approx::assert_relative_eq;
use spareframe_colony::{BROOD_DAYS, Colony, EGG_DAYS, LARVA_DAYS, SEALED_DAYS, Setting};
use spareframe_solver::honey::{HoneyRates, frame_charge};
use spareframe_solver::{Comb, CombId, FrameState, Grams, Hundreds, Milli, share_of};

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
        bees: Hundreds(10),
        cells: 3200,
        stores: Grams(1000),
    };
    assert_eq!(share_of(eighths(4), side.stores.0), 500);
    assert_eq!(share_of(eighths(1), side.cells), 400);
    // Half of it with food is 500 g of honey given up, and the brood beside it nothing at no rate.
    let frame = FrameState {
        comb: CombId(0),
        brood: eighths(3),
        sealed: eighths(2),
        stores: eighths(4),
        drawn: eighths(8),
        bees: Hundreds(7),
    };
    let stores_alone = HoneyRates {
        stores: true,
        ..HoneyRates::default()
    };
    assert_eq!(frame_charge(&side, &frame, stores_alone), Grams(500));
    // A gram for a thousand of its 800 sealed and 400 open cells: 1.2 g, charged as 2.
    let gram = HoneyRates {
        sealed: 1000,
        open: 1000,
        ..HoneyRates::default()
    };
    assert_eq!(frame_charge(&side, &frame, gram), Grams(2));
}

#[test]
fn brood_of_a_deep_frame_by_area() {
    // 23.6 worker cells to the square inch; 10 frames have 2700 sq in on both sides. Source:
    // Oregon grading rule as relayed (second hand). 135 sq in of the 1000 are 3186 cells.
    let cells = 23_600;
    assert_eq!(share_of(Milli(135), cells), 3186);
    assert_eq!(share_of(Milli(600), cells), 14_160);
    assert_eq!(share_of(Milli(1000), cells), 23_600);
}

#[test]
fn laying_fills_the_brood_nest_in_twenty_one_days() {
    // Egg 3, larva 6, sealed 12 days. Source: ACT Beekeepers 2022, handbook (seen).
    assert_eq!((EGG_DAYS, LARVA_DAYS, SEALED_DAYS), (3, 6, 12));
    // 2000 a day for 21 days are 42,000 cells. Source: Swiss note, handbook (seen). So much brood,
    // without bees to lay more, emerges day by day until none is left.
    let setting = Setting {
        mortality: 0.0,
        ..Setting::default()
    };
    let mut colony = Colony::counted(0.0, 18_000.0, 24_000.0, &setting);
    colony.laying = 0.0;
    let mut bees = 0.0;
    for _ in 0..BROOD_DAYS {
        colony.step(&setting);
        assert_relative_eq!(colony.bees() - bees, 2000.0, max_relative = 1e-9);
        bees = colony.bees();
    }
    assert_relative_eq!(bees, 42_000.0, max_relative = 1e-9);
}
