//! Brood of colonies from week to week.

use super::build::{Found, day};
use spareframe_season::{Colony, Drawn, day_by_day, last_day};

/// Every seventh day from today, and the last on which anything is counted, counted from today.
fn days(found: &Found) -> Vec<i32> {
    let last = last_day(&found.planned.season);
    let mut days: Vec<i32> = (0..=last).step_by(7).collect();
    if days.last() != Some(&last) {
        days.push(last);
    }
    days
}

/// The same as days of the year.
pub(super) fn weeks(found: &Found) -> Vec<String> {
    let days = days(found).into_iter();
    days.map(|after| day(found, after)).collect()
}

/// Brood cells of a colony on each of these days, before what it gives.
pub(super) fn brood(found: &Found, colony: &Colony, draws: &[Drawn]) -> impl Iterator<Item = f64> {
    let all = day_by_day(&found.planned.season, colony, draws);
    let at = |after: i32| usize::try_from(after).ok();
    let days = days(found).into_iter();
    days.map(move |after| {
        at(after)
            .and_then(|at| all.get(at))
            .map_or(0.0, |of| of.brood)
    })
}
