//! Scenarios from a seed.

mod apiary;
mod boxes;
mod colony;
mod day;
mod stands;

pub use apiary::apiary;
pub use day::{begun, ceiling, earlier, question, wishes};
pub use stands::standing;

use super::rng::Rng;
use boxes::boxes;
use colony::colony;
use spareframe_solver::honey::rates;
use spareframe_solver::*;

/// Figures that set how large a scenario is.
struct Scale {
    /// Hundreds of bees, cells and grams of stores of the two full combs.
    combs: [(i64, i64, i64); 2],
    /// Most extra hundreds of a colony.
    extra: i64,
    /// Most bees that a compartment asks for.
    fewest: i64,
    /// Expected crop, least and most grams.
    crop: (i64, i64),
    /// Colonies with a crop, of 100.
    producers: i64,
    /// Yards with boxes at two sites, of 100.
    apart: i64,
    /// Most frames of one colony.
    frames: u32,
}

/// Few bees, so that every way to share them out can be gone through.
pub fn small(seed: u64) -> Scenario {
    let scale = Scale {
        combs: [(5, 300, 200), (3, 130, 90)],
        extra: 5,
        fewest: 430,
        crop: (200, 4000),
        producers: 60,
        apart: 50,
        frames: 7,
    };
    of_scale(&mut Rng::new(seed), &scale)
}

/// Bees, cells and stores of real combs; all boxes at one site.
pub fn full_size(seed: u64) -> Scenario {
    let scale = Scale {
        combs: [(21, 6400, 2000), (11, 3300, 1000)],
        extra: 40,
        fewest: 1850,
        crop: (5000, 40_000),
        producers: 60,
        apart: 0,
        frames: 6,
    };
    of_scale(&mut Rng::new(seed ^ 0xf0_0000_0000), &scale)
}

fn of_scale(rng: &mut Rng, scale: &Scale) -> Scenario {
    let combs = combs(scale);
    let sites = ["home", "wood", "valley"].map(|name| Site { name: name.into() });
    let mut distances = vec![vec![0; sites.len()]; sites.len()];
    for (a, b) in [(1, 0), (2, 0), (2, 1)] {
        let metres = rng.pick(&[700, 2999, 3000, 3000, 6000]);
        distances[a][b] = metres;
        distances[b][a] = metres;
    }
    let colonies = (0..rng.pick(&[1, 2, 3, 3, 4, 5]))
        .map(|number| colony(rng, scale, &combs, number))
        .collect();
    let store_room = (0..rng.pick(&[0, 1, 2, 3])).map(|_| spare(rng)).collect();
    let boxes = boxes(rng, scale);
    let cells = rng.percent(50).then(|| batches(rng, boxes.len()));
    let mut scenario = Scenario {
        combs,
        sites: sites.into(),
        distances,
        colonies,
        store_room,
        boxes,
        cells,
        drift: Drift {
            homing_metres: 3000,
            flying: Percent(rng.pick(&[33, 33, 25, 50, 9, 67, 0, 100])),
        },
        prices: prices(rng),
        ..Scenario::default()
    };
    cap_honey(rng, &mut scenario);
    scenario
}

fn combs(scale: &Scale) -> Vec<Comb> {
    let named = ["deep", "mini"].iter().zip(scale.combs);
    let comb = |(name, (bees, cells, stores)): (&&str, _)| Comb {
        name: (*name).into(),
        bees: Hundreds(bees),
        cells,
        stores: Grams(stores),
    };
    named.map(comb).collect()
}

fn spare(rng: &mut Rng) -> SpareFrames {
    let stores = rng.pick(&[0, 0, 500, 900]);
    let drawn = if stores > 0 {
        1000
    } else {
        rng.pick(&[0, 0, 1000])
    };
    SpareFrames {
        count: rng.count(1, 3),
        frame: FrameState {
            comb: comb_id(rng),
            brood: Milli(0),
            sealed: Milli(0),
            stores: Milli(stores),
            drawn: Milli(drawn),
            bees: Hundreds(0),
        },
    }
}

fn batches(rng: &mut Rng, kinds: usize) -> Vec<CellBatch> {
    let batch = |rng: &mut Rng| CellBatch {
        count: rng.count(1, 4),
        boxes: match rng.percent(40) {
            true => vec![],
            false => (0..kinds).filter(|_| rng.percent(60)).map(BoxId).collect(),
        },
    };
    (0..rng.pick(&[0, 1, 1, 1, 2, 2, 3, 3]))
        .map(|_| batch(rng))
        .collect()
}

fn prices(rng: &mut Rng) -> Prices {
    if rng.percent(60) {
        return Prices::default();
    }
    Prices {
        burden: Grams(rng.pick(&[0, 1, 5, 30])),
        substitute: Grams(rng.pick(&[0, 10, 50, 400])),
        opened: Grams(rng.pick(&[0, 1, 20, 300])),
        otherwise: Grams(rng.pick(&[0, 7, 100, 500])),
    }
}

/// Honey caps are a part of what a few frames with their bees would be charged.
fn cap_honey(rng: &mut Rng, scenario: &mut Scenario) {
    let mut all = 0;
    for at in 0..scenario.colonies.len() {
        let charge = some_charge(scenario, &scenario.colonies[at]);
        all += charge;
        if charge > 0 && !scenario.colonies[at].apart && rng.percent(30) {
            scenario.colonies[at].draw.honey = Some(Grams(rng.range(0, charge)));
        }
    }
    if all > 0 && rng.percent(30) {
        scenario.honey_cap = Some(Grams(rng.range(0, all)));
    }
}

/// Honey for a quarter of what a colony holds.
fn some_charge(scenario: &Scenario, colony: &Colony) -> i64 {
    let rates = rates(&scenario.combs, colony, &scenario.colony_model);
    let mut charge = colony.extra_bees.0 * honey::hundred_charge(rates).0;
    for group in &colony.frames {
        let comb = &scenario.combs[group.frame.comb.0];
        let each = honey::frame_charge(comb, &group.frame, rates).0
            + group.frame.bees.0 * honey::hundred_charge(rates).0;
        charge += each * i64::from(group.count);
    }
    charge / 4
}

fn comb_id(rng: &mut Rng) -> CombId {
    CombId(usize::from(rng.percent(20)))
}

/// A yard of 10 to 60 colonies of few bees, many of them alike; boxes for about what it gives.
pub fn yard(seed: u64) -> Scenario {
    let rng = &mut Rng::new(seed ^ 0xa0_0000_0000);
    let scale = Scale {
        combs: [(8, 2000, 600), (4, 900, 300)],
        extra: 12,
        fewest: 800,
        crop: (1000, 8000),
        producers: 70,
        apart: 50,
        frames: 10,
    };
    let mut scenario = of_scale(rng, &scale);
    let stretch = many(rng, &scale, &mut scenario, (10, 60)) / 5;
    for kind in &mut scenario.boxes {
        kind.count *= rng.count(1, stretch);
    }
    for spare in &mut scenario.store_room {
        spare.count *= rng.count(1, stretch);
    }
    for batch in scenario.cells.iter_mut().flatten() {
        batch.count *= rng.count(1, stretch);
    }
    if let Some(cap) = &mut scenario.honey_cap {
        cap.0 *= i64::from(stretch);
    }
    scenario
}

/// A yard of 8 to 16 colonies that give little each, one site with boxes and at most three lines: few
/// enough sums of frames and bees to go through.
pub fn narrow_yard(seed: u64) -> Scenario {
    let rng = &mut Rng::new(seed ^ 0xd0_0000_0000);
    let scale = Scale {
        combs: [(3, 300, 90), (2, 130, 40)],
        extra: 3,
        fewest: 300,
        crop: (100, 900),
        producers: 70,
        apart: 0,
        frames: 5,
    };
    let lines = |s: &Scenario| s.boxes.iter().map(|kind| kind.lines.len()).sum::<usize>();
    let mut scenario = of_scale(rng, &scale);
    while lines(&scenario) > 3 {
        scenario = of_scale(rng, &scale);
    }
    many(rng, &scale, &mut scenario, (8, 16));
    for kind in &mut scenario.boxes {
        kind.count *= rng.count(1, 3);
    }
    for batch in scenario.cells.iter_mut().flatten() {
        batch.count *= rng.count(1, 3);
    }
    if let Some(cap) = &mut scenario.honey_cap {
        cap.0 *= rng.range(1, 4);
    }
    for colony in &mut scenario.colonies {
        // Each gives a little, so that many are needed.
        if rng.percent(60) {
            colony.draw.frames = Some(rng.count(0, 1));
            colony.draw.bees = Some(Hundreds(rng.range(0, 3)));
        }
    }
    scenario
}

/// Replaces the colonies by so many of a few models; returns how many.
fn many(rng: &mut Rng, scale: &Scale, scenario: &mut Scenario, (least, most): (u32, u32)) -> u32 {
    let size = rng.count(least, most);
    let models: Vec<Colony> = (0..rng.range(4, 8))
        .map(|number| colony(rng, scale, &scenario.combs, number))
        .collect();
    scenario.colonies = (0..size)
        .map(|number| {
            let mut colony = models[rng.index(models.len())].clone();
            colony.name = format!("c{number}");
            if rng.percent(30) {
                colony.extra_bees.0 += rng.range(0, 3);
            }
            colony
        })
        .collect();
    size
}
