//! Seasons at random, from a seed.

use spareframe_colony::{Season as Year, Setting};
use spareframe_season::*;

/// Numbers at random (SplitMix64, public domain).
pub struct Rng(u64);

impl Rng {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15))
    }

    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From `least` to `most`, both included.
    pub fn of(&mut self, least: i64, most: i64) -> i64 {
        least + (self.next() % (most - least + 1) as u64) as i64
    }

    pub fn one_in(&mut self, of: i64) -> bool {
        self.of(1, of) == 1
    }
}

/// Today is 20 May.
pub fn setting() -> Setting {
    Setting {
        season: Some(Year {
            counted: 140,
            later: 0,
        }),
        ..Setting::default()
    }
}

/// Full combs of 7040 cells and 2300 bees.
pub fn colony(rng: &mut Rng, name: usize, end: i32) -> Colony {
    let share = rng.of(50, 75) as f64 / 100.0;
    let brood_frames = rng.of(3, 9) as f64;
    let bees = rng.of(9, 40) as f64 * 1000.0;
    let cells = brood_frames * share * 7040.0;
    let open = cells * rng.of(35, 50) as f64 / 100.0;
    let frame_cells = share * 7040.0;
    let each = Taken {
        open: frame_cells * open / cells,
        sealed: frame_cells * (1.0 - open / cells),
        bees: 2300.0f64.min(bees / (brood_frames + 2.0)),
        fewest: 2300.0f64.min(bees / (brood_frames + 2.0)),
    };
    let today = (1..brood_frames as i64).map(|of| of as f64);
    let producer = rng.one_in(3);
    let from = rng.of(5, 40) as i32;
    Colony {
        name: format!("{name}"),
        bees,
        open,
        sealed: cells - open,
        laying: None,
        broodless: None,
        comb: 0,
        frame_cells,
        frame_bees: each.bees,
        cover: 2300.0 / 7040.0,
        today: today
            .map(|of| Taken {
                open: each.open * of,
                sealed: each.sealed * of,
                bees: each.bees * of,
                fewest: each.fewest * of,
            })
            .collect(),
        keep: Keep {
            brood: rng.of(1, 3) as f64 * 0.65 * 7040.0,
            bees: rng.of(4, 12) as f64 * 1000.0,
            covered: 100.0,
        },
        caps: Caps {
            frames: rng.one_in(3).then(|| rng.of(1, 3) as u32),
            honey: None,
            ..Caps::default()
        },
        crop: producer.then(|| Crop {
            grams: rng.of(8, 30) as f64 * 1000.0,
            from,
            to: (from + rng.of(10, 30) as i32).min(end),
        }),
        stay: rng.of(0, 2) * 15 + 70,
        apart: rng.one_in(12),
    }
}

pub fn need(rng: &mut Rng) -> Need {
    let brood = rng.of(1, 2) * 100;
    Need {
        brood,
        bees: rng.of(20, 40) * 100 * brood / 100,
        loose: false,
    }
}

/// A season of so many colonies and rounds, with what is wanted of it.
pub fn season(rng: &mut Rng, colonies: usize, rounds: usize) -> Season {
    let every = rng.of(2, 4) as i32 * 7;
    let winter = rng.one_in(2).then_some(Winter {
        on: 148,
        bees: rng.of(3, 6) as f64 * 1000.0,
        food: 10_000.0,
    });
    let end = 148;
    let rounds: Vec<Round> = (0..rounds as i32)
        .map(|at| Round {
            day: at * every,
            cells: (!rng.one_in(4)).then(|| rng.of(2, 2 + 2 * colonies as i64) as u32),
            rained_out: false,
        })
        .collect();
    let kinds = (0..rng.of(1, 2)).map(|at| {
        let need = need(rng);
        Kind {
            name: format!("kind {at}"),
            compartments: rng.of(1, 1 + 2 * colonies as i64) as u32,
            comb: 0,
            raised: false,
            need,
            again: Need {
                brood: rng.of(0, 1) * 30,
                bees: rng.of(0, 1) * need.bees,
                loose: false,
            },
            comb_cells: 4000.0,
            room: 20_000.0,
            standing: (0..rng.of(-2, 2))
                .map(|_| Stands {
                    free: rng.of(0, 20) as i32,
                    lacks: Need {
                        brood: rng.of(0, 1) * 100,
                        bees: rng.of(0, 1) * 800,
                        loose: false,
                    },
                })
                .collect(),
        }
    });
    let kinds: Vec<Kind> = kinds.collect();
    let last = rounds.last().map_or(0, |round| round.day);
    let mut wants = Vec::new();
    for _ in 0..rng.of(1, 3) {
        let by = rng.of(20, 28 + i64::from(last)) as i32;
        let count = Some(rng.of(1, 2 * colonies as i64) as u32);
        let what = match rng.of(1, 4) {
            1 | 2 => What::Queens,
            3 => What::Nuclei {
                need: need(rng),
                comb: 0,
                hives: rng.of(1, 4) as u32,
                cells: 8000.0,
            },
            _ if winter.is_some() => What::Kept,
            _ => What::Queens,
        };
        wants.push(Want { what, count, by });
    }
    if rng.one_in(2) {
        wants.push(Want {
            what: What::Queens,
            count: None,
            by: last + 30,
        });
    }
    Season {
        rounds,
        kinds,
        colonies: (0..colonies).map(|at| colony(rng, at, end)).collect(),
        wants,
        success: rng.of(13, 18) as u32 * 5,
        queens: if rng.one_in(3) {
            vec![Ready {
                day: rng.of(0, 20) as i32,
                count: rng.of(1, 2) as u32,
                mated: rng.one_in(2),
            }]
        } else {
            Vec::new()
        },
        days: Days::default(),
        winter,
        last_draw: rng.one_in(2).then_some(56),
        setting: setting(),
        prices: Prices {
            burden: 5,
            opened: 20,
            otherwise: 100,
        },
        today: None,
        nuclei_today: None,
        honey: None,
        told: None,
    }
}
