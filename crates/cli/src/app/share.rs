//! `share`: a plan to hand on, in a folder or in one format.

use super::args::{self, ShareFormat};
use super::calendar::no_day;
use super::commands::load_bytes;
use super::curve;
use super::files::{deliver, label, may_write, read};
use super::folder;
use super::limit::Limit;
use super::progress::with_progress;
use super::stock::answer;
use super::task::{Detail, detail, out_file};
use super::{Exit, Stop, note, why};
use crate::output::calendar::build as build_calendar;
use crate::output::curve::{CurveReport, build};
use crate::output::reasons::WhyReport;
use crate::output::share::{Shared, csv, html, ics};
use crate::output::{self, Answer, Notes, Report};
use spareframe_solver::{Ceiling, Outcome, Scenario, SolveOptions};
use std::path::{Path, PathBuf};

/// Most colonies for which the page shows curve and reasons (a choice: beyond, they are felt).
const MOST_COLONIES: usize = 60;

/// What `share` is to do.
#[derive(Debug)]
pub(super) struct ShareTask {
    scenario: PathBuf,
    /// The most that is to be stocked.
    most: Ceiling,
    to: Option<PathBuf>,
    format: ShareFormat,
    out: Option<PathBuf>,
    force: bool,
    revision: u32,
    time_limit: Limit,
    detail: Detail,
}

impl ShareTask {
    pub(super) fn from_args(a: args::Share) -> Result<Self, Stop> {
        let out = out_file(a.out, &a.scenario)?;
        let by_ending = out.as_deref().and_then(format_of);
        Ok(Self {
            format: a.format.or(by_ending).unwrap_or(ShareFormat::Html),
            scenario: a.scenario,
            most: Ceiling {
                compartments: a.most,
                worth: a.worth,
            },
            to: a.to,
            out,
            force: a.force,
            revision: a.revision,
            time_limit: Limit::of(a.time_limit),
            detail: detail(a.quiet, false),
        })
    }
}

fn format_of(path: &Path) -> Option<ShareFormat> {
    match path.extension()?.to_str()?.to_ascii_lowercase().as_str() {
        "html" | "htm" => Some(ShareFormat::Html),
        "md" | "markdown" => Some(ShareFormat::Markdown),
        "csv" => Some(ShareFormat::Csv),
        "ics" => Some(ShareFormat::Ics),
        "json" => Some(ShareFormat::Json),
        "yaml" | "yml" => Some(ShareFormat::Yaml),
        _ => None,
    }
}

/// Formats of a folder and the names of their files, which no scenario can change.
const FILES: [(&str, ShareFormat); 6] = [
    ("plan.html", ShareFormat::Html),
    ("plan.md", ShareFormat::Markdown),
    ("plan.yaml", ShareFormat::Yaml),
    ("plan.json", ShareFormat::Json),
    ("frames.csv", ShareFormat::Csv),
    ("calendar.ics", ShareFormat::Ics),
];

/// Finds the plan and hands it on.
pub(super) fn perform(task: &ShareTask) -> Result<Exit, Stop> {
    if let Some(out) = &task.out {
        may_write(out, task.force)?;
    }
    if let Some(to) = &task.to {
        folder::may_write(to, task.force)?;
    }
    let bytes = read(&task.scenario)?;
    let (scenario, notes) = load_bytes(&task.scenario, &bytes, task.detail)?;
    let options = SolveOptions {
        time_limit: task.time_limit.left(),
        most: task.most,
        ..SolveOptions::default()
    };
    let (outcome, report) = with_progress(task.detail, |progress| {
        let options = SolveOptions {
            progress,
            ..options
        };
        answer(&scenario, &notes, None, &options, task.detail)
    })?;
    let (curve, reasons) = shown(task, &scenario, &notes, (&outcome, &report))?;
    let calendar = build_calendar(&scenario, &notes, &report);
    let shared = Shared {
        notes: &notes,
        scenario: &scenario,
        source: &String::from_utf8_lossy(&bytes),
        report: &report,
        curve: curve.as_ref(),
        reasons: reasons.as_ref(),
        calendar: calendar.as_ref(),
    };
    hand_on(task, &shared)?;
    Ok(match report.headline.answer {
        Answer::Stocked => Exit::Done,
        _ => Exit::No,
    })
}

/// Curve and reasons, where the page is written and the yard is of usual size.
fn shown(
    task: &ShareTask,
    scenario: &Scenario,
    notes: &Notes,
    (outcome, report): (&Outcome, &Report),
) -> Result<(Option<CurveReport>, Option<WhyReport>), Stop> {
    let page = task.to.is_some() || task.format == ShareFormat::Html;
    if !page || scenario.colonies.len() > MOST_COLONIES {
        return Ok((None, None));
    }
    let options = SolveOptions {
        time_limit: task.time_limit.left(),
        ..SolveOptions::default()
    };
    let (found, reasons) = with_progress(task.detail, |_| {
        rayon::join(
            || spareframe_solver::curve(scenario, &options),
            || why::reasons(scenario, report, outcome, task.time_limit),
        )
    });
    curve::checked(scenario, &found)?;
    Ok((Some(build(scenario, notes, &found)), reasons?))
}

fn hand_on(task: &ShareTask, shared: &Shared) -> Result<(), Stop> {
    let Some(to) = &task.to else {
        let text = text(task.format, task.revision, shared)?.ok_or_else(no_day)?;
        return deliver(&text, task.out.as_deref(), task.force, task.detail);
    };
    let mut files = Vec::new();
    for (name, format) in FILES {
        if let Some(text) = text(format, task.revision, shared)? {
            files.push((name, text));
        }
    }
    // Of an older plan that had more to say nothing may stay.
    let written = |name: &str| files.iter().any(|(file, _)| *file == name);
    let names = FILES.iter().map(|(name, _)| *name);
    let gone: Vec<&str> = names.filter(|name| !written(name)).collect();
    folder::write(
        to,
        &folder::Files {
            new: &files,
            gone: &gone,
        },
        task.force,
    )?;
    if task.detail != Detail::Quiet {
        let names: Vec<&str> = files.iter().map(|(name, _)| *name).collect();
        note(&format!("wrote {}: {}", label(to), names.join(", ")));
    }
    Ok(())
}

/// One format; `None` for a calendar without a day.
fn text(format: ShareFormat, revision: u32, shared: &Shared) -> Result<Option<String>, Stop> {
    let failed = |e: &dyn std::fmt::Display| Stop::Said(format!("cannot write the plan: {e}"));
    let report = shared.report;
    let text = match format {
        ShareFormat::Html => html(shared).map_err(|e| failed(&e))?,
        ShareFormat::Markdown => output::markdown(report),
        ShareFormat::Csv => csv(report).map_err(|e| failed(&e))?,
        ShareFormat::Ics => return Ok(ics(report, shared.calendar, revision)),
        ShareFormat::Json => output::json(report).map_err(|e| failed(&e))?,
        ShareFormat::Yaml => output::yaml(report).map_err(|e| failed(&e))?,
    };
    Ok(Some(text))
}
