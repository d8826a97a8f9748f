//! The second layer: what is to be done, with every default filled in and every clash found.

use super::Stop;
use super::args::{Args, Command, Format};
use super::calendar::CalendarTask;
use super::compare::CompareTask;
use super::curve::CurveTask;
use super::files::{is_stdin, label};
use super::inspect::InspectTask;
use super::limit::Limit;
use super::probe::ProbeTask;
use super::share::ShareTask;
use super::why::WhyTask;
use spareframe_solver::Ceiling;
use std::path::{Path, PathBuf};

/// Notes on stderr and extras in the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Detail {
    Quiet,
    Normal,
    Verbose,
}

/// What `stock` is to do.
#[derive(Debug)]
pub(super) struct StockTask {
    pub(super) scenario: PathBuf,
    /// An earlier plan to stay near to.
    pub(super) near: Option<PathBuf>,
    /// The most that is to be stocked.
    pub(super) most: Ceiling,
    pub(super) format: Format,
    pub(super) out: Option<PathBuf>,
    pub(super) force: bool,
    pub(super) time_limit: Limit,
    pub(super) detail: Detail,
    /// Columns of the table, where the terminal is not to be asked.
    pub(super) width: Option<usize>,
}

/// What is to be done.
#[derive(Debug)]
pub(super) enum Task {
    Stock(StockTask),
    Why(WhyTask),
    Curve(CurveTask),
    Probe(ProbeTask),
    Compare(CompareTask),
    Inspect(InspectTask),
    Calendar(CalendarTask),
    Share(ShareTask),
    Verify {
        scenario: PathBuf,
        plan: PathBuf,
        detail: Detail,
    },
    Start {
        file: PathBuf,
        force: bool,
    },
    Schema {
        plan: bool,
    },
    Completions(clap_complete::Shell),
    Manual,
}

impl Task {
    pub(super) fn from_args(args: Args) -> Result<Self, Stop> {
        Ok(match args.command {
            Command::Stock(a) => {
                let out = out_file(a.out, &a.scenario)?;
                if a.near.as_deref().is_some_and(is_stdin) && is_stdin(&a.scenario) {
                    return Err(both_from_stdin());
                }
                let by_ending = out.as_deref().and_then(format_of);
                Self::Stock(StockTask {
                    scenario: a.scenario,
                    near: a.near,
                    most: Ceiling {
                        compartments: a.most,
                        worth: a.worth,
                    },
                    format: a.format.or(by_ending).unwrap_or(Format::Table),
                    out,
                    force: a.force,
                    time_limit: Limit::of(a.time_limit),
                    width: a.width.map(usize::from),
                    detail: detail(a.quiet, a.verbose),
                })
            }
            Command::Why(a) => Self::Why(WhyTask::from_args(a)?),
            Command::Curve(a) => Self::Curve(CurveTask::from_args(a)?),
            Command::Probe(a) => Self::Probe(ProbeTask::from_args(a)?),
            Command::Inspect(a) => Self::Inspect(InspectTask::from_args(a)?),
            Command::Calendar(a) => Self::Calendar(CalendarTask::from_args(a)?),
            Command::Share(a) => Self::Share(ShareTask::from_args(a)?),
            Command::Compare(a) => Self::Compare(CompareTask::from_args(a)?),
            Command::Verify(a) => {
                if is_stdin(&a.scenario) && is_stdin(&a.plan) {
                    return Err(both_from_stdin());
                }
                Self::Verify {
                    scenario: a.scenario,
                    plan: a.plan,
                    detail: detail(a.quiet, false),
                }
            }
            Command::Start(a) => Self::Start {
                file: with_ending(a.name)?,
                force: a.force,
            },
            Command::Schema { plan } => Self::Schema { plan },
            Command::Completions { shell } => Self::Completions(shell),
            Command::Manual => Self::Manual,
        })
    }
}

fn both_from_stdin() -> Stop {
    Stop::Said("scenario and plan cannot both come from stdin (-)".to_owned())
}

/// Notes and extras as typed.
pub(super) fn detail(quiet: bool, verbose: bool) -> Detail {
    match (quiet, verbose) {
        (true, _) => Detail::Quiet,
        (_, true) => Detail::Verbose,
        _ => Detail::Normal,
    }
}

/// The file that is to be written, unless stdout is meant; never the scenario itself.
pub(super) fn out_file(out: Option<PathBuf>, scenario: &Path) -> Result<Option<PathBuf>, Stop> {
    let out = out.filter(|out| !is_stdin(out));
    if let Some(out) = &out
        && same_file(out, scenario)
    {
        return Err(Stop::Said(format!(
            "--out {} is the scenario itself; choose another name",
            label(out)
        )));
    }
    Ok(out)
}

pub(super) fn format_of(path: &Path) -> Option<Format> {
    match path.extension()?.to_str()?.to_ascii_lowercase().as_str() {
        "md" | "markdown" => Some(Format::Markdown),
        "json" => Some(Format::Json),
        "yaml" | "yml" => Some(Format::Yaml),
        _ => None,
    }
}

pub(super) fn same_file(a: &Path, b: &Path) -> bool {
    match (std::fs::canonicalize(a), std::fs::canonicalize(b)) {
        (Ok(a), Ok(b)) => a == b,
        _ => false,
    }
}

fn with_ending(name: PathBuf) -> Result<PathBuf, Stop> {
    let Some(file) = name.file_name().filter(|f| !f.is_empty()) else {
        return Err(Stop::Said(format!(
            "\"{}\" is not a file name",
            label(&name)
        )));
    };
    if matches!(
        name.extension().and_then(|e| e.to_str()),
        Some("yaml" | "yml")
    ) {
        return Ok(name);
    }
    let mut file = file.to_owned();
    file.push(".yaml");
    Ok(name.with_file_name(file))
}
