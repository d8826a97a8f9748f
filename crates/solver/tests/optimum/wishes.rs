//! Wishes: the best plan in which colonies give at least so many frames, against all plans gone
//! through, and what is said where there is none.
//!
//! Rule give: `docs/model.md`. The enumeration: `support/enumerate.rs`.

use super::support::{
    both, enumerate, for_seeds, generate, plain, proved_figures, rank, same, seeds,
    shrink::made_small,
};
use spareframe_solver::*;

fn differs(scenario: &Scenario) -> Result<(), String> {
    let best = both(enumerate::best(scenario));
    same(proved_figures(scenario)?, best)?;
    let wished = scenario.gives.iter().any(|give| give.frames > 0);
    let outcome = solve(scenario, &SolveOptions::default());
    let unmet = matches!(outcome, Outcome::Unmet(_));
    match unmet == (wished && best.is_none()) {
        true => Ok(()),
        false => Err(format!("{outcome:?}, enumeration {best:?}")),
    }
}

fn compare(scenario: &Scenario) -> Result<(), String> {
    made_small(scenario, differs)
}

#[test]
fn the_best_plan_that_meets_wishes_is_the_best_of_all_that_do() {
    for_seeds(seeds(1500), |seed| {
        compare(&generate::wishes(generate::small(seed), seed))
    });
    for_seeds(seeds(400), |seed| {
        compare(&generate::wishes(generate::full_size(seed), seed))
    });
}

#[test]
fn a_wish_never_helps() {
    for_seeds(seeds(600), |seed| {
        let scenario = generate::wishes(generate::small(seed), seed);
        let plain = Scenario {
            gives: vec![],
            ..scenario.clone()
        };
        let (with, without) = (proved_figures(&scenario)?, proved_figures(&plain)?);
        match rank(with) <= rank(without) {
            true => Ok(()),
            false => Err(format!("{with:?} beats {without:?}")),
        }
    });
}

/// One colony with frames that serve, frames that serve nothing, and one with the queen.
fn yard() -> Scenario {
    let brood = |count, brood| plain::group(count, plain::frame(brood, 0, 20));
    let mut frames = vec![brood(4, 800), brood(3, 100), brood(1, 900)];
    frames[2].queen = true;
    let boxes = plain::kind(3, vec![plain::line("brood", 500, 0)], 0);
    plain::yard(plain::colony(frames, 0), boxes)
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
