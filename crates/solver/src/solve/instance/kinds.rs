//! Kinds of box as the optimiser sees them: compartments that are begun, or in which bees stand, are of kinds of
//! their own, which ask for what they still lack.

use std::collections::{BTreeMap, BTreeSet};

use itertools::Itertools;

use super::done::Done;
use super::{BoxSite, Kind, Need};
use crate::plan::{Compartment, Origin};
use crate::scenario::{BoxId, BoxKind, FrameState, Line, Scenario, SiteId};
use crate::solve::flow::serves_all;

/// A compartment may be short of its fewest by so many bees.
pub(crate) const LESS_THAN_A_HUNDRED: i64 = 99;

/// Some compartments (box, place) of a box kind.
#[derive(Debug, Clone)]
pub(crate) enum Places {
    /// All but these, of so many boxes with so many compartments each.
    Except(u32, u32, BTreeSet<(u32, u32)>),
    /// These.
    Only(BTreeSet<(u32, u32)>),
}

impl Places {
    pub fn has(&self, place: (u32, u32)) -> bool {
        match self {
            Self::Except(boxes, compartments, not) => {
                place.0 < *boxes && place.1 < *compartments && !not.contains(&place)
            }
            Self::Only(places) => places.contains(&place),
        }
    }

    /// All of them, in order.
    pub fn all(&self) -> Box<dyn Iterator<Item = (u32, u32)> + '_> {
        match self {
            Self::Except(boxes, compartments, _) => {
                let of_box = |box_no: u32| (0..*compartments).map(move |place| (box_no, place));
                let all = (0..*boxes).flat_map(of_box);
                Box::new(all.filter(|&place| self.has(place)))
            }
            Self::Only(places) => Box::new(places.iter().copied()),
        }
    }

    fn count(&self) -> i64 {
        let (all, not) = match self {
            Self::Except(boxes, compartments, not) => {
                (i64::from(*boxes) * i64::from(*compartments), not.len())
            }
            Self::Only(places) => (0, places.len()),
        };
        let listed = i64::try_from(not).unwrap_or(i64::MAX);
        (all - listed).abs()
    }
}

/// Frames of each line, of those that ask for any.
type Lines = Vec<(usize, u32)>;

/// All kinds by name, with what they need, and the sites where they stand.
#[derive(Default)]
pub(super) struct Boxes {
    pub kinds: Vec<Kind>,
    pub needs: Vec<Need>,
    pub sites: Vec<BoxSite>,
}

impl Boxes {
    pub fn of(scenario: &Scenario, done: &Done) -> Self {
        let mut boxes = Self::default();
        let order = (0..scenario.boxes.len())
            .sorted_by(|&a, &b| scenario.boxes[a].name.cmp(&scenario.boxes[b].name));
        for id in order.map(BoxId) {
            let site = boxes.site(scenario.boxes[id.0].site);
            for (kind, lines) in of_box(scenario, id, site, done) {
                boxes.add(kind, lines);
            }
        }
        boxes
    }

    fn site(&mut self, id: SiteId) -> usize {
        let known = self.sites.iter().position(|other| other.id == id);
        known.unwrap_or_else(|| {
            self.sites.push(BoxSite {
                id,
                credit: 0,
                loose_credit: 0,
            });
            self.sites.len() - 1
        })
    }

    fn add(&mut self, kind: Kind, lines: Lines) {
        if kind.most > 0 {
            let at = self.kinds.len();
            let needs = lines.into_iter().map(|(line, each)| Need {
                kind: at,
                line,
                each,
            });
            self.needs.extend(needs);
            self.kinds.push(kind);
        }
    }

    /// Has all compartments stocked that lack nothing, where there are cells for all of them, and
    /// credits their sites with what they hold beyond their fewest.
    pub fn settle_finished(
        &mut self,
        scenario: &Scenario,
        done: &Done,
        cells: Option<&[(i64, Vec<usize>)]>,
    ) {
        let lacks = |at: usize| self.needs.iter().any(|need| need.kind == at);
        let wanted: Vec<i64> = (0..)
            .zip(&self.kinds)
            .map(
                |(at, kind)| match kind.begun && kind.need == 0 && !lacks(at) {
                    true => kind.most,
                    false => 0,
                },
            )
            .collect();
        if !cells.is_none_or(|batches| serves_all(batches, &wanted)) {
            return;
        }
        for (kind, wanted) in self.kinds.iter_mut().zip(wanted) {
            kind.least = wanted;
        }
        for (at, site) in self.sites.iter_mut().enumerate() {
            let here = self
                .kinds
                .iter()
                .filter(|kind| kind.site == at && kind.least > 0);
            let over = here.map(|kind| (kind.brood_line, over(scenario, done, kind)));
            let over: Vec<(bool, i64)> = over.collect();
            let loose = over.iter().filter(|(brood_line, _)| !brood_line);
            let credit = |over: i64| over.clamp(0, LESS_THAN_A_HUNDRED);
            site.loose_credit = credit(loose.map(|(_, over)| over).sum());
            site.credit = credit(over.iter().map(|(_, over)| over).sum());
        }
    }
}

/// Bees that the compartments of a kind that is begun hold beyond their fewest; below 0 where they are
/// short, on balance.
fn over(scenario: &Scenario, done: &Done, kind: &Kind) -> i64 {
    let boxes = &scenario.boxes[kind.id.0];
    let records = kind.places.all().filter_map(|(box_no, place)| {
        let record = done.records.get(&(kind.id, box_no, place))?;
        let asked = scenario.asked(kind.id, box_no, place)?;
        Some(held(scenario, boxes.site, record) - asked.bees.0)
    });
    records.fold(0, i64::saturating_add)
}

/// What compartments that are taken are alike in.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Alike {
    again: bool,
    lines: Lines,
    need: i64,
    begun: bool,
    brood_line: bool,
}

/// The kinds that one kind of box comes to: first what is untouched.
fn of_box(scenario: &Scenario, id: BoxId, site: usize, done: &Done) -> Vec<(Kind, Lines)> {
    let kind = &scenario.boxes[id.0];
    let taken = taken(scenario, kind, id, done);
    let singled = singled(kind, &taken);
    let free: BTreeSet<(u32, u32)> = singled.difference(&taken).copied().collect();
    let step = if kind.whole { kind.compartments } else { 1 };
    let untouched = Places::Except(kind.count, kind.compartments, singled);
    let make = |places: Places, step: u32, of: &Alike| Kind {
        id,
        site,
        least: 0,
        most: places.count(),
        step: i64::from(step),
        worth: kind.worth.0,
        need: of.need,
        brood_line: of.brood_line,
        again: of.again,
        begun: of.begun,
        places,
    };
    let new = Alike {
        again: false,
        lines: asked_for(&kind.lines),
        need: kind.bees.0.max(0),
        begun: false,
        brood_line: kind.has_brood_line(),
    };
    let mut alike: BTreeMap<Alike, BTreeSet<(u32, u32)>> = BTreeMap::new();
    for place in taken {
        if let Some(of) = lacking(scenario, id, place, done) {
            alike.entry(of).or_default().insert(place);
        }
    }
    let mut kinds = vec![
        (make(untouched, step, &new), new.lines.clone()),
        (make(Places::Only(free), 1, &new), new.lines),
    ];
    let alike = alike.into_iter();
    kinds.extend(alike.map(|(of, places)| (make(Places::Only(places), 1, &of), of.lines)));
    kinds
}

/// Compartments that there are in which something is done, or stands.
fn taken(scenario: &Scenario, kind: &BoxKind, id: BoxId, done: &Done) -> BTreeSet<(u32, u32)> {
    let begun = done.records.keys().copied();
    let stand = scenario.standing.iter();
    let all = begun.chain(stand.map(|s| (s.kind, s.box_no, s.place)));
    let of_kind = all.filter(|&(of, box_no, place)| {
        of == id && box_no < kind.count && place < kind.compartments
    });
    of_kind.map(|(_, box_no, place)| (box_no, place)).collect()
}

/// Compartments that are stocked one by one: those that are taken, and all of a box that is no longer whole.
fn singled(kind: &BoxKind, taken: &BTreeSet<(u32, u32)>) -> BTreeSet<(u32, u32)> {
    let together = |place| match kind.whole {
        true => 0..kind.compartments,
        false => place..place + 1,
    };
    let places = taken.iter();
    places
        .flat_map(|&(box_no, place)| together(place).map(move |place| (box_no, place)))
        .collect()
}

/// What a compartment that is taken still lacks. `None` where it can never be stocked: it holds what its recipe
/// has no room for, or bees stand in it and it is to get no cell.
fn lacking(
    scenario: &Scenario,
    id: BoxId,
    (box_no, place): (u32, u32),
    done: &Done,
) -> Option<Alike> {
    let asked = scenario.asked(id, box_no, place)?;
    if let Some(stands) = scenario.stands(id, box_no, place) {
        stands.wants_cell.then_some(())?;
    }
    let record = done.records.get(&(id, box_no, place));
    let mut lines = asked.lines.to_vec();
    for placed in record.iter().flat_map(|record| &record.frames) {
        let line = lines.get_mut(placed.line)?;
        line.place_of(frame_at(scenario, placed.origin)?)?;
        line.count = line.count.checked_sub(placed.count)?;
    }
    let site = scenario.boxes.get(id.0)?.site;
    let need = match record.map(|record| asked.bees.0 - held(scenario, site, record)) {
        None => asked.bees.0.max(0),
        Some(short) if short > LESS_THAN_A_HUNDRED => short,
        Some(_) => 0,
    };
    Some(Alike {
        again: asked.stands,
        lines: asked_for(&lines),
        need,
        begun: record.is_some(),
        brood_line: asked.has_brood_line(),
    })
}

/// Frames that lines ask for, of those that ask for any.
fn asked_for(lines: &[Line]) -> Lines {
    let each = (0..).zip(lines.iter().map(|line| line.count));
    each.filter(|&(_, count)| count > 0).collect()
}

/// A frame of an origin, where there is such.
pub(super) fn frame_at(scenario: &Scenario, origin: Origin) -> Option<&FrameState> {
    match origin {
        Origin::Colony(colony, group) => {
            let groups = &scenario.colonies.get(colony.0)?.frames;
            Some(&groups.get(group)?.frame)
        }
        Origin::StoreRoom(entry) => Some(&scenario.store_room.get(entry)?.frame),
    }
}

/// Bees that stay of those recorded.
fn held(scenario: &Scenario, site: SiteId, record: &Compartment) -> i64 {
    let stays = record.bees.iter().filter_map(|placed| {
        let donor = scenario.colonies.get(placed.colony.0)?;
        let percent = stay(scenario, donor.site, site);
        Some(placed.taken().0.max(0).saturating_mul(percent))
    });
    stays.fold(0, i64::saturating_add)
}

/// Percent of the bees taken at `from` that stay in a box at `to`; so many stay of each hundred.
pub(super) fn stay(scenario: &Scenario, from: SiteId, to: SiteId) -> i64 {
    let row = scenario.distances.get(from.0);
    match row.and_then(|row| row.get(to.0)) {
        Some(&metres) if metres < scenario.drift.homing_metres => 100 - scenario.drift.flying.0,
        _ => 100,
    }
}
