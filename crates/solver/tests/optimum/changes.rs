//! What a change of the scenario must and must not do to the optimum.
//!
//! Source: the meaning of the rules and goals in `docs/model.md`; no figures from elsewhere.

use std::cmp::Reverse;

use super::support::rng::Rng;
use super::support::{Figures, figures, for_seeds, generate, proved, proved_figures, same, seeds};
use spareframe_solver::*;

/// Greater is better, in the order of the goals.
fn rank(figures: Figures) -> impl Ord + std::fmt::Debug {
    figures.map(|(worth, cost)| (worth, Reverse(cost)))
}

/// Runs `case` on small yards and on yards of more colonies.
fn for_yards(case: impl Fn(Scenario, &mut Rng) -> Result<(), String> + Sync) {
    for_seeds(seeds(300), |seed| {
        case(generate::small(seed), &mut Rng::new(seed))
    });
    for_seeds(seeds(2), |seed| {
        case(generate::narrow_yard(seed), &mut Rng::new(seed))
    });
}

fn not_better(before: Figures, after: Figures) -> Result<(), String> {
    match rank(after) <= rank(before) {
        true => Ok(()),
        false => Err(format!("before {before:?}, after {after:?}")),
    }
}

fn index(rng: &mut Rng, len: usize) -> Option<usize> {
    (len > 0).then(|| rng.index(len))
}

#[test]
fn a_scenario_solved_twice_gives_the_same_plan() {
    for_yards(|scenario, _| {
        if proved(&scenario)? == proved(&scenario)? {
            Ok(())
        } else {
            Err("two plans".into())
        }
    });
}

/// New positions: `order[new]` is the old one.
fn order(rng: &mut Rng, len: usize) -> (Vec<usize>, Vec<usize>) {
    let mut order: Vec<usize> = (0..len).collect();
    rng.shuffle(&mut order);
    let mut new = vec![0; len];
    for (at, &old) in order.iter().enumerate() {
        new[old] = at;
    }
    (order, new)
}

fn shuffled(scenario: &Scenario, rng: &mut Rng) -> Scenario {
    let mut next = scenario.clone();
    rng.shuffle(&mut next.colonies);
    rng.shuffle(&mut next.store_room);
    for colony in &mut next.colonies {
        rng.shuffle(&mut colony.frames);
    }
    let (sites, new_site) = order(rng, next.sites.len());
    next.sites = sites.iter().map(|&s| scenario.sites[s].clone()).collect();
    next.distances = sites
        .iter()
        .map(|&a| sites.iter().map(|&b| scenario.distances[a][b]).collect())
        .collect();
    for colony in &mut next.colonies {
        colony.site.0 = new_site[colony.site.0];
    }
    let (boxes, new_box) = order(rng, next.boxes.len());
    next.boxes = boxes.iter().map(|&b| scenario.boxes[b].clone()).collect();
    for kind in &mut next.boxes {
        kind.site.0 = new_site[kind.site.0];
        rng.shuffle(&mut kind.lines);
    }
    if let Some(batches) = &mut next.cells {
        rng.shuffle(batches);
        for kind in batches.iter_mut().flat_map(|batch| &mut batch.boxes) {
            kind.0 = new_box[kind.0];
        }
    }
    next
}

#[test]
fn the_order_of_the_scenario_changes_no_goal() {
    for_yards(|scenario, rng| {
        same(
            proved_figures(&scenario)?,
            proved_figures(&shuffled(&scenario, rng))?,
        )
    });
}

#[test]
fn an_extra_colony_never_lowers_the_best() {
    for_yards(|mut scenario, rng| {
        let after = proved_figures(&scenario)?;
        if let Some(at) = index(rng, scenario.colonies.len()) {
            scenario.colonies.remove(at);
        }
        not_better(after, proved_figures(&scenario)?)
    });
}

#[test]
fn removing_colonies_that_give_nothing_changes_nothing() {
    for_yards(|mut scenario, _| {
        let Some(before) = proved(&scenario)? else {
            scenario.colonies.clear();
            return same(None, proved_figures(&scenario)?);
        };
        let mut gives = vec![false; scenario.colonies.len()];
        for compartment in &before.plan.compartments {
            for frames in &compartment.frames {
                if let Origin::Colony(colony, _) = frames.origin {
                    gives[colony.0] = true;
                }
            }
            for bees in &compartment.bees {
                gives[bees.colony.0] = true;
            }
        }
        let mut at = gives.iter();
        scenario.colonies.retain(|_| *at.next().expect("as long"));
        same(
            figures(&scenario, Some(&before)),
            proved_figures(&scenario)?,
        )
    });
}

#[test]
fn a_colony_on_hold_is_as_good_as_none() {
    for_yards(|mut scenario, rng| {
        let Some(at) = index(rng, scenario.colonies.len()) else {
            return Ok(());
        };
        scenario.colonies[at].hold = Some("a reason".into());
        let held = proved_figures(&scenario)?;
        scenario.colonies.remove(at);
        same(held, proved_figures(&scenario)?)
    });
}

#[test]
fn frames_listed_one_by_one_are_as_good_as_counted() {
    for_yards(|mut scenario, _| {
        let before = proved_figures(&scenario)?;
        for colony in &mut scenario.colonies {
            let listed = colony.frames.iter().flat_map(|group| {
                let one = FrameGroup {
                    count: 1,
                    ..group.clone()
                };
                std::iter::repeat_n(one, group.count as usize)
            });
            colony.frames = listed.collect();
        }
        same(before, proved_figures(&scenario)?)
    });
}

#[test]
fn a_lower_ride_only_adds_plans() {
    for_yards(|mut scenario, rng| {
        let before = proved_figures(&scenario)?;
        for colony in &mut scenario.colonies {
            colony.rides.0 = rng.range(0, colony.rides.0);
        }
        not_better(proved_figures(&scenario)?, before)
    });
}

#[test]
fn an_eased_floor_or_cap_only_adds_plans() {
    for_yards(|mut scenario, rng| {
        let before = proved_figures(&scenario)?;
        for colony in &mut scenario.colonies {
            let (keep, draw) = (&mut colony.keep, &mut colony.draw);
            keep.covered.0 = rng.range(0, keep.covered.0);
            keep.bees.0 = rng.range(0, keep.bees.0);
            draw.frames = draw.frames.map(|frames| frames + 1);
            draw.bees = draw.bees.filter(|_| rng.percent(50));
            draw.honey = draw.honey.map(|honey| honey.times(2));
        }
        not_better(proved_figures(&scenario)?, before)
    });
}

#[test]
fn a_dearer_price_never_lowers_the_cost() {
    for_yards(|mut scenario, rng| {
        let before = proved_figures(&scenario)?;
        match rng.range(0, 2) {
            0 => scenario.prices.burden.0 += 3,
            1 => scenario.prices.substitute.0 += 30,
            _ => scenario.prices.opened.0 += 30,
        }
        let after = proved_figures(&scenario)?;
        let worth = |figures: Figures| figures.map(|(worth, _)| worth);
        match worth(before) == worth(after) && before <= after {
            true => Ok(()),
            false => Err(format!("before {before:?}, after {after:?}")),
        }
    });
}

#[test]
fn a_higher_floor_or_a_lower_cap_never_raises_the_best() {
    for_yards(|mut scenario, rng| {
        let before = proved_figures(&scenario)?;
        let Some(at) = index(rng, scenario.colonies.len()) else {
            return Ok(());
        };
        let colony = &mut scenario.colonies[at];
        match rng.range(0, 8) {
            0 => colony.keep.brood.0 += 500,
            1 => colony.keep.bees.0 += 2,
            2 => colony.keep.stores.0 += 2,
            3 => colony.keep.drawn.0 += 1000,
            4 => colony.draw.frames = Some(colony.draw.frames.map_or(1, |most| most / 2)),
            5 => colony.draw.bees = Some(Hundreds(colony.draw.bees.map_or(2, |most| most.0 / 2))),
            6 => colony.keep.covered.0 += 30,
            7 => colony.rides.0 = (colony.rides.0 + 30).min(100),
            _ => {
                let least = Grams(rng.range(0, 100));
                scenario.honey_cap = Some(scenario.honey_cap.map_or(least, |cap| cap.min(least)));
            }
        }
        not_better(before, proved_figures(&scenario)?)
    });
}

#[test]
fn more_spare_frames_cells_or_boxes_never_lower_the_best() {
    for_yards(|mut scenario, rng| {
        let before = proved_figures(&scenario)?;
        if let Some(at) = index(rng, scenario.store_room.len()) {
            scenario.store_room[at].count += 2;
        }
        for batch in scenario.cells.iter_mut().flatten() {
            batch.count += rng.count(0, 2);
        }
        if let Some(at) = index(rng, scenario.boxes.len()) {
            scenario.boxes[at].count += 1;
        }
        not_better(proved_figures(&scenario)?, before)
    });
}
