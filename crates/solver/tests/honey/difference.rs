//! How far the charged honey and the simulated one differ, over a grid of draws.
//!
//! `cargo test -p spareframe-solver --test honey -- difference --nocapture` prints the table
//! that `docs/honey.md` quotes. Stores are left out: both count them alike.

use spareframe_solver::honey::{ColonyModel, frame_charge, hundred_charge, rates, simulated};
use spareframe_solver::*;

const CROP: i64 = 25_000;
/// Grams lost from which on ratios are looked at: 1 % of the crop.
const LEAST_LOST: f64 = 250.0;

fn comb() -> Comb {
    Comb {
        name: "comb".into(),
        bees: Hundreds(21),
        cells: 6400,
        stores: Grams(2000),
    }
}

fn frame(brood: i64, sealed: i64) -> FrameState {
    FrameState {
        comb: CombId(0),
        brood: Milli(brood),
        sealed: Milli(sealed),
        stores: Milli(0),
        drawn: Milli(1000),
        bees: Hundreds(0),
    }
}

fn colony(bees: Hundreds, frames: u32, flow: (i32, i32)) -> Colony {
    Colony {
        name: "a".into(),
        site: SiteId(0),
        role: "production".into(),
        hold: None,
        // Four sevenths sealed, as at steady laying.
        frames: vec![FrameGroup {
            count: frames,
            frame: frame(700, 400),
            queen: false,
        }],
        extra_bees: bees,
        crop: Some(Crop {
            honey: Grams(CROP),
            from: flow.0,
            to: flow.1,
        }),
        rides: Percent(50),
        apart: false,
        keep: Keep::default(),
        draw: Draw::default(),
    }
}

/// Least and greatest of charged / simulated, and of charged - simulated in per cent of the
/// crop.
#[derive(Debug, Clone, Copy)]
struct Spread {
    ratio: (f64, f64),
    crop: (f64, f64),
}

impl Spread {
    const NONE: Self = Self {
        ratio: (f64::INFINITY, f64::NEG_INFINITY),
        crop: (f64::INFINITY, f64::NEG_INFINITY),
    };

    fn add(&mut self, charged: Grams, lost: Grams) {
        let (charged, lost) = (charged.0 as f64, lost.0 as f64);
        // Below that the rounding up to grams is most of the ratio.
        if lost >= LEAST_LOST {
            let ratio = charged / lost;
            self.ratio = (self.ratio.0.min(ratio), self.ratio.1.max(ratio));
        }
        let crop = (charged - lost) * 100.0 / CROP as f64;
        self.crop = (self.crop.0.min(crop), self.crop.1.max(crop));
    }

    fn join(&mut self, other: Self) {
        self.ratio = (
            self.ratio.0.min(other.ratio.0),
            self.ratio.1.max(other.ratio.1),
        );
        self.crop = (self.crop.0.min(other.crop.0), self.crop.1.max(other.crop.1));
    }
}

const FLOWS: [(i32, i32); 5] = [(0, 14), (0, 30), (14, 35), (30, 50), (50, 70)];
const LIMITS: [f64; 3] = [0.10, 0.25, 0.50];

/// All draws of up to this share of bees and brood, from four strengths of colony.
fn grid(mortality: i64, flow: (i32, i32), limit: f64) -> Spread {
    let model = ColonyModel {
        mortality: Milli(mortality),
        season: None,
    };
    let combs = [comb()];
    let steps = [0.0, 0.25, 0.5, 1.0];
    let mut spread = Spread::NONE;
    for (strength, brood) in [(120_i32, 4_u32), (200, 6), (350, 8), (500, 10)] {
        let colony = colony(Hundreds(strength.into()), brood, flow);
        let rates = rates(&combs, &colony, &model);
        for (bees, count) in steps.iter().flat_map(|&b| steps.map(|c| (b, c))) {
            let bees = Hundreds((bees * limit * f64::from(strength)) as i64);
            // Frames with a part of the brood, so that any share can be taken.
            let part = |share: f64| (share * count * limit).round() as i64;
            let taken = frame(part(700.0), part(400.0));
            let lost = simulated(&combs, &colony, &model, bees, &[(taken, brood)]);
            let charged = Grams(bees.0 * hundred_charge(rates).0)
                + frame_charge(&combs[0], &taken, rates).times(brood);
            spread.add(charged, lost);
        }
    }
    spread
}

fn row(mortality: i64, flow: &str, limit: f64, spread: Spread) {
    println!(
        "| 0.{mortality:03} | {flow} | {:.0} % | {:.3} to {:.3} | {:+.2} to {:+.2} |",
        limit * 100.0,
        spread.ratio.0,
        spread.ratio.1,
        spread.crop.0,
        spread.crop.1,
    );
}

#[test]
fn charged_and_simulated_stay_close() {
    println!("| m | flow, days | taken up to | charged / simulated | difference, % of crop |");
    println!("|---|---|---|---|---|");
    let mut worst = [Spread::NONE; 3];
    for (limit, worst) in LIMITS.into_iter().zip(&mut worst) {
        for flow in FLOWS {
            let spread = grid(154, flow, limit);
            row(154, &format!("{} to {}", flow.0, flow.1), limit, spread);
            worst.join(spread);
        }
    }
    for (limit, worst) in LIMITS.into_iter().zip(worst) {
        row(154, "all", limit, worst);
    }
    for mortality in [50, 100, 200, 300] {
        for limit in LIMITS {
            let mut all = Spread::NONE;
            for flow in FLOWS {
                all.join(grid(mortality, flow, limit));
            }
            row(mortality, "all", limit, all);
        }
    }
    // The bounds that docs/honey.md promises for the default mortality.
    let bounds = [(0.97, 0.2, 0.3), (0.90, 1.2, 0.6), (0.77, 6.0, 1.0)];
    for (spread, (least, lacking, over)) in worst.into_iter().zip(bounds) {
        assert!(
            spread.ratio.0 >= least && spread.ratio.1 <= 1.25,
            "{spread:?}"
        );
        assert!(
            spread.crop.0 >= -lacking && spread.crop.1 <= over,
            "{spread:?}"
        );
    }
}
