//! The record that every writer of the days shares.

use super::super::build::Notes;
use super::super::calendar::{Calendar, Conflict};
use super::super::counted::{CountedOn, counted_on};
use super::super::report::{Answer, HeldBack, ProofReport, Report};
use super::super::{assumptions, cautions};
use super::words;
use serde::Serialize;
use spareframe_solver::Scenario;

/// Version of this format; it rises when a key changes its meaning.
pub const FORMAT_VERSION: u32 = 2;

/// How many compartments could be stocked on which day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WhenReport {
    /// Version of this format.
    pub spareframe_when: u32,
    /// Title of the scenario.
    pub title: Option<String>,
    /// The day of the scenario, as year-month-day.
    pub day: Option<String>,
    /// When colonies were counted; absent where that was on the stocking day.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub counted_on: Option<CountedOn>,
    /// The day on which most can be stocked, the first of equal ones.
    pub best_day: Option<String>,
    /// The day of the scenario first; all others are expected, not counted.
    pub days: Vec<DayReport>,
    /// What to mind.
    pub mind: Vec<String>,
    /// What the honey estimate assumes.
    pub estimate_assumptions: Vec<String>,
}

/// One day.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DayReport {
    /// The day, as year-month-day.
    pub day: String,
    /// Days after the day of the scenario.
    pub days_later: u32,
    /// Kind of answer.
    pub answer: Answer,
    /// Compartments that could be stocked.
    pub compartments_stocked: u32,
    /// The same with fewer foragers lost a day (10 %); null where no plan was found in time.
    pub compartments_with_fewer_losses: Option<u32>,
    /// Compartments there are.
    pub compartments_in_all: u64,
    /// Worth of the stocked compartments (1 is one ordinary compartment).
    pub worth: f64,
    /// Cost in grams of honey.
    pub cost_g: i64,
    /// Honey given up, charged, in grams: an estimate. Null where no colony states an expected crop.
    pub honey_given_up_g: Option<i64>,
    /// How sure the plan is; its yard is an outlook all the same.
    pub proof: Option<ProofReport>,
    /// What keeps compartments empty.
    pub held_back_by: Vec<HeldBack>,
    /// What does not go together with cells or queens on that day, and what that asks for. Null where they are
    /// not dated.
    pub cells: Option<Vec<Conflict>>,
    /// Days without flight that feed is counted for, and dry sugar for all compartments then, in kg: an
    /// estimate.
    pub no_flight_days: u32,
    /// See above.
    pub sugar_kg: f64,
    /// The season says more than the count can bear: laying would more than double.
    pub doubtful: bool,
}

/// What was found for one day.
#[derive(Debug, Clone)]
pub struct Day {
    /// Days after the day of the scenario.
    pub after: u32,
    /// Its plan.
    pub report: Report,
    /// Its days.
    pub calendar: Option<Calendar>,
    /// Compartments with fewer foragers lost a day.
    pub beside: Option<u32>,
    /// The season says more than the count can bear.
    pub doubtful: bool,
}

/// Builds the record, of days in their order.
#[must_use]
pub fn build(scenario: &Scenario, notes: &Notes, days: Vec<Day>) -> WhenReport {
    let days: Vec<DayReport> = days.into_iter().map(of_day).collect();
    let mut best: Option<&DayReport> = None;
    for day in days.iter().filter(|day| day.compartments_stocked > 0) {
        if best.is_none_or(|best| day.worth > best.worth) {
            best = Some(day);
        }
    }
    WhenReport {
        spareframe_when: FORMAT_VERSION,
        title: notes.title.clone(),
        day: notes.day.clone(),
        counted_on: counted_on(notes),
        best_day: best.map(|day| day.day.clone()),
        mind: words::mind(
            &days,
            cautions::NO_PLAN,
            notes.counts.iter().any(|count| count.earlier().is_some()),
        ),
        estimate_assumptions: assumptions(scenario),
        days,
    }
}

fn of_day(day: Day) -> DayReport {
    let headline = day.report.headline;
    let calendar = day.calendar.as_ref();
    let fed = calendar.map(|calendar| &calendar.feed);
    let grams = |kg: f64| (kg * 1000.0).round();
    let sugar: f64 = fed
        .iter()
        .flat_map(|feed| &feed.compartments)
        .map(|fed| grams(fed.sugar_kg))
        .fold(0.0, |sum, grams| sum + grams);
    DayReport {
        day: day.report.day.unwrap_or_default(),
        days_later: day.after,
        answer: headline.answer,
        compartments_stocked: headline.compartments_stocked,
        compartments_with_fewer_losses: day.beside,
        compartments_in_all: headline.compartments_in_all,
        worth: headline.worth,
        cost_g: headline.cost_g,
        honey_given_up_g: headline.honey_given_up_g,
        proof: headline.proof,
        held_back_by: day.report.held_back_by,
        cells: calendar.and_then(|calendar| {
            let conflicts = &calendar.conflicts;
            let dated = conflicts.iter().all(|conflict| conflict.id != "not-known");
            let of_cells = conflicts.iter().filter(|c| words::of_cells(&c.id));
            dated.then(|| of_cells.cloned().collect())
        }),
        no_flight_days: fed.map_or(0, |feed| feed.days),
        sugar_kg: sugar / 1000.0,
        doubtful: day.doubtful,
    }
}
