//! Compartments in which bees stand from an earlier day.

use super::boxes::line;
use super::comb_id;
use crate::support::rng::Rng;
use spareframe_solver::*;

/// Bees stand in a part of the compartments there are, most of which want a next cell, for which most kinds have a
/// recipe. Small yards have few frames and bees in them.
pub fn standing(mut scenario: Scenario, seed: u64) -> Scenario {
    let rng = &mut Rng::new(seed ^ 0x57_a4d0_0000);
    for kind in &mut scenario.boxes {
        if rng.percent(80) {
            let lines = (0..rng.pick(&[0, 1, 1, 2, 3])).map(|number| line(rng, number));
            let lines = lines.collect();
            let bees = rng.range(0, kind.bees.0 + 150);
            kind.again = Recipe {
                lines,
                bees: Bees(bees),
            };
        }
    }
    let mut all = Vec::new();
    for (id, kind) in scenario.boxes.iter().enumerate() {
        for box_no in 0..kind.count {
            for place in 0..kind.compartments {
                if rng.percent(40) {
                    all.push(stands(rng, &scenario, (BoxId(id), box_no, place)));
                }
            }
        }
    }
    scenario.standing = all;
    scenario
}

fn stands(
    rng: &mut Rng,
    scenario: &Scenario,
    (kind, box_no, place): (BoxId, u32, u32),
) -> Standing {
    let frames = (0..rng.pick(&[0, 1, 1, 2, 3])).map(|_| group(rng, scenario));
    Standing {
        kind,
        box_no,
        place,
        frames: frames.collect(),
        extra_bees: Hundreds(rng.pick(&[0, 0, 1, 2, 4])),
        wants_cell: rng.percent(80),
    }
}

fn group(rng: &mut Rng, scenario: &Scenario) -> FrameGroup {
    let comb = comb_id(rng);
    let brood = rng.pick(&[0, 0, 100, 300, 600]);
    let stores = rng.pick(&[0, 100, 300, 400]);
    let drawn = match brood + stores {
        0 => rng.pick(&[0, 500, 1000]),
        _ => 1000,
    };
    let full = scenario.combs[comb.0].bees.0;
    FrameGroup {
        count: rng.pick(&[1, 1, 1, 2]),
        frame: FrameState {
            comb,
            brood: Milli(brood),
            sealed: Milli(rng.range(0, brood)),
            stores: Milli(stores),
            drawn: Milli(drawn),
            bees: Hundreds(rng.range(0, full)),
        },
        queen: false,
    }
}
