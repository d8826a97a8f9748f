//! How long a season takes, and how far what is found is from its bound.
//!
//! `cargo bench -p spareframe-season --bench season` measures; with `-- --test` each runs once.

use divan::Bencher;
use spareframe_season::*;
use std::time::Instant;
use yard::{Rng, season};

#[path = "../tests/season/yard.rs"]
mod yard;

/// Colonies, rounds, days from one to the next.
const SIZES: [(usize, usize, i32); 5] = [
    (5, 4, 28),
    (12, 4, 28),
    (40, 3, 28),
    (40, 4, 28),
    (40, 6, 14),
];

fn main() {
    for size in SIZES {
        let season = large(0, size);
        let begun = Instant::now();
        let listed = Listed::of(&season);
        let listing = begun.elapsed();
        let found = plan_listed(&season, &listed, RELAXATIONS).expect("a season");
        let (want, (colonies, rounds, _)) = (&found.wants[0], size);
        println!(
            "{colonies} colonies, {rounds} rounds: {} queens of at most {}; cost {} g, at least {} g; {:.2} s, {:.2} s of them \
             listing; {} MB at most so far",
            want.count,
            want.most,
            found.cost,
            found.least_cost,
            begun.elapsed().as_secs_f64(),
            listing.as_secs_f64(),
            peak()
        );
    }
    divan::main();
}

/// The most memory that this process has held, in MB; 0 where the system does not say.
fn peak() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    let kb = line.and_then(|line| line.trim().trim_end_matches(" kB").parse::<u64>().ok());
    kb.unwrap_or(0) / 1000
}

#[divan::bench(args = 0..SIZES.len(), sample_count = 3, sample_size = 1)]
fn decide(bencher: Bencher, size: usize) {
    let season = large(0, SIZES[size]);
    bencher.bench(|| plan(&season, RELAXATIONS));
}

/// What is asked about a season: a frame less kept by a colony, a donor more, a want a week later, a round that is rained out.
#[divan::bench(args = 0..4, sample_count = 3, sample_size = 1)]
fn what_if(bencher: Bencher, asked: usize) {
    let season = large(0, SIZES[4]);
    let listed = Listed::of(&season);
    let mut other = season.clone();
    match asked {
        0 => other.colonies[0].keep.brood = (other.colonies[0].keep.brood - 7040.0).max(0.0),
        1 => other.colonies.push(Colony {
            name: "another".into(),
            ..season.colonies[0].clone()
        }),
        2 => other.wants[0].by += 7,
        _ => other.rounds[1].rained_out = true,
    }
    bencher.bench(|| plan_listed(&other, &listed.again(&other), RELAXATIONS));
}

fn large(seed: u64, (colonies, rounds, every): (usize, usize, i32)) -> Season {
    let rng = &mut Rng::new(seed);
    let mut season = season(rng, colonies, rounds);
    for (at, round) in season.rounds.iter_mut().enumerate() {
        *round = Round {
            day: at as i32 * every,
            cells: None,
            rained_out: false,
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
