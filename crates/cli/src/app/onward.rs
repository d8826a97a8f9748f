//! `onward`: the day is closed, and the scenario speaks of a later one.

use super::answer::said;
use super::args;
use super::delivery::{no_day, out_file};
use super::detail::Detail;
use super::ended::{Exit, Stop, note};
use super::files::{deliver, is_stdin, label, may_write, read};
use super::load::{plan_bytes, show};
use crate::onward::{Done, Next, Onward, Refused, done, done_by_table, onward};
use crate::plan::{day_of, read_plan};
use crate::reading::plain;
use crate::scenario::{self, Loaded};
use jiff::ToSpan;
use jiff::civil::Date;
use spareframe_solver::{Breach, Scenario};
use spareframe_weeks::LAST_DAY;
use std::path::{Path, PathBuf};

/// What `onward` is to do.
#[derive(Debug)]
pub(super) struct OnwardTask {
    scenario: PathBuf,
    plan: Option<PathBuf>,
    table: Option<PathBuf>,
    to: Option<Date>,
    cells: Option<u32>,
    grafted: Option<Date>,
    out: Option<PathBuf>,
    force: bool,
    detail: Detail,
}

impl OnwardTask {
    pub(super) fn from_args(a: args::Onward) -> Result<Self, Stop> {
        let scenario = a.of.scenario;
        let beside = a.plan.as_deref().or(a.done.as_deref());
        if beside.is_some_and(is_stdin) && is_stdin(&scenario) {
            let what = if a.plan.is_some() { "plan" } else { "table" };
            return Err(Stop::Said(format!(
                "scenario and {what} cannot both come from stdin (-)"
            )));
        }
        let out = out_file(a.other.out, &scenario)?;
        let out = match beside {
            Some(beside) => out_file(out, beside)?,
            None => out,
        };
        Ok(Self {
            scenario,
            plan: a.plan,
            table: a.done,
            to: a.to,
            cells: a.cells,
            grafted: a.grafted,
            out,
            force: a.other.force,
            detail: (&a.quiet).into(),
        })
    }
}

/// Closes the day.
pub(super) fn perform(task: &OnwardTask) -> Result<Exit, Stop> {
    if let Some(out) = &task.out {
        may_write(out, task.force)?;
    }
    let bytes = read(&task.scenario)?;
    let name = label(&task.scenario);
    let loaded = loaded(&name, &bytes, task.detail)?;
    let day = loaded.day.ok_or_else(no_day)?;
    let to = to(task, day)?;
    let carried = match carried(task, &loaded, day)? {
        Ok(carried) => carried,
        Err(refused) => {
            note(&refused);
            return Ok(Exit::No);
        }
    };
    let goes_on = Next {
        day: to,
        cells: task.cells,
        grafted: task.grafted,
    };
    let next = onward((&name, &bytes), &loaded, &carried, (day, goes_on)).map_err(|findings| {
        show(&findings, &bytes, task.detail);
        Stop::Reported
    })?;
    let text = next.text.as_deref().ok_or_else(|| {
        Stop::Said(format!(
            "{name} is written in a way in which it cannot be changed in place; write the colonies, `done` and \
             `standing` as in docs/scenario.md"
        ))
    })?;
    readable(task, text)?;
    deliver(text, task.out.as_deref(), task.force, Detail::Quiet)?;
    if task.detail != Detail::Quiet {
        note(&summary(task, &next, (day, to)));
    }
    Ok(Exit::Done)
}

fn loaded(name: &str, bytes: &[u8], detail: Detail) -> Result<Loaded, Stop> {
    let read = scenario::read(name, bytes);
    show(&read.findings, bytes, detail);
    read.loaded.ok_or(Stop::Reported)
}

/// The day to go on to; that of the scenario where none is said.
fn to(task: &OnwardTask, day: Date) -> Result<Date, Stop> {
    let to = task.to.unwrap_or(day);
    let days = (to - day).get_days();
    let most = i32::try_from(LAST_DAY).unwrap_or(i32::MAX);
    if (0..=most).contains(&days) {
        return Ok(to);
    }
    Err(Stop::Said(format!(
        "--to {to} is {}; the day of the scenario is {day}, so write a day from {day} to {}",
        if days < 0 { "past" } else { "too far ahead" },
        day.saturating_add(most.days())
    )))
}

/// What was done, or why the plan is not taken for it.
fn carried(task: &OnwardTask, loaded: &Loaded, day: Date) -> Result<Result<Done, String>, Stop> {
    if let Some(path) = &task.table {
        let bytes = read(path)?;
        let (done, findings) = done_by_table(loaded, (&label(path), &bytes));
        show(&findings, &bytes, task.detail);
        return done.map(Ok).ok_or(Stop::Reported);
    }
    let scenario = &loaded.scenario;
    let refused = |refused: Refused| refusal(task, scenario, &refused);
    let Some(path) = &task.plan else {
        return Ok(done(scenario, None).map_err(refused));
    };
    let bytes = plan_bytes(path, task.detail)?;
    if let Some(other) = day_of(&bytes).filter(|other| *other != day.to_string()) {
        return Ok(Err(format!(
            "error: {} is of {}, and the scenario speaks of {day}; nothing written.\nName the scenario that it was \
             made for; if that day is closed, leave --plan out.",
            label(path),
            plain(&other)
        )));
    }
    let read = read_plan(scenario, &label(path), &bytes);
    show(&read.findings, &bytes, task.detail);
    let (plan, _) = read.plan.ok_or(Stop::Reported)?;
    Ok(done(scenario, Some(&plan)).map_err(refused))
}

/// Why a plan was not taken as done.
fn refusal(task: &OnwardTask, scenario: &Scenario, refused: &Refused) -> String {
    let plan = task.plan.as_deref().map_or_else(String::new, label);
    let (lead, breaches, way_out): (String, &[Breach], _) = match refused {
        Refused::Plan(breaches) => (
            format!("{plan} is no plan of this scenario"),
            breaches,
            "Name the scenario that it was made for, or write what was done into `done`.",
        ),
        Refused::Together(breaches) => (
            format!("{plan} and what is recorded in `done` do not go together"),
            breaches,
            "Write into `done` what each compartment got, and leave --plan out.",
        ),
    };
    let breaches: Vec<String> = breaches
        .iter()
        .map(|breach| format!("\n  {}", said(scenario, breach)))
        .collect();
    format!(
        "error: {lead}; nothing written.{}\n{way_out}",
        breaches.concat()
    )
}

/// What is wrong in the new text is said before anything is written.
fn readable(task: &OnwardTask, text: &str) -> Result<(), Stop> {
    let name = match &task.out {
        Some(out) => label(out),
        None => label(&task.scenario),
    };
    let read = scenario::read(&name, text.as_bytes());
    if read.loaded.is_some() {
        return Ok(());
    }
    show(&read.findings, text.as_bytes(), Detail::Quiet);
    Err(Stop::Said(
        "the scenario of that day would not be one; nothing written".to_owned(),
    ))
}

fn summary(task: &OnwardTask, next: &Onward, (day, to): (Date, Date)) -> String {
    let mut parts = Vec::new();
    match next.stocked {
        0 if next.queens > 0 => parts.push(format!("closed {day}")),
        0 => parts.push(format!("nothing was done on {day}")),
        n => parts.push(format!(
            "closed {day}: {} with bees from {}",
            counted(n, "compartment", "compartments"),
            counted(next.drawn, "colony", "colonies")
        )),
    }
    if next.queens > 0 {
        parts.push(counted(next.queens, "queen given", "queens given"));
    }
    if next.without_cell > 0 {
        let compartments = counted(next.without_cell, "compartment", "compartments");
        parts.push(format!("no cell for {compartments}"));
    }
    if to != day {
        parts.push(format!("it is now {to}"));
    }
    let written = task.out.as_deref().map(wrote);
    parts.extend(written);
    parts.join("; ")
}

fn wrote(out: &Path) -> String {
    format!("wrote {0}; next: spareframe standing {0}", label(out))
}

fn counted(n: usize, one: &str, many: &str) -> String {
    format!("{n} {}", if n == 1 { one } else { many })
}
