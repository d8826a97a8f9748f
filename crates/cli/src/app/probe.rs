//! `probe`: alternatives beside the plan as it is.

use super::answer::{answer, checked};
use super::args;
use super::delivery::{Delivery, same_file};
use super::detail::Detail;
use super::ended::{Exit, Stop, columns, note};
use super::files::{is_stdin, label, read};
use super::limit::Limit;
use super::progress::with_progress;
use super::rounds::Rounds;
use super::season::exit;
use super::stock::{StockTask, plan};
use super::what_if::{Other, probe_season};
use crate::output::calendar::shifted;
use crate::output::probe::{self as output, Draws, Row};
use crate::output::{Format, Notes};
use crate::probe::{Alternative, Question, Remark, Typed, question};
use crate::reading::{Severity, plain};
use crate::scenario::Loaded;
use rayon::prelude::*;
use spareframe_solver::{Ceiling, Scenario, solve};
use std::path::PathBuf;

/// What `probe` is to do.
#[derive(Debug)]
pub(super) struct ProbeTask {
    typed: Typed,
    /// All rounds are asked about.
    season: bool,
    /// Days by which the stocking day is put off.
    postpone: Vec<u32>,
    alternatives: Option<PathBuf>,
    /// The alternative whose whole plan is asked for.
    plan: Option<String>,
    /// The scenario, and how to show what is asked.
    asked: StockTask,
}

impl ProbeTask {
    pub(super) fn from_args(a: args::Probe) -> Result<Self, Stop> {
        let scenario = a.of.scenario;
        let shown = Delivery::of(a.writing, &scenario, (&a.said).into())?;
        if let Some(file) = &a.alternatives {
            if is_stdin(file) && is_stdin(&scenario) {
                return Err(Stop::Said(
                    "scenario and alternatives cannot both come from stdin (-)".to_owned(),
                ));
            }
            if shown.out.as_ref().is_some_and(|out| same_file(out, file)) {
                return Err(Stop::Said(format!(
                    "--out {} is the file of alternatives itself; choose another name",
                    label(file)
                )));
            }
        }
        Ok(Self {
            typed: Typed {
                sets: a.sets.set,
                gives: a.give,
                spares: a.spare,
                ..Typed::default()
            },
            season: a.about.of_season,
            postpone: a.postpone,
            alternatives: a.alternatives,
            plan: a.plan,
            asked: StockTask {
                near: None,
                most: Ceiling::default(),
                scenario,
                time_limit: Limit::of(a.time.time_limit),
                shown: shown.wide(a.table.width),
            },
        })
    }
}

/// Sets the alternatives side by side, or shows the plan of one.
pub(super) fn perform(task: &ProbeTask) -> Result<Exit, Stop> {
    let shown = &task.asked.shown;
    shown.may_write()?;
    let scenario = &task.asked.scenario;
    let bytes = read(scenario)?;
    let mut typed = task.typed.clone();
    if let Some(file) = &task.alternatives {
        typed.alternatives = Some((label(file), read(file)?));
    }
    typed.sets.extend(postponed(task, &bytes)?);
    let (asked, remarks) = question(&label(scenario), &bytes, &typed);
    show(&remarks, shown.detail);
    let asked = asked.ok_or(Stop::Reported)?;
    if task.season {
        return season(task, &asked);
    }
    if let Some(which) = &task.plan {
        let loaded = chosen(&asked, which)?;
        return plan(&task.asked, &loaded.scenario, &Notes::from(&loaded));
    }
    let rows = with_progress(shown.detail, |_| rows(&asked, task.asked.time_limit))?;
    let today = &asked.today;
    let report = output::build(&today.scenario, &Notes::from(today), &asked.in_all, rows);
    let mut text = shown.text(&report)?;
    if let ([_], [only]) = (task.postpone.as_slice(), asked.alternatives.as_slice()) {
        text += &whole(task, &load(&asked, only)?)?;
    }
    shown.hand_over(&text)?;
    Ok(Exit::Done)
}

/// Sets alternatives of the season side by side, or shows the season of one.
fn season(task: &ProbeTask, asked: &Question) -> Result<Exit, Stop> {
    let (shown, limit) = (&task.asked.shown, task.asked.time_limit);
    if let Some(which) = &task.plan {
        let loaded = chosen(asked, which)?;
        let notes = Notes::from(&loaded);
        let rounds = Rounds::of(&loaded.scenario, &notes)?;
        let (_, report) = with_progress(shown.detail, |_| {
            rounds.report((None, None), limit, shown.detail)
        })?;
        shown.deliver(&report)?;
        return Ok(exit(&report));
    }
    let report = with_progress(shown.detail, |_| {
        let changed = asked.alternatives.par_iter();
        let changed = changed.map(|alternative| {
            let changes = (alternative.name.clone(), asked.changes(alternative));
            Ok((changes, load(asked, alternative)?))
        });
        let changed: Result<Vec<Other>, Stop> = changed.collect();
        probe_season(&asked.today, &asked.in_all, &changed?, limit)
    })?;
    shown.deliver(&report)?;
    Ok(Exit::Done)
}

/// The stocking days of a scenario put off, as a change of its day. What is wrong with the file is found when
/// it is asked about.
fn postponed(task: &ProbeTask, bytes: &[u8]) -> Result<Option<String>, Stop> {
    if task.postpone.is_empty() {
        return Ok(None);
    }
    let Some(loaded) = crate::scenario::read("", bytes).loaded else {
        return Ok(Some("day=~".to_owned()));
    };
    let day = loaded.day.ok_or_else(|| {
        Stop::Said("--postpone needs the stocking day; add `day` to the scenario".to_owned())
    })?;
    if !loaded.scenario.done.is_empty() {
        return Err(Stop::Said(
            "something is done already (`done`): what stands in boxes cannot wait; plan the rest for today"
                .to_owned(),
        ));
    }
    let later = |days: &u32| day.saturating_add(jiff::Span::new().days(i64::from(*days)));
    let days: Vec<String> = task
        .postpone
        .iter()
        .map(|days| later(days).to_string())
        .collect();
    Ok(Some(format!("day={}", days.join(","))))
}

/// The plan of the only day that is asked about, behind the figures; data have it apart, with `--plan`.
fn whole(task: &ProbeTask, loaded: &Loaded) -> Result<String, Stop> {
    let shown = &task.asked.shown;
    if !matches!(shown.format, Format::Table | Format::Markdown) {
        return Ok(String::new());
    }
    let options = task.asked.time_limit.solving();
    let notes = Notes::from(loaded);
    let (_, report) = answer(&loaded.scenario, &notes, None, &options, shown.detail)?;
    Ok(format!("\n{}", shown.text(&report)?))
}

/// A scenario with single values changed, as if the file had been edited.
pub(super) fn changed(
    path: &std::path::Path,
    sets: &[String],
    detail: Detail,
) -> Result<(Scenario, Notes), Stop> {
    let bytes = read(path)?;
    let typed = Typed {
        sets: sets.to_vec(),
        ..Typed::default()
    };
    let (asked, remarks) = question(&label(path), &bytes, &typed);
    show(&remarks, detail);
    let asked = asked.ok_or(Stop::Reported)?;
    let [only] = asked.alternatives.as_slice() else {
        return Err(Stop::Said(
            "a calendar is of one day: give each --set one value, or compare several with `spareframe probe`"
                .to_owned(),
        ));
    };
    let loaded = load(&asked, only)?;
    let notes = Notes::from(&loaded);
    Ok((loaded.scenario, notes))
}

fn show(remarks: &[Remark], detail: Detail) {
    for Remark { finding, source } in remarks {
        if detail != Detail::Quiet || finding.severity == Severity::Error {
            note(finding.render_within(source, true, columns()).trim_end());
        }
    }
}

/// The scenario of the alternative that is named or numbered.
fn chosen(asked: &Question, which: &str) -> Result<Loaded, Stop> {
    let by_name = asked.alternatives.iter().find(|a| a.name == which);
    let by_number = || match which.parse::<usize>().ok()? {
        0 => Some(None),
        number => asked.alternatives.get(number - 1).map(Some),
    };
    let Some(alternative) = by_name.map(Some).or_else(by_number) else {
        return Err(Stop::Said(format!(
            "--plan {}: no such alternative; write its name, or its number from 0 (as it is) to {}",
            plain(which),
            asked.alternatives.len()
        )));
    };
    match alternative {
        None => Ok(asked.today.clone()),
        Some(alternative) => load(asked, alternative),
    }
}

/// What was read without an error is read so again.
fn load(asked: &Question, alternative: &Alternative) -> Result<Loaded, Stop> {
    let lost = || super::bugs::report(&format!("alternative {} is lost", alternative.name));
    asked.load(alternative).ok_or_else(|| Stop::Said(lost()))
}

/// The plan as it is and every alternative, each with a search of its own.
fn rows(asked: &Question, time_limit: Limit) -> Result<Vec<(Row, Draws)>, Stop> {
    let row = |loaded: &Loaded| -> Result<(Row, Draws), Stop> {
        let options = time_limit.solving();
        let outcome = solve(&loaded.scenario, &options);
        let goals = checked(&loaded.scenario, &outcome)?;
        let (mut row, draws) = output::row(&loaded.scenario, &outcome, &goals);
        if loaded.day != asked.today.day {
            let notes = Notes::from(loaded);
            let report = crate::output::build(&loaded.scenario, &notes, &outcome, &goals);
            row.days = shifted(&loaded.scenario, &notes, &report);
        }
        Ok((row, draws))
    };
    let all: Vec<Option<&Alternative>> = std::iter::once(None)
        .chain(asked.alternatives.iter().map(Some))
        .collect();
    all.into_par_iter()
        .map(|alternative| {
            let Some(alternative) = alternative else {
                let (mut today, draws) = row(&asked.today)?;
                today.name = "as it is".to_owned();
                return Ok((today, draws));
            };
            let (mut found, draws) = row(&load(asked, alternative)?)?;
            found.name.clone_from(&alternative.name);
            found.changes = asked.changes(alternative);
            Ok((found, draws))
        })
        .collect()
}
