//! `share`: a plan to hand on, in a folder or in one format.

use super::answer::answer;
use super::args;
use super::curve;
use super::delivery::{Delivery, written};
use super::detail::Detail;
use super::ended::{Exit, Stop, note};
use super::files::{label, read};
use super::folder;
use super::limit::Limit;
use super::load::load_bytes;
use super::progress::with_progress;
use super::rounds::Rounds;
use super::stock::ceiling;
use super::when::Ahead;
use super::why;
use crate::output::calendar::build as build_calendar;
use crate::output::curve::{CurveReport, build};
use crate::output::reasons::WhyReport;
use crate::output::season::SeasonReport;
use crate::output::share::Shared;
use crate::output::when::WhenReport;
use crate::output::{Format, Notes, Report, TableOptions};
use spareframe_solver::{Ceiling, Outcome, Scenario, SolveOptions};
use std::path::PathBuf;
use std::time::Duration;

/// Most colonies for which the page shows curve and reasons (a choice: beyond, they are felt).
const MOST_COLONIES: usize = 60;

/// Days ahead that the page shows (a choice: what a forecast of the weather and two rounds of cells ask for).
const DAYS: [u32; 8] = [0, 2, 4, 6, 8, 10, 12, 14];

/// How long the page may look for what it shows beside the plan (a choice; `curve`, `why` and `when` take their time).
const BESIDE: Duration = Duration::from_secs(5);

/// What `share` is to do.
#[derive(Debug)]
pub(super) struct ShareTask {
    scenario: PathBuf,
    /// The most that is to be stocked.
    most: Ceiling,
    to: Option<PathBuf>,
    revision: u32,
    time_limit: Limit<'static>,
    /// The table begins with a byte-order mark.
    bom: bool,
    shown: Delivery,
}

impl ShareTask {
    pub(super) fn from_args(a: args::Share) -> Result<Self, Stop> {
        let shown = Delivery::of(a.writing, &a.of.scenario, (&a.quiet).into())?;
        let bom = a.mark.bom;
        Ok(Self {
            scenario: a.of.scenario,
            most: ceiling(&a.ceiling),
            shown: shown.marked(bom && a.to.is_none())?,
            to: a.to,
            revision: a.handed_on.revision,
            time_limit: Limit::of(a.time.time_limit),
            bom,
        })
    }
}

/// Formats of a folder and the names of their files, which no scenario can change.
const FILES: [(&str, Format); 6] = [
    ("plan.html", Format::Html),
    ("plan.md", Format::Markdown),
    ("plan.yaml", Format::Yaml),
    ("plan.json", Format::Json),
    ("frames.csv", Format::Csv),
    ("calendar.ics", Format::Ics),
];
/// The same of the season, where there is one.
const OF_SEASON: [(&str, Format); 2] = [("season.csv", Format::Csv), ("season.svg", Format::Svg)];

/// Finds the plan and hands it on.
pub(super) fn perform(task: &ShareTask) -> Result<Exit, Stop> {
    task.shown.may_write()?;
    if let Some(to) = &task.to {
        folder::may_write(to, task.shown.force)?;
    }
    let bytes = read(&task.scenario)?;
    let (scenario, notes) = load_bytes(&task.scenario, &bytes, task.shown.detail)?;
    let options = SolveOptions {
        most: task.most,
        ..task.time_limit.solving()
    };
    let yard = yard(task, &scenario, &notes);
    let without_season = yard.as_ref().and_then(|yard| yard.as_ref().err());
    if let Some(why) = without_season
        && task.shown.detail != Detail::Quiet
    {
        note(&format!("note: the season is left out: {why}"));
    }
    let yard = yard.as_ref().and_then(|yard| yard.as_ref().ok());
    let (outcome, handed) = with_progress(task.shown.detail, |progress| {
        let options = SolveOptions {
            progress,
            ..options
        };
        Ok::<_, Stop>(match yard {
            Some(yard) => {
                let (outcome, season) =
                    yard.report((None, None), task.time_limit, task.shown.detail)?;
                (outcome, Handed::Season(Box::new(season)))
            }
            None => {
                let (outcome, plan) = answer(&scenario, &notes, None, &options, task.shown.detail)?;
                (outcome, Handed::Plan(Box::new(plan)))
            }
        })
    })?;
    let (report, season) = match &handed {
        Handed::Plan(plan) => (&**plan, None),
        Handed::Season(season) => (&season.plan, Some(&**season)),
    };
    // What today's plan alone could be says nothing of one that the season decides.
    let for_itself = yard.is_none_or(Rounds::alone);
    let Beside {
        curve,
        reasons,
        when,
    } = match for_itself && (task.to.is_some() || task.shown.format == Format::Html) {
        true => with_progress(task.shown.detail, |_| {
            beside((&scenario, &notes), (&outcome, report), task.time_limit)
        })?,
        false => Beside::default(),
    };
    let calendar = build_calendar(&scenario, &notes, report);
    let shared = Shared {
        notes: &notes,
        scenario: &scenario,
        source: &String::from_utf8_lossy(&bytes),
        report,
        season,
        without_season: without_season.map(String::as_str),
        curve: curve.as_ref(),
        reasons: reasons.as_ref(),
        when: when.as_ref(),
        calendar: calendar.as_ref(),
        revision: task.revision,
    };
    hand_on(task, &shared)?;
    Ok(Exit::of(report))
}

/// What is handed on.
enum Handed {
    Plan(Box<Report>),
    Season(Box<SeasonReport>),
}

/// The yard whose season is handed on; why it is left out, where there is one.
fn yard<'a>(
    task: &ShareTask,
    scenario: &'a Scenario,
    notes: &'a Notes,
) -> Option<Result<Rounds<'a>, String>> {
    let asked = notes.season.as_ref()?;
    let today = notes.day.as_deref()?.parse().ok()?;
    let capped = task.most.compartments.is_some() || task.most.worth.is_some();
    Some(match scenario.done.is_empty() {
        false => Err(
            "something is done already today; it is decided anew when the day is closed".to_owned(),
        ),
        true if capped => {
            Err("it decides itself how many to stock today, and a ceiling was asked for".to_owned())
        }
        true => Rounds::at(scenario, notes, asked, today),
    })
}

/// What the page shows beside the plan.
#[derive(Default)]
pub(super) struct Beside {
    pub(super) curve: Option<CurveReport>,
    pub(super) reasons: Option<WhyReport>,
    pub(super) when: Option<WhenReport>,
}

/// Curve, reasons and later days, where the yard is of usual size.
pub(super) fn beside(
    (scenario, notes): (&Scenario, &Notes),
    (outcome, report): (&Outcome, &Report),
    time_limit: Limit,
) -> Result<Beside, Stop> {
    if scenario.colonies.len() > MOST_COLONIES {
        return Ok(Beside::default());
    }
    let limit = time_limit.at_most(BESIDE);
    let options = limit.solving();
    let ahead = Ahead {
        scenario,
        notes,
        time_limit: limit,
        detail: Detail::Quiet,
    };
    let today = notes.day.as_deref().and_then(|day| day.parse().ok());
    // With something done, later days begin where the day is closed.
    let today = today.filter(|_| scenario.done.is_empty());
    let ((found, reasons), when) = rayon::join(
        || {
            rayon::join(
                || spareframe_solver::curve(scenario, &options),
                || why::reasons((scenario, notes), report, outcome, limit),
            )
        },
        || today.map(|today| ahead.report(today, &DAYS)).transpose(),
    );
    curve::checked(scenario, &found)?;
    let curve = build(scenario, notes, &found);
    let plan = &report.headline;
    Ok(Beside {
        curve: Some(curve.beside(plan.worth, plan.cost_g)),
        reasons: reasons?,
        when: when?,
    })
}

fn hand_on(task: &ShareTask, shared: &Shared) -> Result<(), Stop> {
    let Some(to) = &task.to else {
        return task.shown.deliver(shared);
    };
    let mut files = Vec::new();
    for (name, format) in FILES {
        if format == Format::Ics && shared.report.day.is_none() {
            continue;
        }
        let layout = TableOptions::default();
        files.push((name, written(shared, format, layout, task.bom)?));
    }
    for (name, format) in OF_SEASON {
        if let Some(season) = shared.season {
            files.push((
                name,
                written(season, format, TableOptions::default(), task.bom)?,
            ));
        }
    }
    // Of an older plan that had more to say nothing may stay.
    let is_new = |name: &str| files.iter().any(|(file, _)| *file == name);
    let names = FILES.iter().chain(&OF_SEASON).map(|(name, _)| *name);
    let gone: Vec<&str> = names.filter(|name| !is_new(name)).collect();
    let all = folder::Files {
        new: &files,
        gone: &gone,
    };
    folder::write(to, &all, task.shown.force)?;
    if task.shown.detail != Detail::Quiet {
        let names: Vec<&str> = files.iter().map(|(name, _)| *name).collect();
        note(&format!("wrote {}: {}", label(to), names.join(", ")));
    }
    Ok(())
}
