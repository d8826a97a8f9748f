//! `calendar`: days, feed and queens to expect of a plan.

use super::args::{self, CalendarFormat};
use super::commands::load;
use super::files::{deliver, may_write};
use super::limit::Limit;
use super::probe::changed;
use super::progress::with_progress;
use super::stock::{answer, width};
use super::task::{Detail, detail, out_file};
use super::{Exit, Stop};
use crate::output::calendar::{Calendar, build, markdown, table};
use crate::output::share::ics;
use crate::output::{Answer, Report, TableOptions, json, yaml};
use spareframe_solver::SolveOptions;
use std::path::{Path, PathBuf};

/// What `calendar` is to do.
#[derive(Debug)]
pub(super) struct CalendarTask {
    scenario: PathBuf,
    /// Values changed first.
    sets: Vec<String>,
    format: CalendarFormat,
    out: Option<PathBuf>,
    force: bool,
    revision: u32,
    time_limit: Limit,
    detail: Detail,
    /// Columns of the table, where the terminal is not to be asked.
    width: Option<usize>,
}

impl CalendarTask {
    pub(super) fn from_args(a: args::Calendar) -> Result<Self, Stop> {
        let out = out_file(a.out, &a.scenario)?;
        let by_ending = out.as_deref().and_then(format_of);
        Ok(Self {
            format: a.format.or(by_ending).unwrap_or(CalendarFormat::Table),
            scenario: a.scenario,
            sets: a.set,
            out,
            force: a.force,
            revision: a.revision,
            time_limit: Limit::of(a.time_limit),
            width: a.width.map(usize::from),
            detail: detail(a.quiet, a.verbose),
        })
    }
}

fn format_of(path: &Path) -> Option<CalendarFormat> {
    match path.extension()?.to_str()?.to_ascii_lowercase().as_str() {
        "md" | "markdown" => Some(CalendarFormat::Markdown),
        "ics" => Some(CalendarFormat::Ics),
        "json" => Some(CalendarFormat::Json),
        "yaml" | "yml" => Some(CalendarFormat::Yaml),
        _ => None,
    }
}

/// Finds the plan and shows its calendar.
pub(super) fn perform(task: &CalendarTask) -> Result<Exit, Stop> {
    if let Some(out) = &task.out {
        may_write(out, task.force)?;
    }
    let (scenario, notes) = match task.sets.is_empty() {
        true => load(&task.scenario, task.detail)?,
        false => changed(&task.scenario, &task.sets, task.detail)?,
    };
    if notes.day.is_none() {
        return Err(no_day());
    }
    let options = SolveOptions {
        time_limit: task.time_limit.left(),
        ..SolveOptions::default()
    };
    let (_, report) = with_progress(task.detail, |progress| {
        let options = SolveOptions {
            progress,
            ..options
        };
        answer(&scenario, &notes, None, &options, task.detail)
    })?;
    let calendar = build(&scenario, &notes, &report).ok_or_else(no_day)?;
    let text = text(task, &calendar, &report)?;
    deliver(&text, task.out.as_deref(), task.force, task.detail)?;
    Ok(match report.headline.answer {
        Answer::Stocked => Exit::Done,
        _ => Exit::No,
    })
}

/// What is wrong where there is no stocking day.
pub(super) fn no_day() -> Stop {
    Stop::Said("a calendar needs the stocking day; add `day` to the scenario".to_owned())
}

fn text(task: &CalendarTask, calendar: &Calendar, report: &Report) -> Result<String, Stop> {
    let failed = |e: &dyn std::fmt::Display| Stop::Said(format!("cannot write the calendar: {e}"));
    match task.format {
        CalendarFormat::Table => Ok(table(
            calendar,
            TableOptions {
                width: task.width.unwrap_or_else(|| width(task.out.is_some())),
                verbose: task.detail == Detail::Verbose,
            },
        )),
        CalendarFormat::Markdown => Ok(markdown(calendar)),
        CalendarFormat::Ics => ics(report, Some(calendar), task.revision).ok_or_else(no_day),
        CalendarFormat::Json => json(calendar).map_err(|e| failed(&e)),
        CalendarFormat::Yaml => yaml(calendar).map_err(|e| failed(&e)),
    }
}
