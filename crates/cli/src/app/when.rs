//! `when`: how many compartments on which day, from the yard as it is expected then.

use super::answer::{answer, checked};
use super::args;
use super::delivery::Delivery;
use super::detail::Detail;
use super::ended::{Exit, Stop};
use super::limit::Limit;
use super::load::{closed, load, stocking_day};
use super::progress::with_progress;
use crate::output::when::{Day, WhenReport, build};
use crate::output::{Notes, calendar};
use jiff::ToSpan;
use jiff::civil::Date;
use rayon::prelude::*;
use spareframe_rearing::IntervalId;
use spareframe_solver::honey::Season;
use spareframe_solver::{Milli, Outcome, Scenario, solve};
use spareframe_weeks::{BESIDE, LAST_DAY, expected};
use std::path::PathBuf;

/// What `when` is to do.
#[derive(Debug)]
pub(super) struct WhenTask {
    scenario: PathBuf,
    until: Date,
    every: u32,
    time_limit: Limit<'static>,
    shown: Delivery,
}

impl WhenTask {
    pub(super) fn from_args(a: args::When) -> Result<Self, Stop> {
        let shown = Delivery::of(a.writing, &a.of.scenario, (&a.said).into())?;
        Ok(Self {
            scenario: a.of.scenario,
            until: a.until,
            every: a.every,
            time_limit: Limit::of(a.time.time_limit),
            shown: shown.wide(a.table.width).marked(a.mark.bom)?,
        })
    }
}

/// Plans each day and sets them side by side.
pub(super) fn perform(task: &WhenTask) -> Result<Exit, Stop> {
    let shown = &task.shown;
    shown.may_write()?;
    let (scenario, notes) = load(&task.scenario, shown.detail)?;
    let today = stocking_day(&notes)?;
    let days = days(task, today)?;
    closed(&scenario)?;
    let ahead = Ahead {
        scenario: &scenario,
        notes: &notes,
        time_limit: task.time_limit,
        detail: shown.detail,
    };
    let report = with_progress(shown.detail, |_| ahead.report(today, &days))?;
    shown.deliver(&report)?;
    let stocked = report.days.iter().any(|day| day.compartments_stocked > 0);
    Ok(if stocked { Exit::Done } else { Exit::No })
}

/// Days from today on, today and the last included.
fn days(task: &WhenTask, today: Date) -> Result<Vec<u32>, Stop> {
    let last = (task.until - today).get_days();
    let most = i32::try_from(LAST_DAY).unwrap_or(i32::MAX);
    match u32::try_from(last) {
        Ok(last) if (0..=LAST_DAY).contains(&last) => {
            let every = usize::try_from(task.every).unwrap_or(usize::MAX);
            let mut days: Vec<u32> = (0..=last).step_by(every).collect();
            if days.last() != Some(&last) {
                days.push(last);
            }
            Ok(days)
        }
        _ => Err(Stop::Said(format!(
            "--until {} is {}; the day of the scenario is {today}, so write a day from {today} to {}",
            task.until,
            if last < 0 { "past" } else { "too far ahead" },
            today.saturating_add(most.days())
        ))),
    }
}

/// A yard whose later days are planned.
pub(super) struct Ahead<'a> {
    pub scenario: &'a Scenario,
    pub notes: &'a Notes,
    pub time_limit: Limit<'a>,
    pub detail: Detail,
}

impl Ahead<'_> {
    /// So many days after today, side by side.
    pub(super) fn report(&self, today: Date, days: &[u32]) -> Result<WhenReport, Stop> {
        let of_day = |&day: &u32| one(self, today, day);
        let found = days.par_iter().map(of_day).collect::<Result<Vec<_>, _>>()?;
        Ok(build(self.scenario, self.notes, found))
    }
}

fn one(ahead: &Ahead, today: Date, after: u32) -> Result<Day, Stop> {
    let (scenario, notes) = (ahead.scenario, ahead.notes);
    let counts = notes.counts();
    let lost = || Stop::Said(super::bugs::report("a day of `when` is lost"));
    let day = today
        .checked_add(i64::from(after).days())
        .map_err(|_| lost())?;
    let notes = Notes {
        day: Some(day.to_string()),
        ..notes.clone()
    };
    let options = ahead.time_limit.solving();
    let queens = |mut yard: Scenario| {
        let intervals = &notes.rearing.intervals;
        notes.queens.count(&mut yard, day, intervals);
        let cells_in = i64::from(intervals.get(IntervalId::CellsIn).usual);
        let goes_in = day.saturating_add(cells_in.days());
        for (stands, said) in yard.standing.iter_mut().zip(&notes.standing) {
            stands.wants_cell |=
                said.cell_from.is_some() && said.barred.is_none() && said.may_have_cell(goes_in);
        }
        yard
    };
    let yard = expected(scenario, &counts, notes.dearth, after).ok_or_else(lost)?;
    let yard = queens(yard);
    let (_, report) = answer(&yard, &notes, None, &options, ahead.detail)?;
    let mut slower = scenario.clone();
    slower.colony_model.mortality = Milli(BESIDE);
    let beside = expected(&slower, &counts, notes.dearth, after).ok_or_else(lost)?;
    let beside = queens(beside);
    let outcome = solve(&beside, &options);
    checked(&beside, &outcome)?;
    let compartments = match outcome {
        Outcome::Stocked(found) => u32::try_from(found.plan.compartments.len()).ok(),
        Outcome::Nothing => Some(0),
        Outcome::TimedOut | Outcome::Unmet(_) => None,
    };
    Ok(Day {
        after,
        beside: compartments,
        doubtful: doubtful(scenario, &notes, after),
        calendar: calendar::build(&yard, &notes, &report),
        report,
    })
}

/// Whether the season alone would more than double the laying of some colony from its count to a day.
fn doubtful(scenario: &Scenario, notes: &Notes, after: u32) -> bool {
    let Some(season) = scenario.colony_model.season else {
        return false;
    };
    let days = |days: u32| i32::try_from(days).unwrap_or(0);
    let ago = notes.counts.iter().map(|of| of.ago()).max();
    let ago = ago.unwrap_or(0);
    let counted = Season {
        counted: season.counted - days(ago),
        ..season
    };
    counted.doubtful(days(ago + after))
}
