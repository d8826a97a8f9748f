//! Wishes: the best plan in which colonies give at least so many frames, against all plans gone
//! through, and what is said where there is none.
//!
//! Rule give: `docs/model.md`. The enumeration: `support/enumerate.rs`.

mod support;

use spareframe_solver::*;
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};
use support::{enumerate, for_seeds, generate, proved_goals, seeds, shrink::shrink};

fn differs(scenario: &Scenario) -> Result<(), String> {
    let by_enumeration = enumerate::best(scenario);
    let by_solver = proved_goals(scenario)?;
    if by_solver != by_enumeration {
        return Err(format!(
            "solver {by_solver:?}, enumeration {by_enumeration:?}"
        ));
    }
    let wished = scenario.gives.iter().any(|give| give.frames > 0);
    let outcome = solve(scenario, &SolveOptions::default());
    let unmet = matches!(outcome, Outcome::Unmet(_));
    if unmet != (wished && by_enumeration == Goals::default()) {
        return Err(format!("{outcome:?}, enumeration {by_enumeration:?}"));
    }
    Ok(())
}

fn compare(scenario: &Scenario) -> Result<(), String> {
    differs(scenario).map_err(|error| {
        let small = shrink(scenario, |scenario| differs(scenario).is_err());
        let why = differs(&small).expect_err("fails still");
        format!("{error}\nmade small: {why}\n{small:#?}")
    })
}

#[test]
fn the_best_plan_that_meets_wishes_is_the_best_of_all_that_do() {
    for_seeds(seeds(1500), |seed| {
        compare(&generate::wishes(generate::small(seed), seed))
    });
    for_seeds(seeds(1000), |seed| {
        compare(&generate::wishes(generate::full_size(seed), seed))
    });
}

#[test]
fn the_cases_have_wishes_that_cost_something_that_cost_nothing_and_that_cannot_be_met() {
    let [met, free, costs_worth, costs_honey, unmet, alike] = [(); 6].map(|()| AtomicUsize::new(0));
    for_seeds(0..1500, |seed| {
        let scenario = generate::wishes(generate::small(seed), seed);
        let plain = Scenario {
            gives: vec![],
            ..scenario.clone()
        };
        let (with, without) = (proved_goals(&scenario)?, proved_goals(&plain)?);
        if with == Goals::default() {
            unmet.fetch_add(1, Relaxed);
            return Ok(());
        }
        met.fetch_add(1, Relaxed);
        free.fetch_add(usize::from(with == without), Relaxed);
        costs_worth.fetch_add(usize::from(with.worth < without.worth), Relaxed);
        let dearer = with.worth == without.worth && with.honey > without.honey;
        costs_honey.fetch_add(usize::from(dearer), Relaxed);
        let twin = |give: &Give| {
            let frames = &scenario.colonies[give.colony.0].frames;
            let same = |group: usize| {
                frames
                    .iter()
                    .filter(|g| g.frame == frames[group].frame)
                    .count()
            };
            give.group.is_some_and(|group| same(group) > 1)
        };
        alike.fetch_add(usize::from(scenario.gives.iter().any(twin)), Relaxed);
        // A wish never helps.
        let rank = |goals: Goals| (-goals.worth.0, goals.honey, goals.opened, goals.shaken);
        if rank(with) < rank(without) {
            return Err(format!("{with:?} beats {without:?}"));
        }
        Ok(())
    });
    let counts = [met, free, costs_worth, costs_honey, unmet, alike].map(AtomicUsize::into_inner);
    assert!(counts.iter().all(|&count| count >= 5), "{counts:?}");
}

/// One colony with frames that serve, frames that serve nothing, and one with the queen.
fn yard() -> Scenario {
    let frame = |brood: i64| FrameState {
        comb: CombId(0),
        brood: Milli(brood),
        sealed: Milli(0),
        stores: Milli(0),
        drawn: Milli(1000),
        bees: Milli(1000),
    };
    let group = |count, brood, queen| FrameGroup {
        count,
        frame: frame(brood),
        queen,
    };
    let line = Line {
        name: "brood".into(),
        count: 1,
        ask: Ask::AtLeast {
            comb: CombId(0),
            brood: Milli(500),
            sealed: Milli(0),
            stores: Milli(0),
            drawn: Milli(0),
        },
        substitutes: vec![],
    };
    Scenario {
        combs: vec![Comb {
            name: "deep".into(),
            bees: Bees(2000),
            cells: 6000,
            stores: Grams(2000),
        }],
        sites: vec![Site {
            name: "home".into(),
        }],
        distances: vec![vec![0]],
        colonies: vec![Colony {
            name: "a".into(),
            site: SiteId(0),
            role: "nucleus".into(),
            hold: None,
            frames: vec![
                group(4, 800, false),
                group(3, 100, false),
                group(1, 900, true),
            ],
            extra_bees: Bees(0),
            crop: None,
            keep: Keep::default(),
            draw: Draw::default(),
        }],
        boxes: vec![BoxKind {
            name: "box".into(),
            count: 3,
            compartments: 1,
            site: SiteId(0),
            worth: Worth(1000),
            whole: false,
            lines: vec![line],
            bees: Bees(0),
        }],
        ..Scenario::default()
    }
}

fn with(group: Option<usize>, frames: u32) -> Scenario {
    let colony = ColonyId(0);
    Scenario {
        gives: vec![Give {
            colony,
            group,
            frames,
        }],
        ..yard()
    }
}

fn cause(scenario: &Scenario) -> Option<Cause> {
    match solve(scenario, &SolveOptions::default()) {
        Outcome::Unmet(unmet) => {
            assert_eq!(unmet.len(), scenario.gives.len());
            Some(unmet[0].cause)
        }
        Outcome::Stocked(stocking) => {
            assert_eq!(check(scenario, &stocking.plan).1, vec![]);
            None
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_wish_that_cannot_be_met_says_why() {
    for frames in [1, 3] {
        assert_eq!(cause(&with(None, frames)), None);
        assert_eq!(cause(&with(Some(0), frames)), None);
    }
    assert_eq!(cause(&with(Some(0), 4)), Some(Cause::Limits), "three boxes");
    assert_eq!(cause(&with(None, 8)), Some(Cause::TooFew));
    assert_eq!(cause(&with(Some(0), 5)), Some(Cause::TooFew));
    assert_eq!(cause(&with(Some(2), 1)), Some(Cause::TooFew), "the queen");
    assert_eq!(cause(&with(Some(9), 1)), Some(Cause::TooFew), "no group");
    assert_eq!(
        cause(&with(Some(1), 1)),
        Some(Cause::Limits),
        "serves nothing"
    );
    let mut held = with(None, 1);
    held.colonies[0].hold = Some("treatment".into());
    assert_eq!(cause(&held), Some(Cause::Hold));
    let mut capped = with(None, 2);
    capped.colonies[0].draw.frames = Some(1);
    assert_eq!(cause(&capped), Some(Cause::Limits));
    let mut few_cells = with(None, 2);
    few_cells.cells = Some(vec![CellBatch {
        count: 1,
        boxes: vec![],
    }]);
    assert_eq!(cause(&few_cells), Some(Cause::Together));
    let mut no_boxes = with(None, 1);
    no_boxes.boxes[0].count = 0;
    assert!(matches!(cause(&no_boxes), Some(Cause::Limits)));
    let nowhere = Give {
        colony: ColonyId(7),
        group: None,
        frames: 1,
    };
    let stray = Scenario {
        gives: vec![nowhere],
        ..yard()
    };
    assert_eq!(cause(&stray), Some(Cause::TooFew));
}

#[test]
fn wishes_for_no_frames_change_nothing() {
    let plain = solve(&yard(), &SolveOptions::default());
    assert_eq!(solve(&with(None, 0), &SolveOptions::default()), plain);
    assert_eq!(solve(&with(Some(1), 0), &SolveOptions::default()), plain);
}
