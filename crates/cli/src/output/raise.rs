//! Combs that no colony has of its own: how many more would help, and when and where they must hang.
//!
//! Small combs do not come out of large ones. They hang in a donor for weeks, to be drawn and bred.

use super::build::Notes;
use super::calendar::words::written;
use super::words::clean;
use crate::scenario::{ColonyCount, raised_in, ready_after};
use jiff::ToSpan;
use jiff::civil::Date;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use spareframe_solver::why::{Change, Limit};
use spareframe_solver::{Colony, ColonyId, CombId, Scenario};

/// Brood, in full frames, that a colony has at least in which combs are hung to be bred (a choice).
const LEAST_BROOD: i64 = 3;
/// Full frames of brood in whose place they hang at most (a choice).
const MOST_SPACE: i64 = 2;
/// Colonies that are named (a choice).
const NAMED: usize = 4;

/// Combs that would have to be raised.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct RaiseReport {
    /// Frame size.
    pub comb: String,
    /// How many more would help.
    pub frames: i64,
    /// The day for which they would help, as year-month-day.
    pub day: String,
    /// The last day to hang in foundation for it, counted with the usual days.
    pub hang_foundation_by: String,
    /// The last day to hang in drawn comb for it.
    pub hang_drawn_by: String,
    /// Days that foundation takes until it is drawn and bred, at least and at most.
    pub days: (u32, u32),
    /// Colonies in which there is room, those with most brood first.
    pub room: Vec<RoomReport>,
}

/// Room in a colony.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct RoomReport {
    /// Its name.
    pub colony: String,
    /// Frames that find room in it, beside those that hang there already.
    pub frames: i64,
}

/// What to raise, where more frames of a comb are what a change asks for and no colony has such frames of its own.
pub(super) fn raise(scenario: &Scenario, notes: &Notes, change: &Change) -> Option<RaiseReport> {
    let Limit::Frames(ask) = change.limit else {
        return None;
    };
    let bred = ask.asks_for_brood();
    if !bred
        || scenario
            .colonies
            .iter()
            .any(|colony| own(colony) == Some(ask.comb))
    {
        return None;
    }
    let day: Date = notes.day.as_deref()?.parse().ok()?;
    let days = raised_in(&notes.rearing);
    let before = |days: u32| Some(day.checked_sub(i64::from(days).days()).ok()?.to_string());
    Some(RaiseReport {
        comb: scenario.combs.get(ask.comb.0)?.name.clone(),
        frames: change.by,
        day: day.to_string(),
        hang_foundation_by: before(ready_after(days.usual, false))?,
        hang_drawn_by: before(ready_after(days.usual, true))?,
        days: (days.least, days.most),
        room: room(scenario, notes, ask.comb),
    })
}

/// The frame size of most frames of a colony.
fn own(colony: &Colony) -> Option<CombId> {
    let of = |comb: CombId| -> u32 {
        let groups = colony
            .frames
            .iter()
            .filter(|group| group.frame.comb == comb);
        groups.map(|group| group.count).fold(0, u32::saturating_add)
    };
    let combs = colony.frames.iter().map(|group| group.frame.comb);
    combs.max_by_key(|&comb| (of(comb), std::cmp::Reverse(comb)))
}

fn room(scenario: &Scenario, notes: &Notes, comb: CombId) -> Vec<RoomReport> {
    let cells = |comb: CombId| scenario.combs.get(comb.0).map_or(0, |comb| comb.cells);
    let small = cells(comb).max(1);
    let hanging = |colony: ColonyId| -> i64 {
        let since = notes.counts.get(colony.0).map(ColonyCount::since);
        let hung = since.into_iter().flatten().flat_map(|event| &event.hung);
        let frames = hung.filter(|hung| hung.frames.frame.comb == comb);
        frames.map(|hung| i64::from(hung.frames.count)).sum()
    };
    let mut rooms: Vec<(i64, RoomReport)> = Vec::new();
    for (at, colony) in scenario.colonies.iter().enumerate() {
        let full = own(colony).map_or(0, cells);
        let brood: i64 = colony
            .frames
            .iter()
            .map(|group| i64::from(group.count) * group.frame.brood.0)
            .sum();
        let frames = MOST_SPACE * full / small - hanging(ColonyId(at));
        if colony.hold.is_none() && brood >= LEAST_BROOD * 1000 && frames > 0 {
            let colony = colony.name.clone();
            rooms.push((brood, RoomReport { colony, frames }));
        }
    }
    rooms.sort_by(|(a, one), (b, other)| b.cmp(a).then_with(|| one.colony.cmp(&other.colony)));
    rooms.truncate(NAMED);
    rooms.into_iter().map(|(_, room)| room).collect()
}

/// Where there is room, in words.
fn where_to(raise: &RaiseReport) -> String {
    let room: Vec<String> = raise
        .room
        .iter()
        .map(|room| format!("{} in colony {}", room.frames, clean(&room.colony)))
        .collect();
    match room.is_empty() {
        true => "no colony has room for them: each needs 3 full frames of brood".to_owned(),
        false => format!("room for {}", room.join(", for ")),
    }
}

/// Of a day that is today: from when on combs that are hung in today are bred.
pub(super) fn from_today(raise: &RaiseReport) -> Option<String> {
    let day: Date = raise.day.parse().ok()?;
    let after = |hung: &str| {
        let hung: Date = hung.parse().ok()?;
        let ready = day.checked_add(day - hung).ok()?;
        Some(written(&ready.to_string()))
    };
    Some(format!(
        "{}: {} more would help. No colony has such combs of its own: hung in today, foundation is drawn and bred by \
         about {}, drawn comb by about {}; {}",
        clean(&raise.comb),
        raise.frames,
        after(&raise.hang_foundation_by)?,
        after(&raise.hang_drawn_by)?,
        where_to(raise)
    ))
}

/// Of later days: the first for which combs can still be hung in from `today` on; by size.
pub(super) fn by_day(raises: &[&RaiseReport], today: &str) -> Vec<String> {
    let mut said: Vec<&str> = Vec::new();
    let mut lines = Vec::new();
    for raise in raises {
        let in_time = raise.hang_drawn_by.as_str() >= today;
        if said.contains(&raise.comb.as_str()) || !in_time {
            continue;
        }
        said.push(&raise.comb);
        let foundation = match raise.hang_foundation_by.as_str() >= today {
            true => format!("foundation by {} or ", written(&raise.hang_foundation_by)),
            false => String::new(),
        };
        lines.push(format!(
            "{}: {} more would help on {}; hang in {foundation}drawn comb by {}; {}",
            clean(&raise.comb),
            raise.frames,
            written(&raise.day),
            written(&raise.hang_drawn_by),
            where_to(raise)
        ));
    }
    let late = raises
        .iter()
        .find(|raise| !said.contains(&raise.comb.as_str()));
    lines.extend(late.map(|raise| {
        format!(
            "{}: {} more would help on {}, but combs hung in today would not be bred by any of these days",
            clean(&raise.comb),
            raise.frames,
            written(&raise.day)
        )
    }));
    lines
}
