//! From scenario, notes and plan to the calendar's record.

use super::super::build::{Notes, decimal};
use super::super::counted::counted_on;
use super::super::queens;
use super::super::report::Report;
use super::record::{Calendar, ExpectedQueens, FORMAT_VERSION, IntervalUsed};
use super::{conflicts, entries, feed};
use crate::scenario::Keeps;
use jiff::civil::Date;
use spareframe_rearing::{
    Given, INTERVALS, Interval, IntervalId, Known, Published, Timeline, success, timeline,
};
use spareframe_solver::{BoxKind, Line, Scenario};

/// Eggs a day of a queen that lays modestly (NSW DPI Primefact 828, seen: 700 to 1000).
const EGGS_A_DAY: i64 = 700;
/// Days from a worker's egg to its emergence (textbook value).
const WORKER_DAYS: i64 = 21;

/// What every part of a calendar needs.
pub(super) struct Round<'a> {
    pub scenario: &'a Scenario,
    pub notes: &'a Notes,
    pub report: &'a Report,
    pub known: Known,
    pub days: Timeline,
}

impl Round<'_> {
    /// How long a kind of box keeps a queen, where she is likely lost at all: as the file says, or
    /// for a small one as published.
    pub(super) fn keeps(&self, id: usize) -> Option<Interval> {
        keeps(self.scenario, self.notes, id)
    }

    /// Kinds of box that are stocked, with their place in the scenario.
    pub(super) fn stocked(&self) -> impl Iterator<Item = (usize, &BoxKind)> {
        let kinds = self.scenario.boxes.iter().enumerate();
        kinds.filter(|(_, kind)| {
            let mut stocked = self.report.compartments.iter();
            stocked.any(|c| c.box_kind == kind.name)
        })
    }

    /// Whether a kind of box takes mated queens out of what stands, in a round of cells for others.
    pub(super) fn takes(&self, id: usize) -> bool {
        self.known.given != Given::MatedQueens && self.notes.rearing.takes.get(id) == Some(&true)
    }

    /// Compartments that are given what the round is of.
    pub(super) fn cells(&self) -> u32 {
        let stocked = self.report.headline.compartments_stocked;
        match self.known.given {
            Given::MatedQueens => stocked,
            _ => stocked.saturating_sub(queens_given(self.report)),
        }
    }

    /// What goes in.
    pub(super) fn given(&self) -> &'static str {
        given(self.known.given)
    }
}

/// Compartments that are given a mated queen out of what stands.
pub(super) fn queens_given(report: &Report) -> u32 {
    u32::try_from(queens::given(report).count()).unwrap_or(u32::MAX)
}

/// How long a kind of box keeps a queen, as in [`Round::keeps`].
pub(in super::super) fn keeps(scenario: &Scenario, notes: &Notes, id: usize) -> Option<Interval> {
    let kind = scenario.boxes.get(id)?;
    let rearing = &notes.rearing;
    match rearing.keeps.get(id).copied().flatten() {
        Some(Keeps::AsLong) => None,
        Some(Keeps::Days(days)) => Some(days),
        None => small(scenario, kind).then(|| rearing.intervals.get(IntervalId::SmallBox)),
    }
}

/// What goes in where nothing else is said.
pub(in super::super) const RIPE_CELLS: &str = "ripe cells";
pub(in super::super) const MATED_QUEENS: &str = "mated queens";

pub(super) fn given(given: Given) -> &'static str {
    match given {
        Given::RipeCells => RIPE_CELLS,
        Given::VirginQueens => "virgin queens",
        Given::MatedQueens => MATED_QUEENS,
    }
}

/// Fewest cells of a comb that is none of a small box (a choice: half of a full-size comb of 8 dm2 a side).
const FULL_SIZE: i64 = 3200;

/// A compartment is small where all its combs are, and have fewer cells than a queen fills in the days of
/// one brood (a choice).
fn small(scenario: &Scenario, kind: &BoxKind) -> bool {
    let cells = |line: &Line| {
        let each = scenario
            .combs
            .get(line.ask.comb.0)
            .map_or(0, |comb| comb.cells);
        each.saturating_mul(i64::from(line.count))
    };
    let all = kind.lines.iter().map(cells).fold(0, i64::saturating_add);
    let of_small = |line: &Line| {
        let comb = scenario.combs.get(line.ask.comb.0);
        comb.is_none_or(|comb| comb.cells < FULL_SIZE)
    };
    all < EGGS_A_DAY * WORKER_DAYS && kind.lines.iter().all(of_small)
}

/// Builds the calendar of a plan; `None` without a stocking day.
#[must_use]
pub fn build(scenario: &Scenario, notes: &Notes, report: &Report) -> Option<Calendar> {
    let known = known(notes, report)?;
    let days = timeline(&known);
    let round = Round {
        scenario,
        notes,
        report,
        known,
        days,
    };
    Some(Calendar {
        spareframe_calendar: FORMAT_VERSION,
        title: notes.title.clone(),
        stocking_day: round.days.stocking.to_string(),
        counted_on: counted_on(notes),
        entries: entries::entries(&round),
        conflicts: conflicts::all(&round),
        intervals: intervals(&round),
        feed: feed::feed(&round),
        expected_queens: expected(&round),
        accepted: match &report.queens {
            Some(queens) => queens.accepted.clone(),
            None => Vec::new(),
        },
        mind: mind(report),
    })
}

/// What goes in and when, where that is not on the stocking day: days after it, and its date where the
/// stocking day is known.
pub(in super::super) fn cells_in(
    notes: &Notes,
    report: &Report,
) -> (&'static str, u32, Option<Date>) {
    let rearing = &notes.rearing;
    let later = rearing.intervals.get(IntervalId::CellsIn).usual;
    let day = known(notes, report).map(|known| timeline(&known).cells_in);
    let what = match queens::alone(report) {
        true => Given::MatedQueens,
        false => rearing.given,
    };
    (given(what), later, day)
}

/// What does not go together on the stocking day, as the calendar says it; nothing without dates of the
/// rearing.
pub(in super::super) fn day_conflicts(notes: &Notes) -> Vec<String> {
    let Some(known) = known_of_cells(notes) else {
        return Vec::new();
    };
    let days = timeline(&known);
    conflicts::of_the_day(&known, &days)
}

fn known_of_cells(notes: &Notes) -> Option<Known> {
    let day: Date = notes.day.as_deref()?.parse().ok()?;
    Some(notes.rearing.known(day))
}

/// What is known of the round of a plan: where all its compartments take mated queens, nothing is reared for it.
pub(super) fn known(notes: &Notes, report: &Report) -> Option<Known> {
    let known = known_of_cells(notes)?;
    Some(match queens::alone(report) {
        true => Known {
            given: Given::MatedQueens,
            ..known
        },
        false => known,
    })
}

/// Days from the cells that go in to the first look, and its date where the stocking day is known.
pub(in super::super) fn first_look(notes: &Notes, report: &Report) -> (u32, Option<Date>) {
    let usual = notes.rearing.intervals.get(IntervalId::FirstLook).usual;
    let Some(days) = known(notes, report).map(|known| timeline(&known)) else {
        return (usual, None);
    };
    let wait = (days.first_look - days.cells_in).get_days();
    (u32::try_from(wait).unwrap_or(usual), Some(days.first_look))
}

fn intervals(round: &Round) -> Vec<IntervalUsed> {
    let intervals = &round.known.intervals;
    let used = |key: String, known: &Published, days: Interval, own: bool| IntervalUsed {
        key,
        meaning: known.meaning.to_owned(),
        least_days: days.least,
        usual_days: days.usual,
        most_days: days.most,
        source: match own {
            true => "the scenario".to_owned(),
            false => known.source.to_owned(),
        },
        status: match own {
            true => "yours".to_owned(),
            false => known.status.words().to_owned(),
        },
    };
    let mut list = Vec::new();
    for known in INTERVALS {
        let of_queens = matches!(known.id, IntervalId::Queenless | IntervalId::Caged);
        if of_queens && round.report.queens.is_none() {
            continue;
        }
        if known.id == IntervalId::SmallBox {
            for (id, kind) in round.stocked() {
                if let Some(days) = round.keeps(id) {
                    let own = round
                        .notes
                        .rearing
                        .keeps
                        .get(id)
                        .is_some_and(Option::is_some);
                    list.push(used(
                        format!("{}: keeps queen", kind.name),
                        known,
                        days,
                        own,
                    ));
                }
            }
            continue;
        }
        let own = intervals.own(known.id).is_some();
        list.push(used(
            known.name.to_owned(),
            known,
            intervals.get(known.id),
            own,
        ));
    }
    list
}

fn expected(round: &Round) -> ExpectedQueens {
    let published = success(round.known.given);
    let own = round.notes.rearing.success;
    let (least, most) = own.unwrap_or((published.least, published.most));
    let compartments = round.cells();
    let share = |thousandths: u32| decimal(i64::from(thousandths), 1000.0);
    let queens =
        |thousandths: u32| decimal(i64::from(compartments) * i64::from(thousandths), 1000.0);
    ExpectedQueens {
        compartments,
        least_estimate: queens(least),
        most_estimate: queens(most),
        least_share: share(least),
        most_share: share(most),
        basis: match own {
            Some(_) => "Your own share.".to_owned(),
            None if round.known.given == Given::MatedQueens => {
                format!("Accepted and laying, {}.", published.source)
            }
            None => format!(
                "Published for {}: {} (seen). The place counts too: of queens in boxes in bare rows \
                 51% were lost, beside trees or bushes 7% (Gabka et al. 2017, seen).",
                round.given(),
                published.source
            ),
        },
    }
}

/// Cautions that go with these days.
const MINDED: [&str; 11] = [
    "old-queen",
    "long-queenless",
    "queen-in",
    "queen-look",
    "robbing",
    "cells",
    "queens",
    "brood-disease",
    "movement-law",
    "stings",
    "lifting",
];

fn mind(report: &Report) -> Vec<String> {
    let of_days = |id: &str| MINDED.contains(&id);
    let cautions = report.cautions.iter().filter(|c| of_days(&c.id));
    cautions.map(|c| c.text.clone()).collect()
}
