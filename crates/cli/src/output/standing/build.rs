//! From scenario and notes to the record of what stands.

use super::next::{Days, Next, expected, next};
use super::record::{CompartmentStanding, FORMAT_VERSION, NextReport, SoFar, StandingReport};
use crate::look::{names, word_of};
use crate::output::build::{Notes, decimal, site};
use crate::output::calendar;
use crate::output::counted::counted_on;
use crate::output::queens;
use crate::scenario::{Loaded, Queen, Stands};
use jiff::civil::Date;
use spareframe_rearing::{Known, Reared, Timeline, success, timeline};
use spareframe_solver::{BoxKind, FrameGroup, Scenario, Standing};

/// Days by which the cells of a rearing may be off a round and still be its own (a choice: those of the next are
/// weeks off).
const OF_THE_ROUND: i32 = 5;

/// Builds the record; `None` without a day.
#[must_use]
pub fn build(loaded: &Loaded) -> Option<StandingReport> {
    let (scenario, notes, day) = (&loaded.scenario, Notes::from(loaded), loaded.day?);
    let names = names(loaded);
    let all = loaded.standing.iter().zip(&scenario.standing).zip(names);
    let rows = all.filter_map(|((stands, then), name)| {
        compartment((scenario, &notes, day), stands, then, name)
    });
    Some(StandingReport {
        spareframe_standing: FORMAT_VERSION,
        title: loaded.title.clone(),
        day: day.to_string(),
        counted_on: counted_on(&notes),
        so_far: so_far(loaded),
        compartments: rows.collect(),
        queens: queens::queens(scenario, &notes, &mut []),
        mind: mind(),
    })
}

fn compartment(
    (scenario, notes, day): (&Scenario, &Notes, Date),
    stands: &Stands,
    then: &Standing,
    name: String,
) -> Option<CompartmentStanding> {
    let kind = scenario.boxes.get(then.kind.0)?;
    let round = round(notes, stands);
    let queen = notes.queens.stand.iter().find(|queen| queen.name == name);
    let days = Days {
        today: day,
        of_age: queen.map(|queen| queen.of_age),
        given: notes.rearing.takes.get(then.kind.0) == Some(&true),
        round: &round,
        intervals: &notes.rearing.intervals,
        keeps: calendar::keeps(scenario, notes, then.kind.0),
    };
    let bees = then.bees().bees().0;
    let brood = |group: &FrameGroup| i64::from(group.count) * group.frame.brood.0;
    let date = |date: Date| date.to_string();
    let Next {
        id,
        first,
        last,
        text,
    } = next(stands, then.wants_cell, &days);
    Some(CompartmentStanding {
        name,
        box_kind: kind.name.clone(),
        box_no: then.box_no + 1,
        compartment: then.place + 1,
        site: site(scenario, kind.site.0),
        from: stands.from.clone(),
        days: u32::try_from((day - stands.since).get_days()).unwrap_or(0),
        queen: word_of(stands.queen).to_owned(),
        seen: date(stands.seen),
        queen_expected: expected(stands, &days).map(str::to_owned),
        bees,
        brood_frames: decimal(then.frames.iter().map(brood).sum(), 1000.0),
        counted: (stands.counted < day).then(|| date(stands.counted)),
        failed: stands.failed,
        next: NextReport {
            give_bees: lacking(kind, bees).filter(|_| id != "unite"),
            id: id.to_owned(),
            today: first <= day,
            first_day: date(first),
            last_day: last.map(date),
            text,
        },
    })
}

/// The days of its present round. Where cells of the rearing are ripe near it, they are its own.
fn round(notes: &Notes, stands: &Stands) -> Timeline {
    let known = notes.rearing.known(stands.round);
    let days = timeline(&known);
    let off = (days.cells_in - days.ripe.usual).get_days();
    if off.abs() <= OF_THE_ROUND {
        return days;
    }
    timeline(&Known {
        reared: Reared::Unknown,
        ..known
    })
}

/// Bees that it should be given: up to what its next cell asks for, else half of what it was stocked with (a choice: a
/// round begun with half as many still brings a queen, and fewer hardly cover brood).
fn lacking(kind: &BoxKind, bees: i64) -> Option<i64> {
    let fewest = match kind.again.bees.0 {
        0 => kind.bees.0 / 2,
        again => again,
    };
    let lacks = (fewest - bees + 50).div_euclid(100) * 100;
    (lacks > 0).then_some(lacks)
}

fn so_far(loaded: &Loaded) -> SoFar {
    // A queen that was given to a nucleus is no round.
    let takes = |stands: &&Stands| {
        let kind = stands.counted_as.kind.0;
        loaded.rearing.takes.get(kind) == Some(&true)
    };
    let rounds = || loaded.standing.iter().filter(|stands| !takes(stands));
    let of = |queens: &[Queen]| {
        let count = rounds()
            .filter(|stands| queens.contains(&stands.queen))
            .count();
        u32::try_from(count).unwrap_or(u32::MAX)
    };
    let lost = [Queen::None, Queen::DroneLayer, Queen::LayingWorkers];
    // Without a queen it may be because she was taken.
    let spoilt = [Queen::DroneLayer, Queen::LayingWorkers];
    let failed = |stands: &Stands| stands.failed.max(u32::from(spoilt.contains(&stands.queen)));
    let published = success(loaded.rearing.given);
    let own = loaded.rearing.success;
    let (least, most) = own.unwrap_or((published.least, published.most));
    SoFar {
        mated: of(&[Queen::Mated, Queen::ToBeTaken]),
        laying: of(&[Queen::Laying]),
        without: of(&lost),
        open: of(&[Queen::Cell, Queen::Virgin]),
        taken: rounds().map(|stands| stands.taken).sum(),
        failed_rounds: rounds()
            .map(|stands| failed(stands) + stands.failed_before)
            .sum(),
        least_share: decimal(least.into(), 1000.0),
        most_share: decimal(most.into(), 1000.0),
        basis: match own {
            Some(_) => "Your own share.".to_owned(),
            None => published.source.to_owned(),
        },
    }
}

fn mind() -> Vec<String> {
    vec![
        "What was not seen is expected, by published days: a cold spell puts all of it off. No eggs at the first look is \
         no bad sign; look again in a week."
            .to_owned(),
        "Do not open, turn or move a box in the days of mating flights. On a warm day, and quickly.".to_owned(),
        "Never a cell while a queen is still in it. Unite nothing that may be sick.".to_owned(),
    ]
}
