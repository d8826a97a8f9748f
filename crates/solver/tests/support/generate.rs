//! Scenarios from a seed.

use super::rng::Rng;
use spareframe_solver::honey::rates;
use spareframe_solver::*;

/// Figures that set how large a scenario is.
struct Scale {
    /// Bees, cells and grams of stores of the two full combs.
    combs: [(i64, i64, i64); 2],
    /// Most extra bees of a colony.
    extra: i64,
    /// Most bees that a compartment asks for.
    fewest: i64,
    /// Expected crop, least and most grams.
    crop: (i64, i64),
    /// Colonies with a crop, of 100.
    producers: i64,
    /// All boxes stand together, so that there are only two shares that stay.
    together: bool,
}

/// Few bees, so that every way to share them out can be gone through.
pub fn small(seed: u64) -> Scenario {
    let rng = &mut Rng::new(seed);
    let scale = Scale {
        combs: [(40, 300, 200), (20, 130, 90)],
        extra: 40,
        fewest: 24,
        crop: (200, 4000),
        producers: 60,
        together: false,
    };
    of_scale(rng, &scale)
}

/// Bees, cells and stores of real combs; all boxes at one site.
pub fn full_size(seed: u64) -> Scenario {
    let rng = &mut Rng::new(seed ^ 0xf0_0000_0000);
    let scale = Scale {
        combs: [(2080, 6400, 2000), (1100, 3300, 1000)],
        extra: 4000,
        fewest: 1800,
        crop: (5000, 40_000),
        producers: 60,
        together: true,
    };
    of_scale(rng, &scale)
}

fn of_scale(rng: &mut Rng, scale: &Scale) -> Scenario {
    let combs: Vec<Comb> = ["deep", "mini"]
        .iter()
        .zip(scale.combs)
        .map(|(name, (bees, cells, stores))| Comb {
            name: (*name).into(),
            bees: Bees(bees),
            cells,
            stores: Grams(stores),
        })
        .collect();
    let sites: Vec<Site> = ["home", "wood", "valley"]
        .iter()
        .map(|name| Site {
            name: (*name).into(),
        })
        .collect();
    let mut distances = vec![vec![0; sites.len()]; sites.len()];
    for (a, b) in [(1, 0), (2, 0), (2, 1)] {
        let metres = rng.pick(&[700, 2999, 3000, 3000, 6000]);
        distances[a][b] = metres;
        distances[b][a] = metres;
    }
    let mut colonies: Vec<Colony> = (0..rng.pick(&[1, 2, 3, 3, 4, 4]))
        .map(|number| {
            let site = SiteId(rng.index(3));
            colony(rng, scale, &combs, number, site)
        })
        .collect();
    let store_room = (0..rng.pick(&[0, 1, 2, 3, 4]))
        .map(|_| {
            let stores = rng.pick(&[0, 0, 500, 900]);
            SpareFrames {
                count: rng.count(1, 3),
                frame: FrameState {
                    comb: comb_id(rng),
                    brood: Milli(0),
                    sealed: Milli(0),
                    stores: Milli(stores),
                    drawn: Milli(if stores > 0 {
                        1000
                    } else {
                        rng.pick(&[0, 0, 1000])
                    }),
                    bees: Milli(0),
                },
            }
        })
        .collect();
    let boxes = boxes(rng, scale);
    let cells = rng.percent(50).then(|| {
        (0..rng.pick(&[0, 1, 1, 1, 2, 2, 3, 3]))
            .map(|_| CellBatch {
                count: rng.count(1, 4),
                boxes: if rng.percent(40) {
                    vec![]
                } else {
                    (0..boxes.len())
                        .filter(|_| rng.percent(60))
                        .map(BoxId)
                        .collect()
                },
            })
            .collect()
    });
    let mut scenario = Scenario {
        combs,
        sites,
        distances,
        colonies: vec![],
        store_room,
        boxes,
        cells,
        drift: Drift {
            homing_metres: 3000,
            flying: Milli(rng.pick(&[330, 330, 250, 500, 333, 90, 0, 1000])),
        },
        honey_cap: None,
        ..Scenario::default()
    };
    // Honey caps are a part of what a few frames with their bees would be charged.
    let mut all = 0;
    for colony in &mut colonies {
        let charge = some_charge(&scenario, colony);
        all += charge;
        if charge > 0 && rng.percent(30) {
            colony.draw.honey = Some(Milligrams(rng.range(0, charge)));
        }
    }
    if all > 0 && rng.percent(30) {
        scenario.honey_cap = Some(Milligrams(rng.range(0, all)));
    }
    scenario.colonies = colonies;
    scenario
}

/// Honey for a quarter of what a colony holds.
fn some_charge(scenario: &Scenario, colony: &Colony) -> i64 {
    let rates = rates(&scenario.combs, colony, &scenario.colony_model);
    let mut bees = colony.extra_bees.0;
    let mut charge = 0;
    for group in &colony.frames {
        let comb = &scenario.combs[group.frame.comb.0];
        let times = i64::from(group.count);
        bees += share_of(group.frame.bees, comb.bees.0) * times;
        charge += honey::frame_charge(comb, &group.frame, rates).0 * times;
    }
    (charge + bees * rates.bees) / 4
}

fn comb_id(rng: &mut Rng) -> CombId {
    CombId(usize::from(rng.percent(20)))
}

fn frame(rng: &mut Rng) -> FrameState {
    let comb = comb_id(rng);
    let (brood, stores, drawn) = match rng.range(0, 9) {
        0..=4 => (rng.range(2, 8) * 100, rng.range(0, 2) * 100, 1000),
        5..=6 => (0, rng.range(3, 10) * 100, 1000),
        7 => (0, 0, 1000),
        8 => (0, 0, 0),
        _ => {
            let brood = rng.range(0, 600);
            let stores = rng.range(0, 400);
            (brood, stores, rng.range(brood + stores, 1000))
        }
    };
    FrameState {
        comb,
        brood: Milli(brood),
        sealed: Milli(brood * rng.range(0, 10) / 10),
        stores: Milli(stores),
        drawn: Milli(drawn),
        bees: Milli(if drawn == 0 {
            0
        } else {
            rng.pick(&[0, 250, 500, 750, 1000, 333])
        }),
    }
}

fn colony(rng: &mut Rng, scale: &Scale, combs: &[Comb], number: i64, site: SiteId) -> Colony {
    let frames: Vec<FrameGroup> = (0..rng.pick(&[1, 2, 3, 3, 4]))
        .map(|group| FrameGroup {
            count: rng.pick(&[1, 1, 1, 2, 2, 2, 3, 3, 3, 0]),
            frame: frame(rng),
            queen: group > 0 && rng.percent(20),
        })
        .collect();
    let crop = rng.percent(scale.producers).then(|| {
        let from = rng.range(-3, 20) as i32;
        Crop {
            // Few different figures, so that equal charges and near ties occur.
            honey: Grams(scale.crop.0 * rng.range(1, scale.crop.1 / scale.crop.0)),
            from,
            to: from + rng.range(1, 25) as i32,
        }
    });
    let mut colony = Colony {
        name: format!("c{number}"),
        site,
        role: if crop.is_some() {
            "production"
        } else {
            "nucleus"
        }
        .into(),
        hold: rng.percent(8).then(|| "treatment".into()),
        frames,
        extra_bees: Bees(rng.range(0, scale.extra)),
        crop,
        keep: Keep::default(),
        draw: Draw::default(),
    };
    let have = |of: &dyn Fn(&FrameState) -> i64| -> i64 {
        colony
            .frames
            .iter()
            .map(|g| of(&g.frame) * i64::from(g.count))
            .sum()
    };
    let brood = have(&|f| f.brood.0);
    let bees = have(&|f| share_of(f.bees, combs[f.comb.0].bees.0)) + colony.extra_bees.0;
    let stores = have(&|f| share_of(f.stores, combs[f.comb.0].stores.0));
    let drawn = have(&|f| f.drawn.0);
    let tight = rng.percent(30);
    let below = rng.percent(4);
    // Floors from nothing to, rarely, a little more than there is.
    let mut floor = |have: i64, share: i64| {
        if below {
            have * rng.range(90, 105) / 100
        } else if rng.percent(share) {
            have * rng.range(0, if tight { 100 } else { 60 }) / 100
        } else {
            0
        }
    };
    colony.keep = Keep {
        brood: Milli(floor(brood, 25)),
        bees: Bees(floor(bees, 50)),
        stores: Grams(floor(stores, 20)),
        drawn: Milli(floor(drawn, 20)),
    };
    let least = if tight { 0 } else { 30 };
    colony.draw = Draw {
        frames: rng.percent(20).then(|| rng.count(u32::from(!tight), 4)),
        brood: rng
            .percent(20)
            .then(|| Milli(brood * rng.range(least, 100) / 100)),
        bees: rng
            .percent(20)
            .then(|| Bees(bees * rng.range(least, 100) / 100)),
        honey: None,
    };
    colony
}

fn ask(rng: &mut Rng, comb: CombId) -> Ask {
    let mut least = Ask::AtLeast {
        comb,
        brood: Milli(0),
        sealed: Milli(0),
        stores: Milli(0),
        drawn: Milli(0),
    };
    if let Ask::AtLeast {
        brood,
        sealed,
        stores,
        drawn,
        ..
    } = &mut least
    {
        match rng.range(0, 9) {
            0..=3 => {
                *brood = Milli(rng.range(1, 5) * 100);
                if rng.percent(30) {
                    *sealed = Milli(rng.range(0, brood.0));
                }
            }
            4..=5 => *stores = Milli(rng.range(1, 6) * 100),
            6 => *drawn = Milli(rng.pick(&[500, 900, 1000])),
            7 => {}
            8 => return Ask::Foundation { comb },
            _ => {
                *brood = Milli(100);
                *stores = Milli(100);
            }
        }
    }
    least
}

fn boxes(rng: &mut Rng, scale: &Scale) -> Vec<BoxKind> {
    // Boxes and compartments in each, at most four compartments in all.
    let shapes: &[(u32, u32)] = match rng.range(0, 5) {
        0 => &[(3, 1)],
        1 => &[(2, 2)],
        2 => &[(1, 3), (1, 1)],
        3 => &[(1, 2), (2, 1)],
        4 => &[(1, 2), (1, 2)],
        _ => &[(1, 2), (1, 1), (1, 1)],
    };
    let names = ["narrow", "square", "wide"];
    shapes
        .iter()
        .zip(names)
        .map(|(&(count, compartments), name)| {
            let lines = (0..rng.pick(&[1, 1, 1, 2, 2, 3]))
                .map(|number| {
                    let comb = comb_id(rng);
                    let ask_for = ask(rng, comb);
                    let substitutes = (0..rng.pick(&[0, 0, 0, 1, 2]))
                        .map(|_| Substitute {
                            ask: ask(rng, comb),
                            feed: Grams(rng.range(0, 5) * 100),
                        })
                        .collect();
                    Line {
                        name: format!("line {number}"),
                        count: rng.pick(&[1, 1, 1, 2]),
                        ask: ask_for,
                        substitutes,
                    }
                })
                .collect();
            BoxKind {
                name: name.into(),
                count,
                compartments,
                site: SiteId(if scale.together { 2 } else { rng.index(2) }),
                worth: Worth(rng.pick(&[1000, 1000, 700, 1400, 2000, 2200])),
                whole: compartments > 1 && rng.percent(40),
                lines,
                bees: Bees(if rng.percent(15) {
                    0
                } else {
                    rng.range(1, scale.fewest)
                }),
            }
        })
        .collect()
}

/// A yard of 10 to 60 colonies of few bees, many of them alike; boxes for about what it gives.
pub fn yard(seed: u64) -> Scenario {
    let rng = &mut Rng::new(seed ^ 0xa0_0000_0000);
    let scale = Scale {
        combs: [(8, 60, 40), (4, 26, 18)],
        extra: 12,
        fewest: 8,
        crop: (100, 800),
        producers: 85,
        together: false,
    };
    let mut scenario = of_scale(rng, &scale);
    let stretch = many(rng, &scale, &mut scenario) / 5;
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

/// A yard of 10 to 60 colonies that give little each, one site with boxes, at most three lines
/// and a round share of bees that fly home: few enough sums of frames and bees for a table.
pub fn narrow_yard(seed: u64) -> Scenario {
    let rng = &mut Rng::new(seed ^ 0xd0_0000_0000);
    let scale = Scale {
        combs: [(6, 12, 3), (3, 6, 2)],
        extra: 5,
        fewest: 7,
        crop: (1, 9),
        producers: 85,
        together: true,
    };
    loop {
        let mut scenario = of_scale(rng, &scale);
        let lines: usize = scenario.boxes.iter().map(|kind| kind.lines.len()).sum();
        if lines > 3 {
            continue;
        }
        scenario.drift.flying = Milli(rng.pick(&[0, 250, 400, 500, 500]));
        many(rng, &scale, &mut scenario);
        for kind in &mut scenario.boxes {
            kind.count *= rng.count(1, 5);
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
                colony.draw.bees = Some(Bees(rng.range(0, 3)));
            }
        }
        return scenario;
    }
}

/// Replaces the colonies by 10 to 60 of a few models; returns how many.
fn many(rng: &mut Rng, scale: &Scale, scenario: &mut Scenario) -> u32 {
    let size = rng.count(10, 60);
    let models: Vec<Colony> = (0..rng.range(4, 8))
        .map(|number| {
            let site = SiteId(rng.index(3));
            colony(rng, scale, &scenario.combs, number, site)
        })
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

/// Adds wishes for frames to a scenario that has colonies; some of them cannot be met. Where there
/// are several groups they may look alike, so that a wish is for one of them.
pub fn wishes(mut scenario: Scenario, seed: u64) -> Scenario {
    let rng = &mut Rng::new(seed ^ 0x0e_0000_0000);
    for colony in &mut scenario.colonies {
        if colony.frames.len() > 1 && rng.percent(30) {
            colony.frames[1].frame = colony.frames[0].frame;
        }
    }
    for _ in 0..rng.pick(&[1, 1, 1, 1, 2, 3]) {
        let colony = rng.index(scenario.colonies.len());
        let groups = &scenario.colonies[colony].frames;
        let may = |group: &usize| !groups[*group].queen && groups[*group].count > 0;
        let may: Vec<usize> = (0..groups.len()).filter(may).collect();
        let group = match may.len() {
            _ if rng.percent(50) => None,
            _ if rng.percent(5) => Some(rng.index(groups.len())),
            0 => None,
            n => Some(may[rng.index(n)]),
        };
        scenario.gives.push(Give {
            colony: ColonyId(colony),
            group,
            frames: rng.pick(&[1, 1, 1, 1, 1, 2, 2, 3, 0]),
        });
    }
    scenario
}
