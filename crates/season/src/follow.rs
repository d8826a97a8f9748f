//! A colony of a decided season, day by day.

use super::outlook::{Drawn, Strength};
use super::season::{Colony, Season};
use super::walk::{Walk, horizon};

/// The last day on which anything is counted.
#[must_use]
pub fn last_day(season: &Season) -> i32 {
    horizon(season)
}

/// What a colony is on each day from today to the last that is counted, before what it gives on that day; by round what it
/// gives, and nothing where that is empty.
#[must_use]
pub fn day_by_day(season: &Season, colony: &Colony, draws: &[Drawn]) -> Vec<Strength> {
    let mut walk = Walk::new(season, colony);
    let mut days = Vec::new();
    for day in 0..=horizon(season) {
        // Floors were looked at when the draws were chosen.
        let _ = walk.until(day);
        days.push(walk.strength());
        let of_day = season.rounds.iter().zip(draws);
        for (_, drawn) in of_day.filter(|(round, _)| round.day == day) {
            walk.model.take(drawn.bees, drawn.open, drawn.sealed);
        }
    }
    days
}
