//! What a plan keeps of an earlier one.

use super::report::{Kept, Report};
use crate::plan::Earlier;
use spareframe_solver::{ColonyId, Compartment, Plan};
use std::collections::BTreeMap;

/// Says in the report what is kept of an earlier plan; nothing where the plan is that one. Returns
/// whether anything is otherwise.
pub fn keep_account(report: &mut Report, earlier: &Earlier, plan: &Plan) -> bool {
    let otherwise = plan.drawn_otherwise(&earlier.plan);
    if *plan == earlier.plan {
        return false;
    }
    let (now, then) = (plan.drawn(), earlier.plan.drawn());
    let as_before = then
        .iter()
        .map(|(group, &count)| count.min(now.get(group).copied().unwrap_or(0)));
    let frames_at = |c: &Compartment| ((c.kind, c.box_no, c.place), c.frames.clone());
    let now_at: BTreeMap<_, _> = plan.compartments.iter().map(frames_at).collect();
    let same = |c: &&Compartment| {
        let (place, frames) = frames_at(c);
        now_at.get(&place) == Some(&frames)
    };
    report.kept = Some(Kept {
        day: earlier.day.clone(),
        frames_then: then.values().sum(),
        frames_as_before: as_before.sum(),
        frames_otherwise: otherwise,
        compartments_then: count(earlier.plan.compartments.len()),
        compartments_as_before: count(earlier.plan.compartments.iter().filter(same).count()),
        colonies_changed: changed(earlier, plan),
    });
    true
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// Colonies that give other frames or another number of bees.
fn changed(earlier: &Earlier, plan: &Plan) -> Vec<String> {
    let (now, then) = (draws(plan), draws(&earlier.plan));
    let ids = 0..earlier.colonies.len();
    ids.filter(|&id| now.get(&ColonyId(id)) != then.get(&ColonyId(id)))
        .map(|id| earlier.colonies[id].clone())
        .collect()
}

/// What leaves one colony: frames by group, and hundreds of bees.
type Draw = (BTreeMap<usize, u64>, i64);

fn draws(plan: &Plan) -> BTreeMap<ColonyId, Draw> {
    let mut draws: BTreeMap<ColonyId, Draw> = BTreeMap::new();
    for ((colony, group), count) in plan.drawn() {
        draws.entry(colony).or_default().0.insert(group, count);
    }
    for placed in plan.touched().flat_map(|c| &c.bees) {
        let bees = &mut draws.entry(placed.colony).or_default().1;
        *bees = bees.saturating_add(placed.taken().0);
    }
    draws
}
