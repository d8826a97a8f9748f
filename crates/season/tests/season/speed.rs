//! How long a season takes.

use super::yard::{Rng, season};
use spareframe_season::*;
use std::time::Instant;

fn large(seed: u64, colonies: usize, rounds: usize, every: i32) -> Season {
    let rng = &mut Rng::new(seed);
    let mut season = season(rng, colonies, rounds);
    for (at, round) in season.rounds.iter_mut().enumerate() {
        *round = Round {
            day: at as i32 * every,
            cells: None,
        };
    }
    for kind in &mut season.kinds {
        kind.compartments = 1000;
    }
    let by = rounds as i32 * every + 30;
    season.wants = vec![Want {
        what: What::Queens,
        count: None,
        by,
    }];
    season.last_draw = None;
    season
}

/// Prints times; `--ignored --nocapture`, best with `--release`.
#[test]
#[ignore = "prints times"]
fn speed() {
    for (colonies, rounds, every) in [
        (5, 4, 28),
        (12, 4, 28),
        (40, 3, 28),
        (40, 4, 28),
        (40, 6, 14),
    ] {
        for seed in 0..3 {
            let season = large(seed, colonies, rounds, every);
            let start = Instant::now();
            let found = plan(&season, RELAXATIONS).expect("a season");
            println!(
                "{colonies} {rounds}: {} of at most {}; cost {} at least {}; {:?}",
                found.wants[0].count,
                found.wants[0].most,
                found.cost,
                found.least_cost,
                start.elapsed()
            );
        }
    }
}
