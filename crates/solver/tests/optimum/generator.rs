//! Does the generator give the cases that the tests of the optimum are meant for: tight and loose ones, possible
//! and impossible ones? What is best is the solver's own answer.

use super::support::split::Split;
use super::support::{Figures, answer, enumerate, figures, generate, proved_figures};
use spareframe_solver::*;

const SEEDS: u64 = 1000;

/// Worth if boxes and cells alone decided.
fn most_worth(scenario: &Scenario) -> i64 {
    let worth = |stocked: &Vec<u32>| {
        let kinds = scenario.boxes.iter().zip(stocked);
        kinds.map(|(kind, &n)| kind.worth.times(n).0).sum::<i64>()
    };
    enumerate::all_stocked(scenario)
        .iter()
        .map(worth)
        .max()
        .unwrap_or_default()
}

fn best(scenario: &Scenario) -> Figures {
    proved_figures(scenario).expect("proved")
}

/// The best where something is otherwise.
fn changed(scenario: &Scenario, change: impl Fn(&mut Scenario)) -> Figures {
    let mut other = scenario.clone();
    change(&mut other);
    best(&other)
}

/// The best without floors and caps of donors.
fn without_limits(scenario: &Scenario) -> Figures {
    changed(scenario, |free| {
        free.honey_cap = None;
        for colony in &mut free.colonies {
            colony.keep = Keep::default();
            colony.draw = Draw::default();
        }
    })
}

fn any_colony(scenario: &Scenario, holds: impl Fn(&Colony) -> bool) -> bool {
    scenario.colonies.iter().any(holds)
}

fn worth(figures: &Figures) -> i64 {
    figures.map_or(0, |(worth, _)| worth)
}

fn near(scenario: &Scenario) -> bool {
    let box_near = |colony: &Colony, kind: &BoxKind| {
        scenario.distances[colony.site.0][kind.site.0] < scenario.drift.homing_metres
    };
    scenario.drift.flying > Percent(0)
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
type Property = (&'static str, u64, fn(&Scenario, &Figures) -> bool);

const OF_THE_BEST: &[Property] = &[
    ("nothing can be stocked", 150, |_, best| best.is_none()),
    ("something can be stocked", 400, |_, best| best.is_some()),
    ("loose: all that boxes and cells allow", 80, |s, best| {
        best.is_some() && worth(best) == most_worth(s)
    }),
    ("tight: something, but not all of that", 100, |s, best| {
        best.is_some() && worth(best) < most_worth(s)
    }),
    ("a floor or cap costs worth", 100, |s, best| {
        worth(best) < worth(&without_limits(s))
    }),
    (
        "a floor or cap costs only the second goal",
        30,
        |s, best| {
            let free = without_limits(s);
            worth(best) == worth(&free) && *best != free
        },
    ),
    ("substitutes make a difference", 20, |s, best| {
        let without = |s: &mut Scenario| {
            let lines = s.boxes.iter_mut().flat_map(|b| &mut b.lines);
            lines.for_each(|line| line.substitutes.clear());
        };
        changed(s, without) != *best
    }),
    ("the honey cap for all makes a difference", 20, |s, best| {
        changed(s, |s| s.honey_cap = None) != *best
    }),
    ("cells make a difference", 50, |s, best| {
        changed(s, |s| s.cells = None) != *best
    }),
    ("what rides makes a difference", 50, |s, best| {
        let bare = |s: &mut Scenario| {
            let colonies = s.colonies.iter_mut();
            colonies.for_each(|colony| colony.rides = Percent(0));
        };
        changed(s, bare) != *best
    }),
    ("floor covered makes a difference", 30, |s, best| {
        let free = |s: &mut Scenario| {
            let colonies = s.colonies.iter_mut();
            colonies.for_each(|colony| colony.keep.covered = Percent(0));
        };
        changed(s, free) != *best
    }),
    (
        "that loose bees alone count makes a difference",
        10,
        |s, best| {
            // With a line that asks for brood and for no frame.
            let free = |kind: &mut BoxKind| {
                let mut line = kind.lines[0].clone();
                line.count = 0;
                line.ask.brood = Span::from(1);
                kind.lines.push(line);
            };
            changed(s, |s| s.boxes.iter_mut().for_each(free)) != *best
        },
    ),
    ("a price makes a difference", 300, |s, best| {
        let free = Prices {
            burden: Grams(0),
            substitute: Grams(0),
            opened: Grams(0),
            otherwise: Grams(0),
        };
        changed(s, |s| s.prices = free) != *best
    }),
];

const OF_THE_YARD: &[Property] = &[
    ("bees fly home", 300, |s, _| near(s)),
    ("bees stay", 300, |s, _| far(s)),
    ("some fly home, some stay", 150, |s, _| near(s) && far(s)),
    ("a kind is stocked whole", 150, |s, _| {
        s.boxes.iter().any(|b| b.whole)
    }),
    ("a kind of several compartments is not", 150, |s, _| {
        s.boxes.iter().any(|b| !b.whole && b.compartments > 1)
    }),
    ("a kind without a brood line", 300, |s, _| {
        s.boxes.iter().any(|b| !b.has_brood_line())
    }),
    ("kinds with and without one at a site", 80, |s, _| {
        let pairs = || s.boxes.iter().filter(|b| b.has_brood_line());
        let others = || s.boxes.iter().filter(|b| !b.has_brood_line());
        pairs().any(|a| others().any(|b| a.site == b.site))
    }),
    ("fewest that are no multiple of 100", 300, |s, _| {
        s.boxes.iter().any(|b| b.bees.0 % 100 != 0)
    }),
    ("two combs", 300, |s, _| {
        let lines = || s.boxes.iter().flat_map(|b| &b.lines);
        (0..2).all(|comb| lines().any(|line| line.ask.comb == CombId(comb)))
    }),
    ("a line asks for no brood", 200, |s, _| {
        let mut lines = s.boxes.iter().flat_map(|b| &b.lines);
        lines.any(|line| line.ask.brood == Span::NONE && line.ask.drawn != Span::NONE)
    }),
    ("a line bounds brood from both sides", 100, |s, _| {
        let mut lines = s.boxes.iter().flat_map(|b| &b.lines);
        lines.any(|line| line.ask.brood.most.0 > 0 && line.ask.brood.most.0 < 1000)
    }),
    ("substitutes", 300, |s, _| substitutes(s)),
    ("on hold", 100, |s, _| any_colony(s, |c| c.hold.is_some())),
    ("a queen's group", 150, |s, _| {
        any_colony(s, |c| c.frames.iter().any(|g| g.queen))
    }),
    ("a colony to be taken apart", 150, |s, _| {
        any_colony(s, |c| c.apart)
    }),
    ("one with a crop", 300, |s, _| {
        any_colony(s, |c| c.crop.is_some())
    }),
    ("one without", 300, |s, _| {
        any_colony(s, |c| c.crop.is_none())
    }),
    ("all ride", 100, |s, _| any_colony(s, |c| c.rides.0 == 100)),
    ("none must ride", 100, |s, _| {
        any_colony(s, |c| c.rides.0 == 0)
    }),
    ("more than all are to cover", 80, |s, _| {
        any_colony(s, |c| c.keep.covered.0 > 100)
    }),
    ("a cap of honey for a colony", 100, |s, _| {
        any_colony(s, |c| c.draw.honey.is_some())
    }),
    ("a cap of honey for all", 100, |s, _| s.honey_cap.is_some()),
    ("a cap of frames", 200, |s, _| {
        any_colony(s, |c| c.draw.frames.is_some())
    }),
    ("a cap of brood", 200, |s, _| {
        any_colony(s, |c| c.draw.brood.is_some())
    }),
    ("a cap of bees", 200, |s, _| {
        any_colony(s, |c| c.draw.bees.is_some())
    }),
    ("a colony below its floors from the start", 20, |s, _| {
        any_colony(s, |c| bees(c) < c.keep.bees.0)
    }),
    (
        "one that does not cover its brood from the start",
        100,
        |s, _| {
            let cover = |g: &FrameGroup| {
                i64::from(g.count) * g.frame.brood.0 * s.combs[g.frame.comb.0].bees.0
            };
            let cover = |c: &Colony| c.frames.iter().map(cover).sum::<i64>();
            any_colony(s, |c| 100_000 * bees(c) < c.keep.covered.0 * cover(c))
        },
    ),
    ("prices other than usual", 300, |s, _| {
        s.prices != Prices::default()
    }),
    ("cells are not counted", 300, |s, _| s.cells.is_none()),
    ("no cells at all", 30, |s, _| {
        s.cells.as_ref().is_some_and(Vec::is_empty)
    }),
    ("cells for any kind", 100, |s, _| {
        s.cells.iter().flatten().any(|batch| batch.boxes.is_empty())
    }),
    ("cells for some kinds", 100, |s, _| {
        let mut batches = s.cells.iter().flatten();
        batches.any(|batch| !batch.boxes.is_empty())
    }),
    ("a store room", 500, |s, _| !s.store_room.is_empty()),
    ("three kinds", 100, |s, _| s.boxes.len() == 3),
    ("boxes at two sites", 100, |s, _| {
        s.boxes.iter().any(|b| b.site != s.boxes[0].site)
    }),
    ("four colonies", 100, |s, _| s.colonies.len() == 4),
];

fn bees(colony: &Colony) -> i64 {
    let on = colony.frames.iter();
    let on = on.map(|g| g.frame.bees.0 * i64::from(g.count));
    on.sum::<i64>() + colony.extra_bees.0
}

/// Names the properties that are rarer than they should be.
fn rare(
    generate: fn(u64) -> Scenario,
    properties: &[&[Property]],
    left_out: &[&str],
) -> Vec<String> {
    let cases: Vec<_> = (0..SEEDS)
        .map(|seed| {
            let scenario = generate(seed);
            let best = best(&scenario);
            (scenario, best)
        })
        .collect();
    let mut rare = Vec::new();
    for (name, least, holds) in properties.iter().copied().flatten() {
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
    let found = rare(generate::small, &[OF_THE_BEST, OF_THE_YARD], &[]);
    assert_eq!(found, Vec::<String>::new());
}

#[test]
fn full_size_yards_are_tight_and_loose_possible_and_impossible() {
    let found = rare(
        generate::full_size,
        &[OF_THE_BEST, OF_THE_YARD],
        &["boxes at two sites"],
    );
    assert_eq!(found, Vec::<String>::new());
}

fn begun(seed: u64) -> Scenario {
    generate::begun(generate::small(seed), seed)
}

const OF_A_BEGUN_DAY: &[Property] = &[
    ("nothing is done", 50, |s, _| s.done.is_empty()),
    (
        "nothing can be stocked beside what is done",
        50,
        |s, best| !s.done.is_empty() && best.is_none(),
    ),
    ("something can", 200, |s, best| {
        !s.done.is_empty() && best.is_some()
    }),
    ("a compartment is finished", 100, |s, _| {
        Split::of(s).least.contains(&1)
    }),
    ("what is finished holds more than it needs", 50, |s, _| {
        Split::of(s).credit.iter().any(|credit| credit[0] > 0)
    }),
    ("a begun one holds more bees than asked for", 100, |s, _| {
        over(s).any(|over| over > 0)
    }),
    ("and by a hundred or more", 50, |s, _| {
        over(s).any(|over| over >= 100)
    }),
    (
        "a finished one is short by less than a hundred",
        20,
        |s, _| over(s).any(|over| over < 0 && over > -100),
    ),
    ("a record can never be stocked", 20, |s, _| {
        let kinds = |s: &Scenario| Split::of(s).scenario.boxes.len();
        let free = |s: &Scenario| {
            let whole = s.done.iter().filter(|r| s.boxes[r.kind.0].whole);
            let begun: std::collections::BTreeSet<_> = whole.map(|r| r.kind).collect();
            begun.len()
        };
        kinds(s) < s.boxes.len() + s.done.len() + free(s)
    }),
    ("what is done makes a difference", 200, |s, best| {
        changed(s, |s| s.done.clear()) != *best
    }),
];

/// Bees that stay in compartments that are begun, beyond the fewest.
fn over(scenario: &Scenario) -> impl Iterator<Item = i64> {
    scenario.done.iter().map(|record| {
        let kind = &scenario.boxes[record.kind.0];
        let stays = record.bees.iter().map(|placed| {
            let colony = &scenario.colonies[placed.colony.0];
            enumerate::stay(scenario, colony, kind.site) * placed.taken().0
        });
        stays.sum::<i64>() - kind.bees.0
    })
}

#[test]
fn begun_days_are_finished_in_part_and_hold_too_few_and_too_many_bees() {
    let found = rare(begun, &[OF_A_BEGUN_DAY], &[]);
    assert_eq!(found, Vec::<String>::new());
}

const OF_WISHES: &[Property] = &[
    ("they are met", 200, |_, best| best.is_some()),
    ("they are not", 200, |_, best| best.is_none()),
    ("they change nothing", 30, |s, best| {
        best.is_some() && changed(s, |s| s.gives.clear()) == *best
    }),
    ("they cost worth", 3, |s, best| {
        best.is_some() && worth(best) < worth(&changed(s, |s| s.gives.clear()))
    }),
    ("they alone make it impossible", 50, |s, best| {
        best.is_none() && changed(s, |s| s.gives.clear()).is_some()
    }),
    ("they cost only the second goal", 40, |s, best| {
        let free = changed(s, |s| s.gives.clear());
        best.is_some() && worth(best) == worth(&free) && *best != free
    }),
];

#[test]
fn wishes_cost_worth_cost_grams_cost_nothing_and_cannot_be_met() {
    let wished = |seed| generate::wishes(generate::small(seed), seed);
    assert_eq!(rare(wished, &[OF_WISHES], &[]), Vec::<String>::new());
}

#[test]
fn earlier_plans_and_ceilings_make_a_difference_to_some_and_none_to_others() {
    let [mut nearer, mut farther, mut lower, mut same] = [0; 4];
    for seed in 0..SEEDS {
        let scenario = generate::small(seed);
        let found = |near: Option<&Plan>, most| {
            let options = SolveOptions {
                near,
                most,
                ..SolveOptions::default()
            };
            answer(&scenario, &options).expect("proved")
        };
        let Some(best) = found(None, Ceiling::default()) else {
            continue;
        };
        let then = generate::earlier(&scenario, seed);
        let near = found(Some(&then), Ceiling::default()).expect("as much can be stocked");
        let under = found(None, generate::ceiling(seed));
        let [best, near, under] =
            [Some(best), Some(near), under].map(|found| figures(&scenario, found.as_ref()));
        let cost = |figures: Figures| figures.map(|(_, cost)| cost);
        assert!(worth(&near) == worth(&best) && cost(near) >= cost(best));
        assert!(worth(&under) <= worth(&best));
        nearer += u64::from(near == best);
        farther += u64::from(cost(near) > cost(best));
        lower += u64::from(worth(&under) < worth(&best));
        same += u64::from(under == best);
    }
    let counts = [nearer, farther, lower, same];
    assert!(counts.iter().all(|&count| count > 30), "{counts:?}");
}
