//! What leaves each colony and what stays, as the report shows it. Sums before and after come
//! from the check, so that no figure is worked out twice.

use super::build::{Notes, decimal, holds, place, site};
use super::report::{ColonyReport, Destination, DoneDraw, Leaving, Level};
use spareframe_solver::{
    Bees, Colony, ColonyAccount, Compartment, Holding, Origin, Plan, Scenario, honey, share_of,
};
use std::collections::BTreeMap;

/// What leaves one colony: frames by group with where they go, and bees.
#[derive(Debug, Clone, Default)]
pub(super) struct Taken<'a> {
    groups: BTreeMap<usize, Vec<(u32, &'a Compartment)>>,
    bees: i64,
}

impl Taken<'_> {
    fn of_group(&self, group: usize) -> u32 {
        let parts = self.groups.get(&group).into_iter().flatten();
        parts.fold(0, |sum, (n, _)| sum.saturating_add(*n))
    }
}

/// What leaves each colony, in the order of the scenario.
pub(super) fn draws<'a>(scenario: &Scenario, plan: &'a Plan) -> Vec<Taken<'a>> {
    let mut draws = vec![Taken::default(); scenario.colonies.len()];
    for c in plan.touched() {
        for placed in &c.frames {
            if let Origin::Colony(id, group) = placed.origin
                && let Some(draw) = draws.get_mut(id.0)
            {
                draw.groups
                    .entry(group)
                    .or_default()
                    .push((placed.count, c));
            }
        }
        for placed in &c.bees {
            if let Some(draw) = draws.get_mut(placed.colony.0) {
                draw.bees = draw.bees.saturating_add(placed.bees.0);
            }
        }
    }
    draws
}

fn simulated(scenario: &Scenario, colony: &Colony, taken: &Taken) -> i64 {
    let frames: Vec<_> = taken
        .groups
        .keys()
        .filter_map(|g| Some((colony.frames.get(*g)?.frame, taken.of_group(*g))))
        .collect();
    let model = &scenario.colony_model;
    honey::simulated(&scenario.combs, colony, model, Bees(taken.bees), &frames).0
}

/// Honey given up by simulation, of all colonies together, in kg.
pub(super) fn simulated_total(scenario: &Scenario, draws: &[Taken]) -> f64 {
    let drawn = scenario.colonies.iter().zip(draws);
    let sum = drawn
        .filter(|(_, taken)| !taken.groups.is_empty() || taken.bees > 0)
        .map(|(colony, taken)| simulated(scenario, colony, taken))
        .fold(0, i64::saturating_add);
    decimal(sum, 1e6)
}

pub(super) fn colony(
    scenario: &Scenario,
    notes: &Notes,
    account: &ColonyAccount,
    taken: &Taken,
    left: &Taken,
) -> Option<ColonyReport> {
    let colony = scenario.colonies.get(account.colony.0)?;
    if taken.groups.is_empty() && account.bees.0 == 0 {
        return None;
    }
    let mut on_frames: i64 = 0;
    let mut leaving = Vec::new();
    for (index, group) in colony.frames.iter().enumerate() {
        let n = left.of_group(index);
        if n == 0 {
            continue;
        }
        let full = scenario
            .combs
            .get(group.frame.comb.0)
            .map_or(0, |c| c.bees.0);
        let bees = share_of(group.frame.bees, full).saturating_mul(i64::from(n));
        on_frames = on_frames.saturating_add(bees);
        leaving.push(Leaving {
            frame_group: index + 1,
            place: place(notes, Origin::Colony(account.colony, index)),
            frames: n,
            each_holds: holds(scenario, &group.frame),
            goes_to: goes_to(scenario, left, index),
        });
    }
    let counts = colony.frames.iter().map(|g| g.count);
    let frames_before = counts.fold(0, u32::saturating_add);
    let frames_taken = u32::try_from(account.frames).unwrap_or(u32::MAX);
    let frames_after = frames_before.saturating_sub(frames_taken);
    let level = |of: fn(&Holding) -> i64, keep: i64, unit: f64| Level {
        before: decimal(of(&account.before), unit),
        after: decimal(of(&account.after), unit),
        must_keep: decimal(keep, unit),
    };
    let keep = &colony.keep;
    Some(ColonyReport {
        colony: colony.name.clone(),
        site: site(scenario, colony.site.0),
        role: colony.role.clone(),
        done: done_draw(taken, left),
        leaving,
        bees_taken: left.bees,
        bees_shaken: left.bees.saturating_sub(on_frames).max(0),
        bees_shaken_back: on_frames.saturating_sub(left.bees).max(0),
        frames_before,
        frames_after,
        taken_apart: frames_before > 0 && frames_after == 0,
        queen_located: colony.frames.iter().any(|g| g.queen && g.count > 0),
        brood_frames: level(|h| h.brood.0, keep.brood.0, 1000.0),
        bees: level(|h| h.bees.0, keep.bees.0, 1.0),
        stores_kg: level(|h| h.stores.0, keep.stores.0, 1000.0),
        drawn_frames: level(|h| h.drawn.0, keep.drawn.0, 1000.0),
        honey_given_up_charged_estimate_kg: decimal(account.honey.0, 1e6),
        honey_given_up_simulated_estimate_kg: decimal(simulated(scenario, colony, taken), 1e6),
    })
}

/// What has already left: all that is taken without what is still to be.
fn done_draw(taken: &Taken, left: &Taken) -> Option<DoneDraw> {
    let frames = |draw: &Taken| {
        let groups = draw.groups.keys().map(|&group| draw.of_group(group));
        groups.fold(0, u32::saturating_add)
    };
    let done = DoneDraw {
        frames: frames(taken).saturating_sub(frames(left)),
        bees: taken.bees.saturating_sub(left.bees),
    };
    (done.frames > 0 || done.bees > 0).then_some(done)
}

/// Frames of one group by compartment, in the order of the plan.
fn goes_to(scenario: &Scenario, taken: &Taken, group: usize) -> Vec<Destination> {
    let mut out: Vec<Destination> = Vec::new();
    for (frames, c) in taken.groups.get(&group).into_iter().flatten() {
        let Some(kind) = scenario.boxes.get(c.kind.0) else {
            continue;
        };
        let next = Destination {
            frames: *frames,
            box_kind: kind.name.clone(),
            box_no: c.box_no.saturating_add(1),
            compartment: c.place.saturating_add(1),
        };
        // Two lines of one compartment may draw on the same group.
        match out.last_mut().filter(|last| last.same_place(&next)) {
            Some(last) => last.frames = last.frames.saturating_add(next.frames),
            None => out.push(next),
        }
    }
    out
}
