//! Why not all boxes of a kind are stocked.

use std::cell::Cell;

use itertools::Itertools;
use rayon::prelude::*;

use super::asked::Asked;
use super::limit::least_frame;
use super::together::{Group, groups, members};
use crate::plan::{Compartment, Plan};
use crate::scenario::{Ask, BoxId, BoxKind, Scenario};
use crate::solve::Again;
use crate::standing::Standing;
use crate::units::Worth;

/// Why no more compartments of a kind of box are stocked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unstocked {
    /// One more could be stocked, but the worth of all would be so much less by it.
    WorthLess(Worth),
    /// One more could be stocked instead of compartments of other kinds of the same worth; it would be
    /// no better.
    NoBetter,
    /// A smallest set of groups of limits that, lifted, lets one more be stocked, whatever the other
    /// kinds lose by it. There may be others as small.
    Limits(Vec<Group>),
    /// Not even with every limit lifted.
    Never,
    /// A search ended without an answer.
    NotKnown,
}

/// How far a kind of box is stocked and why no further.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KindReason {
    /// Which kind.
    pub kind: BoxId,
    /// Compartments stocked in the plan.
    pub stocked: u32,
    /// Compartments there are, without those in which bees stand that are to get no cell.
    pub in_all: u64,
    /// Why no more.
    pub because: Unstocked,
}

/// Kinds that are not all stocked, in the order of the scenario.
pub(super) fn kinds(asked: &Asked, plan: &Plan) -> Vec<KindReason> {
    let kinds: Vec<(usize, &BoxKind)> = asked.yard.scenario.boxes.iter().enumerate().collect();
    let reasons = kinds.into_par_iter().filter_map(|(index, kind)| {
        let of_kind = plan.compartments.iter().filter(|c| c.kind.0 == index);
        let stocked = u32::try_from(of_kind.count()).unwrap_or(u32::MAX);
        let in_all = u64::from(kind.count) * u64::from(kind.compartments);
        let stand = asked.yard.scenario.standing.iter();
        let left_alone = stand.filter(|s| s.kind.0 == index && !s.wants_cell).count();
        let in_all = in_all.saturating_sub(left_alone as u64);
        (u64::from(stocked) < in_all).then(|| KindReason {
            kind: BoxId(index),
            stocked,
            in_all,
            because: because(asked, index, kind, stocked),
        })
    });
    reasons.collect()
}

/// What the lines of a kind ask for, new or for a next cell, and their substitutes.
fn asks_of(kind: &BoxKind) -> impl Iterator<Item = Ask> {
    let lines = kind.lines.iter().chain(&kind.again.lines);
    lines.flat_map(|line| {
        let others = line.substitutes.iter().map(|other| other.ask);
        std::iter::once(line.ask).chain(others)
    })
}

fn because(asked: &Asked, index: usize, kind: &BoxKind, stocked: u32) -> Unstocked {
    let (yard, again) = (&asked.yard, &asked.again);
    let step = if kind.whole { kind.compartments } else { 1 };
    let least = stocked.saturating_add(step);
    let wanted = Wanted {
        again,
        index,
        least,
    };
    let today = again.today().worth;
    let Some(now) = wanted.worth(yard.scenario) else {
        return Unstocked::NotKnown;
    };
    if let Some(worth) = now {
        return match today.0 - worth.0 {
            ..=0 => Unstocked::NoBetter,
            less => Unstocked::WorthLess(Worth(less)),
        };
    }
    // Whatever the others lose, frames that only they could use do not matter.
    let mut groups = groups(yard);
    groups.retain(|(group, _)| match group {
        Group::Frames(ask) => asks_of(kind).any(|other| other.fits(&least_frame(ask))),
        _ => true,
    });
    let unknown = Cell::new(false);
    let possible = |places: &[usize]| {
        let possible = wanted.possible(&yard.without(members(&groups, places)));
        unknown.set(unknown.get() || possible.is_none());
        possible.unwrap_or(true)
    };
    let Some(found) = super::smallest::smallest(groups.len(), &possible) else {
        return Unstocked::Never;
    };
    if unknown.get() {
        return Unstocked::NotKnown;
    }
    let chosen = found.members.iter().filter_map(|&place| groups.get(place));
    Unstocked::Limits(chosen.map(|(group, _)| *group).collect())
}

/// So many compartments of a kind of box at least.
struct Wanted<'a> {
    again: &'a Again<'a>,
    index: usize,
    least: u32,
}

impl Wanted<'_> {
    /// Greatest worth with them. None where there is no such plan, `None` where that is not known.
    fn worth(&self, scenario: &Scenario) -> Option<Option<Worth>> {
        let (split, bonus) = split(scenario, self.index, self.least);
        let worth = self.again.worth(&split)?.0;
        let all = bonus.saturating_mul(i64::from(self.least));
        Some((worth >= all).then(|| Worth(worth - all)))
    }

    /// Whether there is a plan with them; `None` where that is not known.
    fn possible(&self, scenario: &Scenario) -> Option<bool> {
        let (split, bonus) = split(scenario, self.index, self.least);
        let all = bonus.saturating_mul(i64::from(self.least));
        self.again.at_least(&split, Worth(all))
    }
}

/// The scenario with so many compartments of a kind worth so much more that as many of them as can be
/// are stocked, whatever the others lose; and how much more.
fn split(scenario: &Scenario, index: usize, least: u32) -> (Scenario, i64) {
    let mut split = scenario.clone();
    let bonus = scenario.boxes.iter().map(worth_of_all);
    let bonus = bonus.fold(0, i64::saturating_add);
    let Some(kind) = split.boxes.get_mut(index) else {
        return (split, bonus);
    };
    // Boxes that are stocked in part are as good as boxes of one compartment.
    let each = if kind.whole { kind.compartments } else { 1 };
    let units = kind.count.saturating_mul(kind.compartments) / each.max(1);
    let first = least.div_ceil(each.max(1));
    let before = std::mem::replace(&mut kind.compartments, each);
    let mut rest = kind.clone();
    rest.name = format!("{} (others)", kind.name);
    rest.count = units.saturating_sub(first);
    kind.count = first;
    kind.worth = Worth(kind.worth.0.saturating_add(bonus));
    let rest_id = BoxId(split.boxes.len());
    split.boxes.push(rest);
    for batch in split.cells.iter_mut().flatten() {
        if batch.boxes.contains(&BoxId(index)) {
            batch.boxes.push(rest_id);
        }
    }
    let places = Renumbered {
        kind: BoxId(index),
        first,
        rest: rest_id,
        all: units,
        apart: before / each.max(1),
    };
    places.renumber(&mut split.done, &mut split.standing);
    (split, bonus)
}

fn worth_of_all(kind: &BoxKind) -> i64 {
    let compartments = i64::from(kind.count) * i64::from(kind.compartments);
    compartments.saturating_mul(kind.worth.0)
}

/// Places of a kind that came apart: `first` boxes are of the kind, the others of `all` of the rest; a box came
/// apart into so many.
struct Renumbered {
    kind: BoxId,
    first: u32,
    rest: BoxId,
    all: u32,
    apart: u32,
}

impl Renumbered {
    /// Gives what is done or stands its places in the first boxes of the kind, and of the rest where those are too
    /// few. Where bees stand that are to get no cell, the last boxes of all.
    fn renumber(&self, done: &mut [Compartment], standing: &mut [Standing]) {
        let records = done.iter().map(|c| (c.kind, c.box_no, c.place, true));
        let stand = standing
            .iter()
            .map(|s| (s.kind, s.box_no, s.place, s.wants_cell));
        let of_kind = records.chain(stand).filter(|place| place.0 == self.kind);
        let of_kind: Vec<((u32, u32), bool)> = of_kind
            .map(|(_, box_no, place, stocked)| (self.unit(box_no, place), stocked))
            .collect();
        let stocked = of_kind.iter().filter(|(_, stocked)| *stocked);
        let first: Vec<(u32, u32)> = stocked.map(|(unit, _)| *unit).unique().collect();
        let units = of_kind.iter().map(|(unit, _)| *unit).unique();
        let last: Vec<(u32, u32)> = units.filter(|unit| !first.contains(unit)).collect();
        let number = |unit: (u32, u32)| {
            let at = |list: &[(u32, u32)]| list.iter().position(|other| *other == unit);
            let front = at(&first).and_then(|at| u32::try_from(at).ok());
            let back = at(&last).and_then(|at| u32::try_from(at).ok());
            front
                .or(back.and_then(|at| self.all.checked_sub(at + 1)))
                .unwrap_or(0)
        };
        let moved = |kind: &mut BoxId, box_no: &mut u32, place: &mut u32| {
            if *kind != self.kind {
                return;
            }
            let number = number(self.unit(*box_no, *place));
            if self.apart != 1 {
                *place = 0;
            }
            if number >= self.first {
                *kind = self.rest;
            }
            *box_no = number.checked_sub(self.first).unwrap_or(number);
        };
        for c in done {
            moved(&mut c.kind, &mut c.box_no, &mut c.place);
        }
        for s in standing {
            moved(&mut s.kind, &mut s.box_no, &mut s.place);
        }
    }

    /// What stays together: a box, or one compartment of it.
    fn unit(&self, box_no: u32, place: u32) -> (u32, u32) {
        match self.apart {
            1 => (box_no, 0),
            _ => (box_no, place),
        }
    }
}
