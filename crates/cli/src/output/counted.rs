//! On which days the colonies were counted that an answer is reckoned from.

use super::build::Notes;
use crate::scenario::ColonyCount;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Colonies were counted before the stocking day, so that what they have on it is expected, not counted.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct CountedOn {
    /// The earliest count, as year-month-day.
    pub first_day: String,
    /// The latest count of those before the stocking day.
    pub last_day: String,
    /// The stocking day, for which it is expected.
    pub expected_for: String,
}

/// When the colonies were counted; `None` where that was on the stocking day.
#[must_use]
pub fn counted_on(notes: &Notes) -> Option<CountedOn> {
    let day: jiff::civil::Date = notes.day.as_deref()?.parse().ok()?;
    let days = || {
        let colonies = notes.counts.iter().filter_map(ColonyCount::earlier);
        let standing = notes.standing.iter().map(|stands| stands.counted);
        colonies.chain(standing.filter(move |counted| *counted < day))
    };
    Some(CountedOn {
        first_day: days().min()?.to_string(),
        last_day: days().max()?.to_string(),
        expected_for: notes.day.clone()?,
    })
}

/// The day on which a colony was counted, where that was before the stocking day.
pub(super) fn of_colony(notes: &Notes, colony: usize) -> Option<String> {
    let day = notes.counts.get(colony)?.earlier()?;
    Some(day.to_string())
}

/// That it is expected, in a sentence.
pub(super) fn sentence(counted: Option<&CountedOn>) -> Option<String> {
    let CountedOn {
        first_day,
        last_day,
        expected_for,
    } = counted?;
    let days = match first_day == last_day {
        true => format!("on {first_day}"),
        false => format!("from {first_day} to {last_day}"),
    };
    Some(format!(
        "Counted {days}; what stands here for {expected_for} is expected."
    ))
}
