//! The record of what has changed between two plans.

use super::words::Words;
use super::{done, draws, headline, stocked};
use crate::plan::Sheet;
use serde::Serialize;

/// Version of this format; it rises when a key changes its meaning.
const FORMAT_VERSION: u32 = 1;

/// What a change is about, in the order in which it is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum About {
    /// Figures of the plan as a whole.
    Headline,
    /// What leaves a colony.
    Colonies,
    /// What goes into a compartment.
    Compartments,
    /// What is already in compartments.
    Begun,
    /// What fills the gaps in colonies.
    Gaps,
    /// Feed for substitutes.
    Feed,
    /// What is carried.
    Carry,
    /// Colonies on hold.
    Holds,
    /// What to mind.
    Mind,
}

/// One thing that is otherwise than before.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Change {
    /// What it is about.
    pub about: About,
    /// Which colony, compartment, load or figure.
    pub subject: String,
    /// What is otherwise.
    pub text: String,
}

impl Change {
    pub(super) fn new(about: About, subject: String, text: String) -> Self {
        Self {
            about,
            subject,
            text,
        }
    }
}

/// Title and day of a plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Named {
    /// Title of the scenario.
    pub title: Option<String>,
    /// Stocking day, as year-month-day.
    pub day: Option<String>,
}

/// What has changed from an old plan to a new one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct CompareReport {
    /// Version of this format.
    pub spareframe_compare: u32,
    /// The old plan.
    pub old: Named,
    /// The new plan.
    pub new: Named,
    /// Title and day are the same in both.
    pub one_scenario: bool,
    /// Nothing has changed.
    pub same: bool,
    /// In the order of [`About`].
    pub changes: Vec<Change>,
    /// Figures that a file states and its compartments do not bear out: old, then new.
    pub stale: [Option<String>; 2],
}

/// Compares two plans.
#[must_use]
pub fn compare(old: &Sheet, new: &Sheet) -> CompareReport {
    let stale = [headline::stale(old), headline::stale(new)];
    let (old, new) = (&old.completed(new), &new.completed(old));
    let words = Words::of(old, new);
    let pairs = stocked::pairs(old, new, &words);
    let changes = [
        headline::headline(old, new),
        draws::colonies(old, new, &words),
        stocked::compartments(&pairs, &words),
        done::begun(old, new, &words),
        done::gaps(old, new, &words),
        headline::feed(old, new, &pairs, &words),
        draws::loads(old, new, &words),
        headline::holds(old, new),
        headline::mind(old, new),
    ]
    .concat();
    let named = |sheet: &Sheet| Named {
        title: sheet.title.clone(),
        day: sheet.day.clone(),
    };
    CompareReport {
        spareframe_compare: FORMAT_VERSION,
        one_scenario: named(old) == named(new),
        same: changes.is_empty() && named(old) == named(new),
        old: named(old),
        new: named(new),
        changes,
        stale,
    }
}
