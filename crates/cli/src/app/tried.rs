//! The plan of what is tried on the desk: searched for so long, checked, with its report.

use super::answer::{checked_near, hold_back};
use super::detail::Detail;
use super::ended::Stop;
use super::limit::Limit;
use crate::output::probe::{self, Draws, Row};
use crate::output::{Notes, Report, build, keep_account};
use crate::plan::{Earlier, read_earlier};
use crate::scenario::Loaded;
use serde_json::json;
use spareframe_solver::{Goals, Outcome, Plan, Proof, Scenario, SolveOptions, solve};
use std::time::Duration;

/// A plan among alternatives.
pub(super) type RowAndDraws = (Row, Draws);

/// What is tried.
pub(super) struct Trying<'a> {
    pub(super) loaded: &'a Loaded,
    /// The plan that is loaded.
    pub(super) near: Option<&'a str>,
    pub(super) limit: Limit<'a>,
    /// How long to look for what keeps compartments empty.
    pub(super) held_back: Option<Duration>,
}

/// What came of it.
pub(super) struct Tried {
    pub(super) scenario: Scenario,
    pub(super) notes: Notes,
    pub(super) earlier: Option<Earlier>,
    pub(super) outcome: Outcome,
    goals: Goals,
    pub(super) report: Report,
    /// Nothing better is left to be found.
    pub(super) proved: bool,
}

impl Trying<'_> {
    pub(super) fn find(&self) -> Result<Tried, Stop> {
        let notes = Notes::from(self.loaded);
        let scenario = self.loaded.scenario.clone();
        let earlier = self.near.map(|near| {
            let read = read_earlier(
                &scenario,
                &notes.places,
                "the plan that is loaded",
                near.as_bytes(),
            );
            let why = read
                .findings
                .first()
                .map_or(String::new(), |f| f.found.clone());
            read.earlier
                .ok_or_else(|| Stop::Said(format!("the plan that is loaded cannot be read: {why}")))
        });
        let earlier = earlier.transpose()?;
        let near = earlier.as_ref().map(|earlier| &earlier.plan);
        let options = SolveOptions {
            near,
            ..self.limit.solving()
        };
        let outcome = solve(&scenario, &options);
        let goals = checked_near(&scenario, &outcome, near)?;
        let mut report = build(&scenario, &notes, &outcome, &goals);
        if let (Some(earlier), Outcome::Stocked(stocking)) = (&earlier, &outcome) {
            keep_account(&mut report, earlier, &stocking.plan);
        }
        let proved = match &outcome {
            Outcome::Stocked(stocking) => stocking.proof == Proof::Best,
            Outcome::Nothing | Outcome::Unmet(_) => true,
            Outcome::TimedOut => false,
        };
        if let Some(limit) = self.held_back {
            let limit = self.limit.at_most(limit);
            hold_back(
                (&scenario, &notes),
                &outcome,
                &mut report,
                limit,
                Detail::Normal,
            );
        }
        Ok(Tried {
            scenario,
            notes,
            earlier,
            outcome,
            goals,
            report,
            proved: proved && self.held_back.is_some(),
        })
    }
}

impl Tried {
    pub(super) fn plan(&self) -> Plan {
        match &self.outcome {
            Outcome::Stocked(stocking) => stocking.plan.clone(),
            _ => crate::output::done_alone(&self.scenario),
        }
    }

    pub(super) fn row(&self) -> RowAndDraws {
        probe::row(&self.scenario, &self.outcome, &self.goals)
    }

    /// As much of the plan as `stock --near` reads.
    pub(super) fn in_short(&self) -> Result<String, String> {
        let report = &self.report;
        let short = json!({
            "spareframe_plan": report.spareframe_plan,
            "day": report.day,
            "compartments": report.compartments,
            "begun": report.begun,
        });
        serde_json::to_string(&short).map_err(|error| error.to_string())
    }
}
