//! From a scenario and its answer to the report: the table of contents and the headline.

use super::carry::carry;
use super::donors::{colony, simulated_total};
use super::report::{
    Answer, CompartmentReport, FORMAT_VERSION, Headline, Holds, KindReport, OnHold, Progress,
    ProofReport, ProofState, Report,
};
use super::stocked::compartment;
use super::{assumptions, cautions};
use crate::scenario::{Loaded, Places, Rearing};
use spareframe_solver::{
    BoxId, BoxKind, Colony, FrameState, Goals, Milli, Origin, Outcome, Plan, Proof, Scenario,
    remains,
};
use std::collections::BTreeSet;

/// What a scenario file says beside what the solver takes.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Notes {
    /// Title of the scenario.
    pub title: Option<String>,
    /// Stocking day, as year-month-day.
    pub day: Option<String>,
    /// Where frames hang or lie.
    pub places: Places,
    /// What the calendar counts with.
    pub rearing: Rearing,
}

impl From<&Loaded> for Notes {
    fn from(loaded: &Loaded) -> Self {
        Self {
            title: loaded.title.clone(),
            day: loaded.day.map(|d| d.to_string()),
            places: loaded.places.clone(),
            rearing: loaded.rearing.clone(),
        }
    }
}

/// Builds the report of an answer. `goals` are those that the check recomputed.
///
/// A plan that names a colony, box or frame that the scenario does not have is a breach; such
/// parts are left out here, so check first.
#[must_use]
pub fn build(scenario: &Scenario, notes: &Notes, outcome: &Outcome, goals: &Goals) -> Report {
    // Where nothing is stocked, what is done stays as it is.
    let empty = Plan {
        begun: scenario.done.clone(),
        ..Plan::default()
    };
    let (plan, answer, proof) = match outcome {
        Outcome::Stocked(s) => (&s.plan, Answer::Stocked, Some(proof(s.proof, goals))),
        Outcome::Nothing => (&empty, Answer::NothingPossible, None),
        Outcome::TimedOut => (&empty, Answer::StoppedWithoutPlan, None),
        Outcome::Unmet(_) => (&empty, Answer::WishNotMet, None),
    };
    let compartments: Vec<_> = plan
        .compartments
        .iter()
        .filter_map(|c| compartment(scenario, notes, c))
        .collect();
    let begun = plan.begun.iter();
    let begun = begun
        .filter_map(|c| compartment(scenario, notes, c))
        .map(|c| CompartmentReport {
            done: Some(Progress::Begun),
            ..c
        })
        .collect();
    let rest = plan.rest(&scenario.done);
    let accounts = remains(scenario, plan);
    let draws = super::donors::draws(scenario, plan);
    let left = super::donors::draws(scenario, &rest);
    let colonies: Vec<_> = accounts
        .iter()
        .zip(draws.iter().zip(&left))
        .filter_map(|(account, (draw, left))| colony(scenario, notes, account, draw, left))
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
        honey_given_up_simulated_estimate_kg: simulated_total(scenario, &draws),
        colonies_opened: goals.opened,
        bees_taken: accounts.iter().map(|account| account.bees.0).sum(),
        bees_shaken: goals.shaken.0,
    };
    let mut report = Report {
        spareframe_plan: FORMAT_VERSION,
        title: notes.title.clone(),
        day: notes.day.clone(),
        headline,
        kept: None,
        wishes: super::wishes::wishes(scenario, outcome),
        held_back_by: Vec::new(),
        steps: Vec::new(),
        compartments,
        begun,
        colonies,
        on_hold: on_hold(scenario),
        carry: carry(scenario, plan),
        cautions: Vec::new(),
        estimate_assumptions: assumptions(scenario),
    };
    report.cautions = cautions(scenario, &report);
    report.steps = super::steps::steps(&report, notes);
    report
}

#[expect(
    clippy::cast_precision_loss,
    reason = "figures of an apiary stay far below 2^53"
)]
pub(super) fn decimal(value: i64, unit: f64) -> f64 {
    value as f64 / unit
}

pub(super) fn proof(proof: Proof, goals: &Goals) -> ProofReport {
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
                5 => {
                    // Known where the earlier plan is: `keep_account`.
                    let best = decimal(bound, 1.0);
                    return ProofReport {
                        state: state(timed_out),
                        open_goal: Some(super::kept::OTHERWISE.to_owned()),
                        reached: None,
                        best_possible: Some(best),
                    };
                }
                3 => ("colonies opened", i64::from(goals.opened), 1.0),
                _ => ("bees shaken", goals.shaken.0, 1.0),
            };
            ProofReport {
                state: state(timed_out),
                open_goal: Some(name.to_owned()),
                reached: Some(decimal(reached, unit)),
                best_possible: Some(decimal(bound, unit)),
            }
        }
    }
}

fn state(timed_out: bool) -> ProofState {
    match timed_out {
        true => ProofState::StoppedByTimeLimit,
        false => ProofState::BestFound,
    }
}

fn kinds(scenario: &Scenario, plan: &Plan) -> Vec<KindReport> {
    let kind_report = |(id, kind): (usize, &BoxKind)| {
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

pub(super) fn site(scenario: &Scenario, id: usize) -> String {
    let site = scenario.sites.get(id);
    site.map(|s| s.name.clone()).unwrap_or_default()
}

pub(super) fn holds(scenario: &Scenario, frame: &FrameState) -> Holds {
    let share = |m: Milli| decimal(m.0, 1000.0);
    let comb = scenario.combs.get(frame.comb.0);
    Holds {
        comb: comb.map(|c| c.name.clone()).unwrap_or_default(),
        brood_share: share(frame.brood),
        sealed_share: share(frame.sealed),
        stores_share: share(frame.stores),
        drawn_share: share(frame.drawn),
        bees_share: share(frame.bees),
    }
}

pub(super) fn frame_of(scenario: &Scenario, origin: Origin) -> Option<&FrameState> {
    match origin {
        Origin::Colony(c, g) => Some(&scenario.colonies.get(c.0)?.frames.get(g)?.frame),
        Origin::StoreRoom(e) => Some(&scenario.store_room.get(e)?.frame),
    }
}

/// Where frames hang or lie, where the file says so.
pub(super) fn place(notes: &Notes, origin: Origin) -> Option<String> {
    match origin {
        Origin::Colony(c, g) => notes.places.colonies.get(c.0)?.get(g)?.clone(),
        Origin::StoreRoom(e) => notes.places.store_room.get(e)?.clone(),
    }
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
