//! From a scenario and its answer to the report.

use super::report::{
    Answer, BeesReport, Carry, ColonyReport, CompartmentReport, FORMAT_VERSION, FramesReport,
    Headline, Holds, KindReport, Leaving, Level, LoadFrames, OnHold, ProofReport, ProofState,
    Report,
};
use super::{assumptions, cautions, fits};
use spareframe_solver::{
    BoxId, Colony, ColonyId, Compartment, FrameState, Goals, Origin, Outcome, Plan, Proof,
    Scenario, honey, share_of,
};
use std::collections::{BTreeMap, BTreeSet};

/// What stands at the top of a plan.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Heading {
    /// Title of the scenario.
    pub title: Option<String>,
    /// Stocking day, as year-month-day.
    pub day: Option<String>,
}

/// Builds the report of an answer. `goals` are those that the check recomputed.
///
/// A plan that names a colony, box or frame that the scenario does not have is a breach; such
/// parts are left out here, so check first.
#[must_use]
pub fn build(scenario: &Scenario, heading: &Heading, outcome: &Outcome, goals: &Goals) -> Report {
    let empty = Plan::default();
    let (plan, answer, proof) = match outcome {
        Outcome::Stocked(s) => (&s.plan, Answer::Stocked, Some(proof(s.proof, goals))),
        Outcome::Nothing => (&empty, Answer::NothingPossible, None),
        Outcome::TimedOut => (&empty, Answer::StoppedWithoutPlan, None),
    };
    let compartments: Vec<_> = plan
        .compartments
        .iter()
        .filter_map(|c| compartment(scenario, c))
        .collect();
    let colonies: Vec<_> = (0..scenario.colonies.len())
        .filter_map(|id| colony(scenario, plan, id))
        .collect();
    let kinds = kinds(scenario, plan);
    let headline = Headline {
        answer,
        compartments_stocked: kinds.iter().map(|k| k.compartments_stocked).sum(),
        compartments_in_all: kinds.iter().map(|k| k.compartments_in_all).sum(),
        kinds,
        proof,
        worth: decimal(goals.worth.0, 1000.0),
        honey_given_up_charged_estimate_kg: decimal(goals.honey.0, 1e6),
        honey_given_up_simulated_estimate_kg: simulated_total(scenario, plan),
        colonies_opened: goals.opened,
        bees_taken: colonies.iter().map(|c| c.bees_taken).sum(),
        bees_shaken: goals.shaken.0,
    };
    let mut report = Report {
        spareframe_plan: FORMAT_VERSION,
        title: heading.title.clone(),
        day: heading.day.clone(),
        headline,
        compartments,
        colonies,
        on_hold: on_hold(scenario),
        carry: carry(scenario, plan),
        cautions: Vec::new(),
        estimate_assumptions: assumptions(scenario),
    };
    report.cautions = cautions(scenario, &report);
    report
}

#[expect(
    clippy::cast_precision_loss,
    reason = "figures of an apiary stay far below 2^53"
)]
pub(super) fn decimal(value: i64, unit: f64) -> f64 {
    value as f64 / unit
}

fn proof(proof: Proof, goals: &Goals) -> ProofReport {
    match proof {
        Proof::Best => ProofReport {
            state: ProofState::ProvedBest,
            open_goal: None,
            reached: None,
            best_possible: None,
        },
        Proof::Open {
            goal,
            bound,
            timed_out,
        } => {
            let (name, reached, unit) = match goal {
                1 => ("worth", goals.worth.0, 1000.0),
                2 => ("honey given up, charged (kg)", goals.honey.0, 1e6),
                3 => ("colonies opened", i64::from(goals.opened), 1.0),
                _ => ("bees shaken", goals.shaken.0, 1.0),
            };
            ProofReport {
                state: if timed_out {
                    ProofState::StoppedByTimeLimit
                } else {
                    ProofState::BestFound
                },
                open_goal: Some(name.to_owned()),
                reached: Some(decimal(reached, unit)),
                best_possible: Some(decimal(bound, unit)),
            }
        }
    }
}

fn kinds(scenario: &Scenario, plan: &Plan) -> Vec<KindReport> {
    let kind_report = |(id, kind): (usize, &spareframe_solver::BoxKind)| {
        let of_kind = || {
            plan.compartments
                .iter()
                .filter(move |c| c.kind == BoxId(id))
        };
        let boxes: BTreeSet<u32> = of_kind().map(|c| c.box_no).collect();
        KindReport {
            box_kind: kind.name.clone(),
            site: site(scenario, kind.site.0),
            compartments_stocked: count(of_kind().count()),
            compartments_in_all: u64::from(kind.count) * u64::from(kind.compartments),
            boxes_used: count(boxes.len()),
            boxes_in_all: kind.count,
        }
    };
    scenario.boxes.iter().enumerate().map(kind_report).collect()
}

fn count(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

fn site(scenario: &Scenario, id: usize) -> String {
    scenario
        .sites
        .get(id)
        .map(|s| s.name.clone())
        .unwrap_or_default()
}

fn holds(scenario: &Scenario, frame: &FrameState) -> Holds {
    let share = |m: spareframe_solver::Milli| decimal(m.0, 1000.0);
    Holds {
        comb: scenario
            .combs
            .get(frame.comb.0)
            .map(|c| c.name.clone())
            .unwrap_or_default(),
        brood_share: share(frame.brood),
        sealed_share: share(frame.sealed),
        stores_share: share(frame.stores),
        drawn_share: share(frame.drawn),
        bees_share: share(frame.bees),
    }
}

fn frame_of(scenario: &Scenario, origin: Origin) -> Option<&FrameState> {
    match origin {
        Origin::Colony(c, g) => Some(&scenario.colonies.get(c.0)?.frames.get(g)?.frame),
        Origin::StoreRoom(e) => Some(&scenario.store_room.get(e)?.frame),
    }
}

fn comb_bees(scenario: &Scenario, frame: &FrameState) -> i64 {
    scenario.combs.get(frame.comb.0).map_or(0, |c| c.bees.0)
}

fn compartment(scenario: &Scenario, c: &Compartment) -> Option<CompartmentReport> {
    let kind = scenario.boxes.get(c.kind.0)?;
    let mut frames = Vec::new();
    let (mut feed, mut cover) = (0, 0);
    for placed in &c.frames {
        let (Some(line), Some(frame)) = (
            kind.lines.get(placed.line),
            frame_of(scenario, placed.origin),
        ) else {
            continue;
        };
        let substitute = if fits(&line.ask, frame) {
            None
        } else {
            line.substitutes.iter().position(|s| fits(&s.ask, frame))
        };
        let each = substitute
            .and_then(|s| line.substitutes.get(s))
            .map_or(0, |s| s.feed.0);
        let fed = each.saturating_mul(i64::from(placed.count));
        feed += fed;
        cover += share_of(frame.brood, comb_bees(scenario, frame)) * i64::from(placed.count);
        let (colony, frame_group, store_room_entry) = match placed.origin {
            Origin::Colony(id, group) => (
                scenario.colonies.get(id.0).map(|c| c.name.clone()),
                Some(group + 1),
                None,
            ),
            Origin::StoreRoom(entry) => (None, None, Some(entry + 1)),
        };
        frames.push(FramesReport {
            line: line.name.clone(),
            frames: placed.count,
            colony,
            frame_group,
            store_room_entry,
            each_holds: holds(scenario, frame),
            substitute: substitute.map(|s| s + 1),
            feed_kg: decimal(fed, 1000.0),
        });
    }
    let mut staying_milli: i64 = 0;
    let mut bees = Vec::new();
    for placed in &c.bees {
        let Some(donor) = scenario.colonies.get(placed.colony.0) else {
            continue;
        };
        let stay = if drifts(scenario, donor, kind.site.0) {
            1000 - scenario.drift.flying.0
        } else {
            1000
        };
        staying_milli = staying_milli.saturating_add(placed.bees.0.saturating_mul(stay));
        bees.push(BeesReport {
            colony: donor.name.clone(),
            bees: placed.bees.0,
        });
    }
    Some(CompartmentReport {
        box_kind: kind.name.clone(),
        box_no: c.box_no.saturating_add(1),
        compartment: c.place.saturating_add(1),
        site: site(scenario, kind.site.0),
        frames,
        bees,
        bees_staying: staying_milli.div_euclid(1000),
        bees_needed: kind.bees.0,
        bees_to_cover_brood: cover,
        feed_kg: decimal(feed, 1000.0),
    })
}

fn drifts(scenario: &Scenario, donor: &Colony, to: usize) -> bool {
    let metres = scenario
        .distances
        .get(donor.site.0)
        .and_then(|row| row.get(to));
    metres.is_some_and(|m| *m < scenario.drift.homing_metres)
}

/// What leaves one colony: frames by group, and bees.
fn draw_of(scenario: &Scenario, plan: &Plan, id: usize) -> (BTreeMap<usize, u32>, i64) {
    let mut groups = BTreeMap::new();
    let mut bees: i64 = 0;
    let known = scenario.colonies.get(id).map_or(0, |c| c.frames.len());
    for c in &plan.compartments {
        for placed in &c.frames {
            if let Origin::Colony(ColonyId(from), group) = placed.origin
                && from == id
                && group < known
            {
                let n: &mut u32 = groups.entry(group).or_default();
                *n = n.saturating_add(placed.count);
            }
        }
        for placed in c.bees.iter().filter(|b| b.colony.0 == id) {
            bees = bees.saturating_add(placed.bees.0);
        }
    }
    (groups, bees)
}

fn simulate(scenario: &Scenario, colony: &Colony, groups: &BTreeMap<usize, u32>, bees: i64) -> i64 {
    let frames: Vec<_> = groups
        .iter()
        .filter_map(|(g, n)| Some((colony.frames.get(*g)?.frame, *n)))
        .collect();
    let bees = spareframe_solver::Bees(bees);
    honey::simulated(
        &scenario.combs,
        colony,
        &scenario.colony_model,
        bees,
        &frames,
    )
    .0
}

fn simulated_total(scenario: &Scenario, plan: &Plan) -> f64 {
    let mut sum: i64 = 0;
    for (id, colony) in scenario.colonies.iter().enumerate() {
        let (groups, bees) = draw_of(scenario, plan, id);
        if !groups.is_empty() || bees > 0 {
            sum = sum.saturating_add(simulate(scenario, colony, &groups, bees));
        }
    }
    decimal(sum, 1e6)
}

fn colony(scenario: &Scenario, plan: &Plan, id: usize) -> Option<ColonyReport> {
    let colony = scenario.colonies.get(id)?;
    let (groups, bees) = draw_of(scenario, plan, id);
    if groups.is_empty() && bees == 0 {
        return None;
    }
    // Brood, bees, stores and drawn comb: before, and what the frames take away.
    let mut before = [0, colony.extra_bees.0, 0, 0];
    let mut gone = [0; 4];
    let mut charged = 0;
    let rates = honey::rates(&scenario.combs, colony, &scenario.colony_model);
    let mut leaving = Vec::new();
    for (index, group) in colony.frames.iter().enumerate() {
        let frame = &group.frame;
        let Some(comb) = scenario.combs.get(frame.comb.0) else {
            continue;
        };
        let taken = groups.get(&index).copied().unwrap_or(0);
        let one = [
            frame.brood.0,
            share_of(frame.bees, comb.bees.0),
            share_of(frame.stores, comb.stores.0),
            frame.drawn.0,
        ];
        for ((all, less), each) in before.iter_mut().zip(&mut gone).zip(one) {
            *all += each * i64::from(group.count);
            *less += each * i64::from(taken);
        }
        charged += honey::frame_charge(comb, frame, rates).0 * i64::from(taken);
        if taken > 0 {
            let each_holds = holds(scenario, frame);
            leaving.push(Leaving {
                frame_group: index + 1,
                frames: taken,
                each_holds,
            });
        }
    }
    charged += honey::bees_charge(spareframe_solver::Bees(bees), rates).0;
    let on_frames = gone[1];
    gone[1] = bees;
    let keep = [
        colony.keep.brood.0,
        colony.keep.bees.0,
        colony.keep.stores.0,
        colony.keep.drawn.0,
    ];
    let level = |i: usize, unit: f64| Level {
        before: decimal(before[i], unit),
        after: decimal(before[i] - gone[i], unit),
        must_keep: decimal(keep[i], unit),
    };
    Some(ColonyReport {
        colony: colony.name.clone(),
        site: site(scenario, colony.site.0),
        role: colony.role.clone(),
        leaving,
        bees_taken: bees,
        bees_shaken: (bees - on_frames).max(0),
        bees_shaken_back: (on_frames - bees).max(0),
        queen_located: colony.frames.iter().any(|g| g.queen && g.count > 0),
        brood_frames: level(0, 1000.0),
        bees: level(1, 1.0),
        stores_kg: level(2, 1000.0),
        drawn_frames: level(3, 1000.0),
        honey_given_up_charged_estimate_kg: decimal(charged, 1e6),
        honey_given_up_simulated_estimate_kg: decimal(
            simulate(scenario, colony, &groups, bees),
            1e6,
        ),
    })
}

fn on_hold(scenario: &Scenario) -> Vec<OnHold> {
    let held = |c: &Colony| {
        let reason = c.hold.clone()?;
        Some(OnHold {
            colony: c.name.clone(),
            reason,
        })
    };
    scenario.colonies.iter().filter_map(held).collect()
}

/// Loads by site of the boxes, then by place of origin, the store room first.
fn carry(scenario: &Scenario, plan: &Plan) -> Vec<Carry> {
    #[derive(Default)]
    struct Load {
        frames: BTreeMap<FrameState, u32>,
        bees: i64,
        cells: u32,
        feed: f64,
    }
    let mut loads: BTreeMap<(usize, Option<usize>), Load> = BTreeMap::new();
    for c in &plan.compartments {
        let Some(kind) = scenario.boxes.get(c.kind.0) else {
            continue;
        };
        let to = kind.site.0;
        let site_load = loads.entry((to, None)).or_default();
        site_load.cells += 1;
        site_load.feed += compartment(scenario, c).map_or(0.0, |r| r.feed_kg);
        for placed in &c.frames {
            let Some(frame) = frame_of(scenario, placed.origin) else {
                continue;
            };
            let from = match placed.origin {
                Origin::Colony(id, _) => scenario.colonies.get(id.0).map(|d| d.site.0),
                Origin::StoreRoom(_) => None,
            };
            let n = loads
                .entry((to, from))
                .or_default()
                .frames
                .entry(*frame)
                .or_default();
            *n = n.saturating_add(placed.count);
        }
        for placed in &c.bees {
            let from = scenario.colonies.get(placed.colony.0).map(|d| d.site.0);
            let load = loads.entry((to, from)).or_default();
            load.bees = load.bees.saturating_add(placed.bees.0);
        }
    }
    let carried = |((to, from), load): ((usize, Option<usize>), Load)| Carry {
        to_site: site(scenario, to),
        from_site: from.map(|f| site(scenario, f)),
        frames: load
            .frames
            .iter()
            .map(|(f, n)| LoadFrames {
                frames: *n,
                each_holds: holds(scenario, f),
            })
            .collect(),
        bees: load.bees,
        cells: load.cells,
        feed_kg: (load.feed * 1000.0).round() / 1000.0,
    };
    loads.into_iter().map(carried).collect()
}
