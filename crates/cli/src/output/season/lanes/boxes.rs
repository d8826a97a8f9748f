//! Lanes of compartments: those that go through the season alike are one lot, and share a lane.
//!
//! The season decides how many compartments get a cell in each round, not which. What is free longest is taken first.

use super::super::courses;
use super::super::report::{RoundReport, SeasonReport};
use super::Axis;
use crate::output::calendar::words::written;
use crate::output::figures::counted;
use crate::output::words::clean;

/// A kind of box with its lots.
#[derive(Debug)]
pub(in super::super::super) struct KindLanes {
    pub name: String,
    /// Nuclei are made in it, with mated queens.
    pub nuclei: bool,
    pub lanes: Vec<BoxLane>,
}

/// Compartments that go through the season alike.
#[derive(Debug, Clone, PartialEq)]
pub(in super::super::super) struct BoxLane {
    /// How many.
    pub count: i64,
    /// They stand from an earlier day.
    pub stands: bool,
    pub rounds: Vec<Cell>,
    /// For winter: when they are united, how many make one, and the winter's day.
    pub kept: Option<(f64, i64, f64)>,
    /// In words.
    pub says: String,
}

/// A cell, and what comes of it; of a nucleus the day on which it is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in super::super::super) struct Cell {
    pub cells_in: f64,
    pub laying: f64,
    pub usable: f64,
    pub outlook: bool,
    free: f64,
    day: f64,
    round: usize,
}

impl Cell {
    /// The round's day, on which a nucleus is made.
    pub(super) fn made(&self) -> f64 {
        self.day
    }
}

/// Kinds of box in the order in which they are first stocked.
pub(super) fn kinds(report: &SeasonReport, axis: &Axis) -> Vec<KindLanes> {
    let mut names: Vec<(&str, bool)> = Vec::new();
    let rounds = report.rounds.iter();
    for round in rounds {
        let cells = round.new.iter().chain(&round.next).map(|of| (of, false));
        let all = cells.chain(round.nuclei_in.iter().map(|of| (of, true)));
        for (of, nuclei) in all {
            if !names.contains(&(&of.box_kind, nuclei)) {
                names.push((&of.box_kind, nuclei));
            }
        }
    }
    names.sort_by_key(|(_, nuclei)| *nuclei);
    let kind = |(name, nuclei): (&str, bool)| KindLanes {
        name: clean(name),
        nuclei,
        lanes: match nuclei {
            true => made(report, axis, name),
            false => lots(report, axis, name),
        },
    };
    names.into_iter().map(kind).collect()
}

/// How many of a kind.
fn of(counts: &[super::super::report::KindCount], name: &str) -> i64 {
    let own = counts.iter().filter(|count| count.box_kind == name);
    own.map(|count| count.compartments).sum()
}

/// A cell of a round.
fn cell(report: &SeasonReport, axis: &Axis, round: usize) -> Option<Cell> {
    let of = report.rounds.get(round)?;
    Some(Cell {
        cells_in: axis.at(&of.cells_in)?,
        laying: axis.at(&of.laying_from)?,
        usable: axis.at(&of.usable_from)?,
        free: axis.at(&of.free_from)?,
        day: axis.at(&of.day)?,
        outlook: of.outlook,
        round,
    })
}

/// Lots of compartments that get cells.
fn lots(report: &SeasonReport, axis: &Axis, name: &str) -> Vec<BoxLane> {
    let mut lanes: Vec<BoxLane> = Vec::new();
    for (nth, round) in report.rounds.iter().enumerate() {
        let Some(cell) = cell(report, axis, nth) else {
            continue;
        };
        let (new, next) = (of(&round.new, name), of(&round.next, name));
        let left = again(&mut lanes, cell, next);
        let lot = |count, stands| BoxLane {
            count,
            stands,
            rounds: vec![cell],
            kept: None,
            says: String::new(),
        };
        // What has had no cell in this season stands from an earlier day.
        if left > 0 {
            lanes.push(lot(left, true));
        }
        if new > 0 {
            lanes.push(lot(new, false));
        }
        keep(report, axis, &mut lanes, (nth, name));
    }
    let mut joined: Vec<BoxLane> = Vec::new();
    for lane in lanes {
        let same = |known: &&mut BoxLane| {
            (known.stands, &known.rounds, known.kept) == (lane.stands, &lane.rounds, lane.kept)
        };
        match joined.iter_mut().find(same) {
            Some(known) => known.count += lane.count,
            None => joined.push(lane),
        }
    }
    for lane in &mut joined {
        lane.says = says(report, lane);
    }
    joined
}

/// Gives a next cell to so many compartments that are free, those free longest first; how many are then left over.
fn again(lanes: &mut Vec<BoxLane>, cell: Cell, count: i64) -> i64 {
    let mut left = count;
    while left > 0 {
        let free = |lane: &BoxLane| lane.rounds.last().map_or(0.0, |last| last.free);
        let ready = lanes.iter().enumerate();
        let ready = ready.filter(|(_, lane)| lane.kept.is_none() && free(lane) <= cell.day);
        let Some((at, _)) = ready.min_by(|(_, a), (_, b)| free(a).total_cmp(&free(b))) else {
            break;
        };
        left -= part(lanes, at, left, |lane| lane.rounds.push(cell));
    }
    left
}

/// Does something with at most so many compartments of a lot, and leaves its others as they are; with how many.
fn part(lanes: &mut Vec<BoxLane>, at: usize, most: i64, change: impl FnOnce(&mut BoxLane)) -> i64 {
    let Some(lane) = lanes.get_mut(at) else {
        return most;
    };
    let taken = lane.count.min(most);
    let rest = BoxLane {
        count: lane.count - taken,
        ..lane.clone()
    };
    lane.count = taken;
    change(lane);
    if rest.count > 0 {
        lanes.insert(at + 1, rest);
    }
    taken
}

/// Keeps so many compartments of a round for winter.
fn keep(report: &SeasonReport, axis: &Axis, lanes: &mut Vec<BoxLane>, (nth, name): (usize, &str)) {
    let Some((autumn, day)) = report
        .autumn
        .as_ref()
        .zip(report.rounds.get(nth).map(|round| &round.day))
    else {
        return;
    };
    let units = autumn.units.iter();
    for unit in units.filter(|unit| unit.box_kind == name && unit.round == *day) {
        let ends = axis.at(&autumn.unite_by).zip(axis.at(&autumn.on));
        let Some((unite, on)) = ends else {
            continue;
        };
        let mut left = unit.units * unit.compartments_each;
        while left > 0 {
            let own = |lane: &BoxLane| {
                lane.kept.is_none() && lane.rounds.last().is_some_and(|last| last.round == nth)
            };
            let Some(at) = lanes.iter().rposition(own) else {
                break;
            };
            left -= part(lanes, at, left, |lane| {
                lane.kept = Some((unite, unit.compartments_each, on));
            });
        }
    }
}

/// Nuclei by round.
fn made(report: &SeasonReport, axis: &Axis, name: &str) -> Vec<BoxLane> {
    let rounds = report.rounds.iter().enumerate();
    let lanes = rounds.filter_map(|(nth, round)| {
        let count = of(&round.nuclei_in, name);
        (count > 0).then_some(())?;
        Some(BoxLane {
            count,
            stands: false,
            rounds: vec![cell(report, axis, nth)?],
            kept: None,
            says: format!("made on {}, each with a mated queen", written(&round.day)),
        })
    });
    lanes.collect()
}

/// A lot in words.
fn says(report: &SeasonReport, lane: &BoxLane) -> String {
    let mut parts = Vec::new();
    if lane.stands {
        parts.push("stand from an earlier day".to_owned());
    }
    for (nth, cell) in lane.rounds.iter().enumerate() {
        let Some(round) = report.rounds.get(cell.round) else {
            continue;
        };
        parts.push(one(round, nth > 0 || lane.stands));
    }
    if let (Some((_, each, _)), Some(autumn)) = (lane.kept, &report.autumn) {
        let by = written(&autumn.unite_by);
        parts.push(match each {
            ..=1 => "then kept for winter, each with its queen".to_owned(),
            each => format!(
                "then kept for winter: {} united into one by {by}",
                counted(each, "compartment", "compartments")
            ),
        });
    }
    parts.join("; ")
}

fn one(round: &RoundReport, again: bool) -> String {
    let what = if again { "next cell" } else { "stocked" };
    format!(
        "{what} {}, queens from {}",
        written(&round.day),
        courses::short_day(&round.usable_from)
    )
}
