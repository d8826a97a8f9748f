//! What may be otherwise in the yard than it was written down.

use super::rng::Rng;
use spareframe_solver::*;

/// The scenario with one to three things changed. Colonies, frame groups, boxes and entries of the
/// store room keep their places.
pub fn changed(scenario: &Scenario, rng: &mut Rng) -> Scenario {
    let mut next = scenario.clone();
    for _ in 0..rng.range(1, 3) {
        change(&mut next, rng);
    }
    next
}

fn change(scenario: &mut Scenario, rng: &mut Rng) {
    if rng.percent(30) {
        return other_than_colonies(scenario, rng);
    }
    let at = rng.index(scenario.colonies.len());
    let colony = &mut scenario.colonies[at];
    let group = rng.index(colony.frames.len());
    let group = &mut colony.frames[group];
    match rng.range(0, 8) {
        0 => colony.hold = Some("found today".into()),
        1 => colony.hold = None,
        2 => group.count = group.count.saturating_sub(1),
        3 => group.count += 1,
        4 => group.queen = !group.queen,
        5 => {
            group.frame.brood.0 /= 2;
            group.frame.sealed.0 /= 2;
        }
        6 => colony.extra_bees.0 += rng.range(-2, 2).max(-colony.extra_bees.0),
        7 => colony.keep.bees.0 += rng.range(0, 3),
        _ => colony.draw.frames = Some(rng.count(0, 3)),
    }
}

fn other_than_colonies(scenario: &mut Scenario, rng: &mut Rng) {
    let at = rng.index(scenario.boxes.len());
    let kind = &mut scenario.boxes[at];
    match rng.range(0, 4) {
        0 => kind.count = kind.count.saturating_sub(1),
        1 => kind.bees.0 += rng.range(-150, 150).max(-kind.bees.0),
        2 => kind.whole = false,
        3 => scenario.cells = None,
        _ => {
            for spare in &mut scenario.store_room {
                spare.count = spare.count.saturating_sub(1);
            }
        }
    }
}
