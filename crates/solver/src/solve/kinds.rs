//! Kinds of box as the optimiser sees them: a compartment that is begun is of a kind of its own,
//! which asks for what it still lacks.

use std::collections::{BTreeMap, BTreeSet};

use itertools::Itertools;

use super::backend::{Answer, Col, Model, Sense};
use super::done::Done;
use super::tables::stay;
use crate::plan::{Compartment, Origin};
use crate::scenario::{BoxId, BoxKind, FrameState, Scenario, SiteId};

/// A compartment may be short of its fewest by so many thousandths of a bee, where others of its site
/// make up for it.
pub(super) const LESS_THAN_A_BEE: i64 = 999;

/// A kind of box.
#[derive(Debug, Clone)]
pub(super) struct Kind {
    pub id: BoxId,
    /// Position in [`super::tables::Tables::sites`].
    pub site: usize,
    /// Fewest compartments: all that are finished.
    pub least: i64,
    /// Most compartments.
    pub most: i64,
    /// Compartments are stocked in multiples of this.
    pub step: i64,
    pub worth: i64,
    /// Bees that must still come to stay in each, in thousandths. It may be below 0 by less than one
    /// bee, where the last bee of what is done went over.
    pub fewest: i64,
    /// Its compartments are begun.
    pub begun: bool,
    /// Which compartments of the box kind it is made of.
    pub places: Places,
}

/// Some compartments (box, place) of a box kind.
#[derive(Debug, Clone)]
pub(super) enum Places {
    /// All but these.
    Except(BTreeSet<(u32, u32)>),
    /// These.
    Only(BTreeSet<(u32, u32)>),
}

impl Places {
    pub fn has(&self, place: (u32, u32)) -> bool {
        match self {
            Self::Except(places) => !places.contains(&place),
            Self::Only(places) => places.contains(&place),
        }
    }

    /// All of them, in order.
    pub fn all(&self, kind: &BoxKind) -> impl Iterator<Item = (u32, u32)> {
        let of_box = |box_no: u32| (0..kind.compartments).map(move |place| (box_no, place));
        (0..kind.count)
            .flat_map(of_box)
            .filter(|&place| self.has(place))
    }
}

/// A recipe line of a kind of box.
#[derive(Debug, Clone)]
pub(super) struct Need {
    /// Position in [`super::tables::Tables::kinds`].
    pub kind: usize,
    /// Index in the box kind's lines.
    pub line: usize,
    /// Frames for each compartment.
    pub each: u32,
}

/// All kinds by name, with what they need, and the sites where they stand.
pub(super) fn kinds(scenario: &Scenario, done: &Done) -> (Vec<Kind>, Vec<Need>, Vec<SiteId>) {
    let (mut kinds, mut needs, mut sites) = (Vec::new(), Vec::new(), Vec::new());
    let order = (0..scenario.boxes.len())
        .sorted_by(|&a, &b| scenario.boxes[a].name.cmp(&scenario.boxes[b].name));
    for index in order {
        let site = scenario.boxes[index].site;
        let known = sites.iter().position(|&other| other == site);
        let site = known.unwrap_or_else(|| {
            sites.push(site);
            sites.len() - 1
        });
        for (kind, lines) in of_box(scenario, BoxId(index), site, done) {
            for (line, each) in lines {
                needs.push(Need {
                    kind: kinds.len(),
                    line,
                    each,
                });
            }
            kinds.push(kind);
        }
    }
    (kinds, needs, sites)
}

/// Frames of each line, of those that ask for any.
type Lines = Vec<(usize, u32)>;

/// The kinds that one kind of box comes to: first what is untouched.
fn of_box(scenario: &Scenario, id: BoxId, site: usize, done: &Done) -> Vec<(Kind, Lines)> {
    let kind = &scenario.boxes[id.0];
    let there = |place: &(u32, u32)| place.0 < kind.count && place.1 < kind.compartments;
    let of_kind = done.records.iter().filter(|(place, _)| place.0 == id);
    let records: BTreeMap<(u32, u32), &Compartment> = of_kind
        .map(|(&(_, box_no, place), record)| ((box_no, place), record))
        .filter(|(place, _)| there(place))
        .collect();
    let lines: Lines = (0..)
        .zip(kind.lines.iter().map(|line| line.count))
        .collect();
    let fewest = 1000 * kind.bees.0;
    let make = |places: Places, most: i64, step: i64, fewest: i64| Kind {
        id,
        site,
        least: 0,
        most,
        step,
        worth: kind.worth.0,
        fewest,
        begun: false,
        places,
    };
    let compartments = i64::from(kind.compartments);
    // A box that is begun is no longer whole: its compartments are stocked one by one.
    let loose: BTreeSet<(u32, u32)> = match kind.whole {
        true => {
            let begun = done
                .boxes(id)
                .into_iter()
                .filter(|&box_no| box_no < kind.count);
            let of_box = |box_no| (0..kind.compartments).map(move |place| (box_no, place));
            begun.flat_map(of_box).collect()
        }
        false => records.keys().copied().collect(),
    };
    let most = i64::from(kind.count) * compartments - loose.len() as i64;
    let step = if kind.whole { compartments } else { 1 };
    let untouched = Places::Except(loose.clone());
    let mut kinds = vec![(make(untouched, most, step, fewest), lines.clone())];
    let free: BTreeSet<(u32, u32)> = loose
        .into_iter()
        .filter(|place| !records.contains_key(place))
        .collect();
    if !free.is_empty() {
        let most = free.len() as i64;
        kinds.push((make(Places::Only(free), most, 1, fewest), lines));
    }
    let mut alike: BTreeMap<(Lines, i64), BTreeSet<(u32, u32)>> = BTreeMap::new();
    for (place, record) in records {
        if let Some(lines) = lacking(scenario, kind, record) {
            let fewest = short(scenario, kind, record);
            alike.entry((lines, fewest)).or_default().insert(place);
        }
    }
    for ((lines, fewest), places) in alike {
        let most = places.len() as i64;
        let kind = make(Places::Only(places), most, 1, fewest);
        kinds.push((
            Kind {
                begun: true,
                ..kind
            },
            lines,
        ));
    }
    kinds
}

/// Frames that a compartment that is begun still lacks. `None` where it holds what its recipe has no
/// room for: it can never be stocked.
fn lacking(scenario: &Scenario, kind: &BoxKind, record: &Compartment) -> Option<Lines> {
    let mut left: Vec<u32> = kind.lines.iter().map(|line| line.count).collect();
    for placed in &record.frames {
        let line = kind.lines.get(placed.line)?;
        line.place_of(frame_at(scenario, placed.origin)?)?;
        let left = left.get_mut(placed.line)?;
        *left = left.checked_sub(placed.count)?;
    }
    Some((0..).zip(left).filter(|&(_, count)| count > 0).collect())
}

fn frame_at(scenario: &Scenario, origin: Origin) -> Option<&FrameState> {
    match origin {
        Origin::Colony(colony, group) => {
            let groups = &scenario.colonies.get(colony.0)?.frames;
            Some(&groups.get(group)?.frame)
        }
        Origin::StoreRoom(entry) => Some(&scenario.store_room.get(entry)?.frame),
    }
}

/// Thousandths of bees that a compartment that is begun is short of.
fn short(scenario: &Scenario, kind: &BoxKind, record: &Compartment) -> i64 {
    let stays = record.bees.iter().filter_map(|placed| {
        let donor = scenario.colonies.get(placed.colony.0)?;
        let share = stay(scenario, donor.site, kind.site);
        Some(placed.bees.0.max(0).saturating_mul(share))
    });
    let stays = stays.fold(0, i64::saturating_add);
    match 1000 * kind.bees.0 - stays {
        // Bees too many are no help to other compartments.
        over if over <= -1000 => 0,
        short => short,
    }
}

/// Has all compartments stocked that lack nothing, as far as there are cells for all of them: what is
/// finished stays. Those that are short of less than a bee count where others of their site make
/// up for it.
pub(super) fn settle_finished(kinds: &mut [Kind], needs: &[Need], cells: Option<&Batches>) {
    let complete: Vec<bool> = (0..kinds.len())
        .map(|at| {
            let lacks = needs.iter().any(|need| need.kind == at);
            kinds[at].begun && !lacks && kinds[at].fewest <= LESS_THAN_A_BEE
        })
        .collect();
    let mut short: BTreeMap<usize, i64> = BTreeMap::new();
    for (kind, _) in kinds
        .iter()
        .zip(&complete)
        .filter(|(_, complete)| **complete)
    {
        *short.entry(kind.site).or_default() += kind.fewest * kind.most;
    }
    let finished = |at: usize, kind: &Kind| {
        let made_up_for = short.get(&kind.site).is_some_and(|&short| short <= 0);
        complete[at] && (kind.fewest <= 0 || made_up_for)
    };
    let wanted: Vec<i64> = kinds
        .iter()
        .enumerate()
        .map(|(at, kind)| if finished(at, kind) { kind.most } else { 0 })
        .collect();
    let enough = cells.is_none_or(|batches| cells_for(batches, &wanted));
    for (kind, wanted) in kinds.iter_mut().zip(wanted) {
        kind.least = if enough { wanted } else { 0 };
    }
}

/// Batches of cells: how many, and the positions of the kinds that they are for.
pub(super) type Batches = [(i64, Vec<usize>)];

/// Whether there are cells for so many compartments of each kind.
fn cells_for(batches: &Batches, wanted: &[i64]) -> bool {
    let mut model = Model::default();
    let mut given: Vec<Vec<(Col, f64)>> = vec![Vec::new(); wanted.len()];
    for (count, kinds) in batches {
        let mut row = Vec::new();
        for &kind in kinds {
            let col = model.share(f64::INFINITY);
            row.push((col, 1.0));
            given[kind].push((col, 1.0));
        }
        model.row(row, Sense::AtMost, *count as f64);
    }
    for (given, &wanted) in given.into_iter().zip(wanted) {
        if wanted > 0 {
            if given.is_empty() {
                return false;
            }
            model.row(given, Sense::AtLeast, wanted as f64);
        }
    }
    matches!(model.solve(None), Answer::Best(_))
}
