//! The store room, less what left it, and the cells, less those that were given.

use super::done::Done;
use super::written;
use crate::editing::{Change, New, Step, What};
use crate::reading::{Node, Value, word};
use crate::scenario::Loaded;
use jiff::civil::Date;
use spareframe_solver::{BoxId, CellBatch, Compartment, FrameState, Hundreds, Origin, Scenario};
use std::collections::BTreeMap;

/// Entries of the store room with what is left of them; those that are used up go. Frames that come out of compartments
/// to make room come in.
pub(super) fn store_room(root: &Node, loaded: &Loaded, done: &Done) -> Vec<Change> {
    let mut taken: BTreeMap<usize, u32> = BTreeMap::new();
    for placed in done.compartments.iter().flat_map(|c| &c.frames) {
        if let Origin::StoreRoom(entry) = placed.origin {
            *taken.entry(entry).or_default() += placed.count;
        }
    }
    for filler in &done.fillers {
        *taken.entry(filler.entry).or_default() += filler.count;
    }
    let shelf = &loaded.scenario.store_room;
    let left = |entry: usize, taken: u32| {
        let there = shelf.get(entry).map_or(0, |spare| spare.count);
        there.saturating_sub(taken)
    };
    let mut changes = Vec::new();
    let mut out = Vec::new();
    for (&entry, &taken) in taken.iter().filter(|(_, taken)| **taken > 0) {
        match left(entry, taken) {
            0 => out.push(entry),
            left => changes.push(Change::at(
                [Step::from("store room"), Step::from(entry)],
                What::Set("count".to_owned(), New::Scalar(left.to_string())),
            )),
        }
    }
    let new = out_of_compartments(&loaded.scenario, done);
    let all = root.get("store room").is_none() || out.len() == shelf.len();
    match (all, new.is_empty()) {
        (true, true) if out.is_empty() => {}
        (true, true) => return vec![Change::at([], What::Gone("store room".into()))],
        (true, false) => {
            let new = What::Set("store room".to_owned(), New::List(new));
            return vec![Change::at([], new)];
        }
        (false, _) => {
            let at = || [Step::from("store room")];
            let out = (!out.is_empty()).then(|| Change::at(at(), What::Out(out)));
            let new = (!new.is_empty()).then(|| Change::at(at(), What::More(new)));
            changes.extend(new.into_iter().chain(out));
        }
    }
    changes
}

/// Frames that came out of compartments, as entries of the store room.
fn out_of_compartments(scenario: &Scenario, done: &Done) -> Vec<New> {
    let mut frames: Vec<(FrameState, u32)> = Vec::new();
    for compartment in &done.compartments {
        let stands = scenario.standing.iter().find(|s| s.is(compartment));
        for (group, count) in scenario.makes_room(compartment) {
            let Some(group) = stands.and_then(|stands| stands.frames.get(group)) else {
                continue;
            };
            let frame = FrameState {
                bees: Hundreds(0),
                ..group.frame
            };
            match frames.iter_mut().find(|(known, _)| *known == frame) {
                Some((_, there)) => *there += count,
                None => frames.push((frame, count)),
            }
        }
    }
    let frames = frames.iter();
    frames
        .map(|(frame, count)| written::frames(&scenario.combs, (frame, *count), None, None))
        .collect()
}

/// Cells that were given.
#[derive(Debug, Clone, Default)]
pub(super) struct Given {
    /// By batch of the scenario.
    pub batches: Vec<u32>,
    /// Compartments, by index, for which there was none.
    pub without: Vec<usize>,
}

/// A cell for each compartment of the day's work, as far as there are any.
pub(super) fn given(scenario: &Scenario, done: &Done) -> Given {
    let Some(batches) = &scenario.cells else {
        return Given {
            batches: Vec::new(),
            without: done.without_queen.clone(),
        };
    };
    let mut deal = Deal {
        batches,
        compartments: &done.compartments,
        has: vec![None; done.compartments.len()],
    };
    let mut without = Vec::new();
    for at in 0..done.compartments.len() {
        let given = !done.without_queen.contains(&at);
        if !given || !deal.find(at, &mut vec![false; batches.len()]) {
            without.push(at);
        }
    }
    let count = |batch| deal.has.iter().filter(|has| **has == Some(batch)).count();
    let counts = (0..batches.len()).map(|batch| u32::try_from(count(batch)).unwrap_or(u32::MAX));
    Given {
        batches: counts.collect(),
        without,
    }
}

/// Cells dealt out: which batch each compartment has its cell from.
struct Deal<'a> {
    batches: &'a [CellBatch],
    compartments: &'a [Compartment],
    has: Vec<Option<usize>>,
}

impl Deal<'_> {
    fn serves(&self, batch: usize, kind: BoxId) -> bool {
        let boxes = &self.batches[batch].boxes;
        boxes.is_empty() || boxes.contains(&kind)
    }

    /// Finds a cell for a compartment; others may have to take theirs from other batches.
    fn find(&mut self, at: usize, tried: &mut Vec<bool>) -> bool {
        let kind = self.compartments[at].kind;
        // Those for this kind alone first.
        let mut order: Vec<usize> = (0..self.batches.len()).collect();
        order.sort_by_key(|&batch| {
            let kinds = self.batches[batch].boxes.len();
            (if kinds == 0 { usize::MAX } else { kinds }, batch)
        });
        for batch in order {
            if tried[batch] || !self.serves(batch, kind) {
                continue;
            }
            tried[batch] = true;
            let holders: Vec<usize> = (0..self.has.len())
                .filter(|&other| self.has[other] == Some(batch))
                .collect();
            let room = usize::try_from(self.batches[batch].count).unwrap_or(usize::MAX);
            if holders.len() < room || holders.into_iter().any(|other| self.find(other, tried)) {
                self.has[at] = Some(batch);
                return true;
            }
        }
        false
    }
}

/// Cells of the next round, for all boxes.
pub(super) fn cells_at_hand(cells: u32) -> Change {
    let set = What::Set("cells".to_owned(), New::Scalar(cells.to_string()));
    Change::at([], set)
}

/// The grafting day of the next round.
pub(super) fn grafted(root: &Node, day: Date) -> Change {
    let graft = New::Scalar(day.to_string());
    match root.get("rearing") {
        Some(_) => Change::at(
            [Step::from("rearing")],
            What::Set("grafted".to_owned(), graft),
        ),
        None => {
            let rearing = New::Map(vec![("grafted".to_owned(), graft)]);
            Change::at([], What::Set("rearing".to_owned(), rearing))
        }
    }
}

/// Cells that are left.
pub(super) fn cells(root: &Node, loaded: &Loaded, given: &Given) -> Vec<Change> {
    let (Some(node), Some(batches)) = (root.get("cells"), &loaded.scenario.cells) else {
        return Vec::new();
    };
    let used = given.batches.iter().zip(batches).enumerate();
    let ours = |at: &usize| loaded.queens.is_batch(&loaded.scenario, *at);
    let used = used.filter(|(at, (given, _))| **given > 0 && !ours(at));
    let left = used.map(|(at, (given, batch))| (at, batch.count.saturating_sub(*given)));
    let set = |key: &str, left: u32| What::Set(key.to_owned(), New::Scalar(left.to_string()));
    let change = |(at, left): (usize, u32)| match &node.value {
        Value::Scalar { .. } => Some(Change::at([], set("cells", left))),
        Value::Map(map) => {
            let (key, _) = map.get(at)?;
            Some(Change::at([Step::from("cells")], set(word(key), left)))
        }
        Value::List(_) => {
            let path = [Step::from("cells"), Step::from(at)];
            Some(Change::at(path, set("count", left)))
        }
    };
    left.filter_map(change).collect()
}
