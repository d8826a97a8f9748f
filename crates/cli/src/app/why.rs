//! `why`: what holds the plan back, and what one more would take.

use super::args::{self, Format};
use super::commands::load;
use super::files::{deliver, may_write};
use super::limit::Limit;
use super::progress::with_progress;
use super::stock::{self, bug, checked, width};
use super::task::{Detail, StockTask, detail, format_of, out_file};
use super::{Exit, Stop};
use crate::output::reasons::{self as output, WhyReport};
use crate::output::{self as plans, Report, TableOptions, json, yaml};
use spareframe_solver::why::{WhyOptions, why};
use spareframe_solver::{Ceiling, Outcome, Plan, Scenario, SolveOptions, solve};
use std::path::PathBuf;

/// What `why` is to do.
#[derive(Debug)]
pub(super) struct WhyTask {
    scenario: PathBuf,
    format: Format,
    out: Option<PathBuf>,
    force: bool,
    time_limit: Limit,
    detail: Detail,
    /// Columns of the table, where the terminal is not to be asked.
    width: Option<usize>,
}

impl WhyTask {
    pub(super) fn from_args(a: args::Why) -> Result<Self, Stop> {
        let out = out_file(a.out, &a.scenario)?;
        let by_ending = out.as_deref().and_then(format_of);
        Ok(Self {
            format: a.format.or(by_ending).unwrap_or(Format::Table),
            scenario: a.scenario,
            out,
            force: a.force,
            time_limit: Limit::of(a.time_limit),
            width: a.width.map(usize::from),
            detail: detail(a.quiet, a.verbose),
        })
    }
}

/// Finds the plan, then its reasons, and shows them.
pub(super) fn perform(task: &WhyTask) -> Result<Exit, Stop> {
    if let Some(out) = &task.out {
        may_write(out, task.force)?;
    }
    let (scenario, notes) = load(&task.scenario, task.detail)?;
    let options = SolveOptions {
        time_limit: task.time_limit.left(),
        ..SolveOptions::default()
    };
    let outcome = with_progress(task.detail, |progress| {
        let options = SolveOptions {
            progress,
            ..options
        };
        solve(&scenario, &options)
    });
    let goals = checked(&scenario, &outcome)?;
    let report = plans::build(&scenario, &notes, &outcome, &goals);
    let found = with_progress(task.detail, |_| {
        reasons(&scenario, &report, &outcome, task.time_limit)
    })?;
    // There is no plan of which there could be reasons; the answer says why.
    let Some(reasons) = found else {
        return unmet(task, &report);
    };
    let text = text(task, &reasons)?;
    deliver(&text, task.out.as_deref(), task.force, task.detail)?;
    Ok(match outcome {
        Outcome::Stocked(_) => Exit::Done,
        Outcome::Nothing | Outcome::TimedOut | Outcome::Unmet(_) => Exit::No,
    })
}

/// The reasons of a plan; none where wishes cannot be met.
pub(super) fn reasons(
    scenario: &Scenario,
    report: &Report,
    outcome: &Outcome,
    time_limit: Limit,
) -> Result<Option<WhyReport>, Stop> {
    let empty = Plan::default();
    let plan = match outcome {
        Outcome::Stocked(stocking) => &stocking.plan,
        Outcome::Unmet(_) => return Ok(None),
        Outcome::Nothing | Outcome::TimedOut => &empty,
    };
    let asked = WhyOptions {
        time_limit: time_limit.left(),
        ..WhyOptions::default()
    };
    let found = why(scenario, outcome, &asked);
    if found.refused > 0 {
        let fault = format!("{} plans of what is offered fail the check", found.refused);
        return Err(bug(&[fault]));
    }
    Ok(Some(output::build(scenario, report, plan, &found)))
}

/// Wishes that cannot be met, as `stock` says it.
fn unmet(task: &WhyTask, report: &Report) -> Result<Exit, Stop> {
    let shown = StockTask {
        scenario: task.scenario.clone(),
        format: task.format,
        out: task.out.clone(),
        force: task.force,
        time_limit: Limit::of(None),
        detail: task.detail,
        width: task.width,
        near: None,
        most: Ceiling::default(),
    };
    let text = stock::text(&shown, report)?;
    deliver(&text, task.out.as_deref(), task.force, task.detail)?;
    Ok(Exit::No)
}

fn text(task: &WhyTask, report: &WhyReport) -> Result<String, Stop> {
    let failed = |e: &dyn std::fmt::Display| Stop::Said(format!("cannot write the reasons: {e}"));
    match task.format {
        Format::Table => Ok(output::table(
            report,
            TableOptions {
                width: task.width.unwrap_or_else(|| width(task.out.is_some())),
                verbose: task.detail == Detail::Verbose,
            },
        )),
        Format::Markdown => Ok(output::markdown(report)),
        Format::Json => json(report).map_err(|e| failed(&e)),
        Format::Yaml => yaml(report).map_err(|e| failed(&e)),
    }
}
