//! The record of what holds a season back: names, figures and units, with nothing left to decide.

use super::super::report::{HeadlineReport, WantReport};
use crate::output::counted::CountedOn;
use serde::Serialize;

/// Version of this format; it rises when a key changes its meaning.
pub const WHY_SEASON_VERSION: u32 = 1;

/// What holds a season back. But for today's number all of it is an outlook.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WhySeason {
    /// Version of this format.
    pub spareframe_why_season: u32,
    /// Title of the scenario.
    pub title: Option<String>,
    /// Today, the day of the first round, as year-month-day.
    pub day: String,
    /// When colonies were counted; absent where that was today.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub counted_on: Option<CountedOn>,
    /// The season in short.
    pub headline: HeadlineReport,
    /// What is wanted, the first first, and what binds it.
    pub wants: Vec<WantWhy>,
    /// What would bind more queens in all; null where as many as there can be are wanted.
    pub total: Option<TotalWhy>,
    /// Changes that bring something, those first that bring most.
    pub one_more: Vec<TriedReport>,
    /// Changes that bring nothing.
    pub brings_nothing: Vec<TriedReport>,
    /// The season if a round gives no queen, round by round.
    pub rained_out: Vec<TriedReport>,
    /// What to mind.
    pub mind: Vec<String>,
    /// What the honey estimate assumes.
    pub estimate_assumptions: Vec<String>,
}

/// Something wanted, and what binds it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WantWhy {
    /// What is wanted.
    #[serde(flatten)]
    pub want: WantReport,
    /// Limits of colonies that bind it, the most telling first.
    pub colonies: Vec<ColonyHolds>,
}

/// What would bind more queens in all.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TotalWhy {
    /// The most first.
    pub held_back_by: Vec<String>,
    /// Limits of colonies that bind, the most telling first.
    pub colonies: Vec<ColonyHolds>,
}

/// A limit of a colony that binds in a round.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ColonyHolds {
    /// Its name.
    pub colony: String,
    /// The round in which it binds most.
    pub round: String,
    /// What the limit is, in words.
    pub limit: String,
    /// The limit eased by a step, in words.
    pub eased: String,
    /// The same as a change of the scenario file, `PATH=VALUE`.
    pub set: String,
    /// By so much that raises the bound on what is wanted, at most.
    pub worth: f64,
}

/// The season with one thing changed, planned anew.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TriedReport {
    /// What is changed, in words.
    pub change: String,
    /// The round that it is about; absent where it is about none.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub round: Option<String>,
    /// The same as changes of the scenario file, each `PATH=VALUE`; empty where it is no change of values.
    pub sets: Vec<String>,
    /// By want: how far it is met.
    pub met: Vec<i64>,
    /// By want: how much farther, below 0 where less far.
    pub met_more: Vec<i64>,
    /// Mated queens counted on by the day of the headline.
    pub queens: i64,
    /// So many more, below 0 if fewer.
    pub queens_more: i64,
    /// Cost of the season, in grams of honey.
    pub cost_g: i64,
    /// So much more, below 0 if less.
    pub cost_more_g: i64,
    /// No season without the change meets as much, or as cheaply; where not, there may be one that was not found.
    pub sure: bool,
}
