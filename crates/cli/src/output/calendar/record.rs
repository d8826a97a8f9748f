//! The record that every writer of a calendar shares, with nothing left to decide.

use crate::output::counted::CountedOn;
use crate::output::report::AcceptedReport;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Version of the calendar's format; it rises when a key changes its meaning.
pub const FORMAT_VERSION: u32 = 1;

/// The dated steps from grafting to the mated queen, the feed, and the queens to expect.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Calendar {
    /// Version of this format.
    pub spareframe_calendar: u32,
    /// Title of the scenario.
    pub title: Option<String>,
    /// Stocking day, as year-month-day.
    pub stocking_day: String,
    /// When colonies were counted; absent where that was on the stocking day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counted_on: Option<CountedOn>,
    /// Steps in order of their first day.
    pub entries: Vec<Entry>,
    /// Dates and figures that do not go together.
    pub conflicts: Vec<Conflict>,
    /// The intervals that the days were computed with.
    pub intervals: Vec<IntervalUsed>,
    /// What to feed, and what to buy for it.
    pub feed: FeedReport,
    /// How many mated queens to expect: an estimate.
    pub expected_queens: ExpectedQueens,
    /// How many of the mated queens that go into colonies and boxes are accepted: estimates. Absent where none does.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub accepted: Vec<AcceptedReport>,
    /// Cautions.
    pub mind: Vec<String>,
}

/// What kind of step an entry is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum EntryKind {
    /// Something to do.
    Work,
    /// Something that the bees do; nothing to do.
    Expect,
    /// Days on which boxes are left closed.
    LeaveClosed,
    /// The last day for something.
    LastDay,
}

/// One step of the calendar.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Entry {
    /// Stable id within the calendar, in lower case with hyphens.
    pub id: String,
    /// Kind of step.
    pub kind: EntryKind,
    /// Kind of box that it concerns; absent where it concerns all.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub box_kind: Option<String>,
    /// Site where it is done; absent where it concerns all.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub site: Option<String>,
    /// First day, as year-month-day.
    pub first_day: String,
    /// Last day, as year-month-day, included.
    pub last_day: String,
    /// Short name.
    pub title: String,
    /// What to do or to expect, in a sentence or two.
    pub detail: String,
    /// Where the interval is from, with its status.
    pub basis: String,
}

/// Dates or figures that do not go together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Conflict {
    /// Stable id.
    pub id: String,
    /// What does not go together, and the way out.
    pub text: String,
}

/// An interval that days were computed with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct IntervalUsed {
    /// Key in the scenario; of a box, `keeps queen`.
    pub key: String,
    /// What it is counted from and to.
    pub meaning: String,
    /// Least days.
    pub least_days: u32,
    /// Days counted with where one day is wanted.
    pub usual_days: u32,
    /// Most days.
    pub most_days: u32,
    /// Where it is from; `the scenario` where it was overridden.
    pub source: String,
    /// `seen`, `second hand`, `from memory`, `common practice`, `a choice` or `yours`.
    pub status: String,
}

/// Feed for the days without flight.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct FeedReport {
    /// Days without flight that it is for.
    pub days: u32,
    /// Each stocked compartment.
    pub compartments: Vec<CompartmentFeed>,
    /// All of it together, as it is bought.
    pub shopping: Vec<ShoppingItem>,
    /// What the estimate assumes.
    pub assumptions: Vec<String>,
}

/// What one compartment needs and has.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CompartmentFeed {
    /// Box and compartment, as the plan names them.
    pub name: String,
    /// Kind of box.
    pub box_kind: String,
    /// Which box, from 1.
    pub box_no: u32,
    /// Which compartment of the box, from 1.
    pub compartment: u32,
    /// Site of the box.
    pub site: String,
    /// Dry sugar that bees and brood use in these days, in kg: an estimate.
    pub use_estimate_kg: f64,
    /// The same from stores in its frames, in kg.
    pub in_stores_kg: f64,
    /// Dry sugar to feed, in kg.
    pub sugar_kg: f64,
    /// Water for the syrup, in litres.
    pub water_l: f64,
    /// The syrup, in kg.
    pub syrup_kg: f64,
}

/// Something to buy or to bring.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ShoppingItem {
    /// What it is.
    pub item: String,
    /// How much.
    pub amount: f64,
    /// Unit of the amount; empty where pieces are counted.
    pub unit: String,
}

/// How many mated queens to expect.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ExpectedQueens {
    /// Compartments stocked.
    pub compartments: u32,
    /// Least, by the lowest share published.
    pub least_estimate: f64,
    /// Most, by the highest share published.
    pub most_estimate: f64,
    /// Lowest share used, 0 to 1.
    pub least_share: f64,
    /// Highest share used, 0 to 1.
    pub most_share: f64,
    /// Where the shares are from, and what they do not cover.
    pub basis: String,
}
