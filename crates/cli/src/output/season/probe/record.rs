//! The record that every writer of alternatives of a season shares.

use super::super::report::{SeasonReport, WantReport};
use crate::output::counted::CountedOn;
use crate::output::headline;
use crate::output::report::Answer;
use serde::Serialize;

/// Version of this format; it rises when a key changes its meaning.
pub const PROBE_SEASON_VERSION: u32 = 1;

/// Alternatives of a season beside the season as it is. But for numbers of today all of it is an outlook.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ProbeSeason {
    /// Version of this format.
    pub spareframe_probe_season: u32,
    /// Title of the scenario.
    pub title: Option<String>,
    /// Today, as year-month-day.
    pub day: String,
    /// When colonies were counted; absent where that was today.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub counted_on: Option<CountedOn>,
    /// Changes that hold in every alternative and are not in their names.
    pub in_all: Vec<String>,
    /// The season as it is, then every alternative in order.
    pub rows: Vec<SeasonRow>,
    /// What to mind.
    pub mind: Vec<String>,
    /// What the honey estimate assumes.
    pub estimate_assumptions: Vec<String>,
}

/// One alternative and what it comes to.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct SeasonRow {
    /// 0 for the season as it is, from 1 for alternatives.
    pub number: u32,
    /// What it is called.
    pub name: String,
    /// What is changed, each about as it can be typed, long values in short.
    pub changes: Vec<String>,
    /// Why there is no season; null where there is one.
    pub no_season: Option<String>,
    /// Compartments that are stocked today.
    pub stock_today: i64,
    /// What is wanted, the first first.
    pub wants: Vec<WantReport>,
    /// The day that queens are counted by.
    pub queens_by: String,
    /// Mated queens counted on by then.
    pub queens: i64,
    /// In eight of ten seasons so many, at least and at most.
    pub queens_least: i64,
    /// See above.
    pub queens_most: i64,
    /// Cells of the whole season.
    pub cells: i64,
    /// Honey given up over the season, in grams: an estimate. Null where no colony states a crop.
    pub honey_given_up_g: Option<i64>,
    /// Cost of the season, in grams of honey.
    pub cost_g: i64,
    /// No season that meets as much costs less.
    pub least_cost_g: i64,
    /// The day by which to count the colonies again, and to plan anew.
    pub look_again: String,
    /// The next round; null where there is none.
    pub next_round: Option<String>,
    /// Beside the season as it is; null for that, and where either has none.
    pub difference: Option<SeasonDifference>,
}

/// How far an alternative is from the season as it is: above 0 where it has more.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SeasonDifference {
    /// Compartments that are stocked today.
    pub stock_today: i64,
    /// By want: how far it is met; null where other things are wanted.
    pub met: Option<Vec<i64>>,
    /// Mated queens; null where they are counted by another day.
    pub queens: Option<i64>,
    /// Honey given up over the season, in grams; null where it is not estimated in both.
    pub honey_given_up_g: Option<i64>,
    /// Cost, in grams of honey.
    pub cost_g: i64,
}

impl SeasonRow {
    /// Whether something clearly cheaper may meet as much.
    pub(super) fn dear(&self) -> bool {
        self.cost_g > self.least_cost_g + self.least_cost_g / 10 + 200
    }
}

/// A row, before it is set beside the season as it is. The season has today's number among its numbers for today.
pub(crate) fn row(of: &SeasonReport) -> SeasonRow {
    let h = &of.headline;
    let plan = &of.plan.headline;
    let planned = of.today_against_the_season.iter().find(|row| row.planned);
    SeasonRow {
        no_season: (plan.answer == Answer::WishNotMet).then(|| headline::answer(plan)),
        stock_today: h.stock_today,
        wants: of.wants.clone(),
        queens_by: h.queens_by.clone(),
        queens: h.queens,
        queens_least: h.queens_least,
        queens_most: h.queens_most,
        cells: planned.map_or(0, |row| row.cells),
        honey_given_up_g: planned.and_then(|row| row.honey_given_up_g),
        cost_g: planned.map_or(0, |row| row.cost_g),
        least_cost_g: planned.map_or(0, |row| row.least_cost_g),
        look_again: h.look_again.clone(),
        next_round: h.next_round.clone(),
        ..SeasonRow::default()
    }
}

/// A row of which there is no season.
pub(crate) fn without(why: String) -> SeasonRow {
    SeasonRow {
        no_season: Some(why),
        ..SeasonRow::default()
    }
}

/// Sets alternatives beside the season as it is, which is the first of the rows.
pub(crate) fn build(today: SeasonReport, in_all: &[String], rows: Vec<SeasonRow>) -> ProbeSeason {
    let first = rows.first().cloned().unwrap_or_default();
    let beside = |(number, mut row): (u32, SeasonRow)| {
        row.number = number;
        let known = number > 0 && row.no_season.is_none() && first.no_season.is_none();
        row.difference = known.then(|| difference(&row, &first));
        row
    };
    ProbeSeason {
        spareframe_probe_season: PROBE_SEASON_VERSION,
        title: today.title,
        day: today.day,
        counted_on: today.counted_on,
        in_all: in_all.to_vec(),
        rows: (0..).zip(rows).map(beside).collect(),
        mind: today.mind,
        estimate_assumptions: today.estimate_assumptions,
    }
}

fn difference(row: &SeasonRow, then: &SeasonRow) -> SeasonDifference {
    let same = |(a, b): (&WantReport, &WantReport)| {
        (a.what, &a.colonies, &a.box_kind) == (b.what, &b.colonies, &b.box_kind)
    };
    let wants = || row.wants.iter().zip(&then.wants);
    let alike = row.wants.len() == then.wants.len() && wants().all(same);
    let honey = row.honey_given_up_g.zip(then.honey_given_up_g);
    SeasonDifference {
        stock_today: row.stock_today - then.stock_today,
        met: alike.then(|| wants().map(|(now, then)| now.met - then.met).collect()),
        queens: (row.queens_by == then.queens_by).then_some(row.queens - then.queens),
        honey_given_up_g: honey.map(|(now, then)| now - then),
        cost_g: row.cost_g - then.cost_g,
    }
}
