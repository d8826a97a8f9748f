//! Does the generator give the cases that the tests of the optimum are meant for?
//!
//! Source of the list: `craft.md`, "Test the generator too: it must give tight and loose,
//! possible and impossible cases".

mod support;

use spareframe_solver::*;
use support::{enumerate, generate};

const SEEDS: u64 = 1000;

/// Worth if boxes and cells alone decided.
fn most_worth(scenario: &Scenario) -> Worth {
    let worth = |stocked: &Vec<u32>| {
        let kinds = scenario.boxes.iter().zip(stocked);
        kinds.map(|(kind, &count)| kind.worth.times(count)).sum()
    };
    enumerate::all_stocked(scenario)
        .iter()
        .map(worth)
        .max()
        .unwrap_or_default()
}

/// The goals without floors and caps of donors.
fn without_limits(scenario: &Scenario) -> Goals {
    let mut free = scenario.clone();
    free.honey_cap = None;
    for colony in &mut free.colonies {
        colony.keep = Keep::default();
        colony.draw = Draw::default();
    }
    enumerate::best(&free)
}

fn near(scenario: &Scenario) -> bool {
    let box_near = |colony: &Colony, kind: &BoxKind| {
        scenario.distances[colony.site.0][kind.site.0] < scenario.drift.homing_metres
    };
    scenario.drift.flying > Milli(0)
        && scenario
            .colonies
            .iter()
            .any(|c| scenario.boxes.iter().any(|b| box_near(c, b)))
}

fn far(scenario: &Scenario) -> bool {
    let box_far = |colony: &Colony, kind: &BoxKind| {
        scenario.distances[colony.site.0][kind.site.0] >= scenario.drift.homing_metres
    };
    scenario
        .colonies
        .iter()
        .any(|c| scenario.boxes.iter().any(|b| box_far(c, b)))
}

fn substitutes(scenario: &Scenario) -> bool {
    scenario
        .boxes
        .iter()
        .flat_map(|b| &b.lines)
        .any(|line| !line.substitutes.is_empty())
}

/// What a scenario is, what its best plan is, and the least share of cases in thousandths.
type Property = (&'static str, u64, fn(&Scenario, &Goals) -> bool);

const PROPERTIES: &[Property] = &[
    ("nothing can be stocked", 150, |_, best| {
        best.worth == Worth(0)
    }),
    ("something can be stocked", 400, |_, best| {
        best.worth > Worth(0)
    }),
    ("loose: all that boxes and cells allow", 100, |s, best| {
        best.worth > Worth(0) && best.worth == most_worth(s)
    }),
    (
        "tight: something, but not all that boxes and cells allow",
        100,
        |s, best| best.worth > Worth(0) && best.worth < most_worth(s),
    ),
    ("a floor or cap costs worth", 100, |s, best| {
        best.worth < without_limits(s).worth
    }),
    ("a floor or cap costs a later goal", 30, |s, best| {
        let free = without_limits(s);
        best.worth == free.worth && *best != free
    }),
    ("honey is given up", 150, |_, best| {
        best.honey > Milligrams(0)
    }),
    ("bees are shaken", 150, |_, best| best.shaken > Bees(0)),
    ("two colonies or more are opened", 100, |_, best| {
        best.opened > 1
    }),
    ("bees fly home", 300, |s, _| near(s)),
    ("bees stay", 300, |s, _| far(s)),
    ("some fly home, some stay", 150, |s, _| near(s) && far(s)),
    ("a kind is stocked whole", 150, |s, _| {
        s.boxes.iter().any(|b| b.whole)
    }),
    ("a kind of several compartments is not", 150, |s, _| {
        s.boxes.iter().any(|b| !b.whole && b.compartments > 1)
    }),
    ("two combs", 300, |s, _| {
        let combs = s
            .boxes
            .iter()
            .flat_map(|b| &b.lines)
            .map(|line| match line.ask {
                Ask::AtLeast { comb, .. } | Ask::Foundation { comb } => comb,
            });
        combs.clone().any(|c| c == CombId(0)) && combs.clone().any(|c| c == CombId(1))
    }),
    ("substitutes", 300, |s, _| substitutes(s)),
    ("substitutes make a difference", 20, |s, best| {
        let mut without = s.clone();
        for line in without.boxes.iter_mut().flat_map(|b| &mut b.lines) {
            line.substitutes.clear();
        }
        enumerate::best(&without) != *best
    }),
    ("on hold", 100, |s, _| {
        s.colonies.iter().any(|c| c.hold.is_some())
    }),
    ("a queen's group", 150, |s, _| {
        s.colonies.iter().flat_map(|c| &c.frames).any(|g| g.queen)
    }),
    ("a cap of honey for a colony", 100, |s, _| {
        s.colonies.iter().any(|c| c.draw.honey.is_some())
    }),
    ("a cap of honey for all", 100, |s, _| s.honey_cap.is_some()),
    (
        "the cap of honey for all makes a difference",
        20,
        |s, best| {
            let free = Scenario {
                honey_cap: None,
                ..s.clone()
            };
            enumerate::best(&free) != *best
        },
    ),
    ("a cap of frames", 200, |s, _| {
        s.colonies.iter().any(|c| c.draw.frames.is_some())
    }),
    ("a cap of brood", 200, |s, _| {
        s.colonies.iter().any(|c| c.draw.brood.is_some())
    }),
    ("a cap of bees", 200, |s, _| {
        s.colonies.iter().any(|c| c.draw.bees.is_some())
    }),
    ("a colony below its floors from the start", 20, |s, _| {
        let bees = |c: &Colony| {
            let on = c.frames.iter().map(|g| {
                share_of(g.frame.bees, s.combs[g.frame.comb.0].bees.0) * i64::from(g.count)
            });
            on.sum::<i64>() + c.extra_bees.0
        };
        s.colonies.iter().any(|c| bees(c) < c.keep.bees.0)
    }),
    ("cells are not counted", 300, |s, _| s.cells.is_none()),
    ("no cells at all", 30, |s, _| {
        s.cells.as_ref().is_some_and(Vec::is_empty)
    }),
    ("cells for any kind", 100, |s, _| {
        s.cells.iter().flatten().any(|batch| batch.boxes.is_empty())
    }),
    ("cells for some kinds", 100, |s, _| {
        s.cells
            .iter()
            .flatten()
            .any(|batch| !batch.boxes.is_empty())
    }),
    ("cells make a difference", 50, |s, best| {
        let free = Scenario {
            cells: None,
            ..s.clone()
        };
        enumerate::best(&free) != *best
    }),
    ("a store room", 500, |s, _| !s.store_room.is_empty()),
    ("three kinds", 100, |s, _| s.boxes.len() == 3),
    ("boxes at two sites", 100, |s, _| {
        s.boxes.iter().any(|b| b.site != s.boxes[0].site)
    }),
    ("four colonies", 100, |s, _| s.colonies.len() == 4),
];

/// Names the properties that are rarer than they should be.
fn rare(generate: fn(u64) -> Scenario, left_out: &[&str]) -> Vec<String> {
    let cases: Vec<_> = (0..SEEDS)
        .map(|seed| {
            let scenario = generate(seed);
            let best = enumerate::best(&scenario);
            (scenario, best)
        })
        .collect();
    let mut rare = Vec::new();
    for (name, least, holds) in PROPERTIES {
        let found = cases
            .iter()
            .filter(|(scenario, best)| holds(scenario, best))
            .count() as u64;
        println!("{:5.1} %  {name}", found as f64 * 100.0 / SEEDS as f64);
        if found * 1000 < least * SEEDS && !left_out.contains(name) {
            rare.push(format!("{name}: {found} of {SEEDS}"));
        }
    }
    rare
}

#[test]
fn small_yards_are_tight_and_loose_possible_and_impossible() {
    assert_eq!(rare(generate::small, &[]), Vec::<String>::new());
}

#[test]
fn full_size_yards_are_tight_and_loose_possible_and_impossible() {
    assert_eq!(
        rare(generate::full_size, &["boxes at two sites"]),
        Vec::<String>::new()
    );
}

#[test]
fn the_same_seed_gives_the_same_scenario() {
    for seed in 0..100 {
        assert_eq!(generate::small(seed), generate::small(seed));
        assert_ne!(generate::small(seed), generate::small(seed + 1));
    }
}
