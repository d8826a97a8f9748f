//! Makes a failing scenario smaller while it still fails, so that a report can be read.

use spareframe_solver::*;

/// Runs a case; where it fails, the error is that of the smallest scenario found that fails, too.
pub fn made_small(
    scenario: &Scenario,
    case: impl Fn(&Scenario) -> Result<(), String>,
) -> Result<(), String> {
    case(scenario).map_err(|error| {
        let mut small = scenario.clone();
        let fails = |scenario: &Scenario| case(scenario).is_err();
        while let Some(next) = smaller(&small).into_iter().find(fails) {
            small = next;
        }
        let why = case(&small).expect_err("fails still");
        format!("{error}\nmade small: {why}\n{small:#?}")
    })
}

/// All scenarios that are one step simpler.
fn smaller(scenario: &Scenario) -> Vec<Scenario> {
    let mut all = Vec::new();
    let mut with = |change: &dyn Fn(&mut Scenario)| {
        let mut next = scenario.clone();
        change(&mut next);
        // What is done may name what was left out.
        if next != *scenario && next.validate().is_ok() {
            all.push(next);
        }
    };
    for c in 0..scenario.colonies.len() {
        with(&|s| {
            s.colonies.remove(c);
            s.gives.retain(|give| give.colony.0 != c);
            for give in &mut s.gives {
                give.colony.0 -= usize::from(give.colony.0 > c);
            }
        });
    }
    for g in 0..scenario.gives.len() {
        with(&|s| s.gives = [&s.gives[..g], &s.gives[g + 1..]].concat());
        with(&|s| s.gives[g].frames = s.gives[g].frames.saturating_sub(1));
        with(&|s| s.gives[g].group = None);
    }
    for b in 0..scenario.boxes.len() {
        with(&|s| s.boxes[b].count = 0);
        with(&|s| s.boxes[b].count = s.boxes[b].count.saturating_sub(1));
        with(&|s| s.boxes[b].whole = false);
        with(&|s| s.boxes[b].bees = Bees(0));
        with(&|s| s.boxes[b].worth = Worth(1000));
        for l in 0..scenario.boxes[b].lines.len() {
            if scenario.boxes[b].lines.len() > 1 {
                with(&|s| drop(s.boxes[b].lines.remove(l)));
            }
            with(&|s| s.boxes[b].lines[l].substitutes.clear());
            with(&|s| s.boxes[b].lines[l].count = 1);
        }
    }
    with(&|s| s.cells = None);
    with(&|s| s.honey_cap = None);
    with(&|s| s.drift.flying = Percent(0));
    for e in 0..scenario.store_room.len() {
        with(&|s| {
            s.store_room.remove(e);
        });
    }
    for c in 0..scenario.colonies.len() {
        with(&|s| s.colonies[c].keep = Keep::default());
        with(&|s| s.colonies[c].draw = Draw::default());
        with(&|s| s.colonies[c].keep.brood = Milli(0));
        with(&|s| s.colonies[c].keep.bees = Hundreds(0));
        with(&|s| s.colonies[c].keep.stores = Grams(0));
        with(&|s| s.colonies[c].keep.drawn = Milli(0));
        with(&|s| s.colonies[c].draw.frames = None);
        with(&|s| s.colonies[c].draw.brood = None);
        with(&|s| s.colonies[c].draw.bees = None);
        with(&|s| s.colonies[c].draw.honey = None);
        with(&|s| s.colonies[c].crop = None);
        with(&|s| s.colonies[c].extra_bees = Hundreds(0));
        with(&|s| s.colonies[c].extra_bees.0 /= 2);
        for g in 0..scenario.colonies[c].frames.len() {
            with(&|s| {
                s.colonies[c].frames.remove(g);
            });
            with(&|s| {
                let count = &mut s.colonies[c].frames[g].count;
                *count = count.saturating_sub(1);
            });
            with(&|s| s.colonies[c].frames[g].frame.bees = Hundreds(0));
        }
    }
    for b in 0..scenario.boxes.len() {
        with(&|s| s.boxes[b].bees.0 /= 2);
        with(&|s| s.boxes[b].bees.0 = (s.boxes[b].bees.0 - 1).max(0));
    }
    all
}
