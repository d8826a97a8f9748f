//! Phrases on what is otherwise.

use super::super::contents::contents;
use super::super::figures::{counted, some};
use super::super::report::Holds;
use super::super::words::clean;
use crate::plan::{Frames, Sheet, Slot};
use itertools::Itertools;
use std::collections::{BTreeMap, BTreeSet};

/// What every phrase on two plans needs to know.
pub(super) struct Words {
    /// More than one comb is in use, so that a frame must name its own.
    many_combs: bool,
    undivided: BTreeSet<String>,
    /// How frames are called.
    names: BTreeMap<Look, String>,
}

/// All that is known of frames of one source.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Look {
    colony: Option<String>,
    number: u32,
    /// What each holds, without and with what is sealed of its brood; empty where it is not said.
    holds: [String; 2],
    place: Option<String>,
}

impl Look {
    fn of(frames: &Frames, many_combs: bool) -> Self {
        let holds = frames.holds.as_ref();
        let said = |holds: Option<Holds>| holds.map_or(String::new(), |h| contents(&h, many_combs));
        let unsealed = holds.map(|holds| Holds {
            sealed_share: 0.0,
            ..holds.clone()
        });
        Self {
            colony: frames.source.colony.clone(),
            number: frames.source.number,
            holds: [said(unsealed), said(holds.cloned())],
            place: frames.source.place.as_deref().map(clean),
        }
    }

    /// A name: the fuller, the higher `detail`, up to 3.
    fn name(&self, detail: usize) -> String {
        let holds = &self.holds[usize::from(detail >= 2)];
        let place = self.place.as_deref().filter(|_| detail >= 1);
        let number = (detail >= 3).then(|| match self.colony {
            Some(_) => format!("frame group {}", self.number),
            None => format!("entry {}", self.number),
        });
        let parts = [Some(holds.as_str()), place, number.as_deref()];
        parts
            .into_iter()
            .flatten()
            .filter(|part| !part.is_empty())
            .join(", ")
    }
}

impl Words {
    pub(super) fn of(old: &Sheet, new: &Sheet) -> Self {
        let both = [old, new].into_iter();
        let placed = both.clone().flat_map(Sheet::touched);
        let placed = placed.flat_map(|stocked| &stocked.frames);
        let fillers = both.flat_map(|sheet| sheet.fillers.iter().flatten());
        let fillers = fillers.flat_map(|(_, frames)| frames);
        let frames = placed.chain(fillers).collect::<Vec<_>>();
        let combs = frames.iter().filter_map(|f| Some(&f.holds.as_ref()?.comb));
        let many_combs = combs.unique().count() > 1;
        let looks = frames.into_iter().map(|f| Look::of(f, many_combs));
        let looks: BTreeSet<Look> = looks.collect();
        let mut undivided: BTreeSet<String> =
            old.undivided.union(&new.undivided).cloned().collect();
        let slots = [old, new].into_iter().flat_map(Sheet::touched);
        for stocked in slots.filter(|stocked| stocked.slot.compartment > 1) {
            undivided.remove(&stocked.slot.kind);
        }
        let mut names = BTreeMap::new();
        // Looks are in the order of their colonies. As brief as tells those of a colony apart.
        for (_, looks) in &looks.iter().chunk_by(|look| look.colony.clone()) {
            let looks: Vec<&Look> = looks.collect();
            let clear = |detail: &usize| {
                let names: BTreeSet<String> = looks.iter().map(|look| look.name(*detail)).collect();
                names.len() == looks.len() && !names.contains("")
            };
            let detail = (0..3).find(clear).unwrap_or(3);
            names.extend(
                looks
                    .into_iter()
                    .map(|look| (look.clone(), look.name(detail))),
            );
        }
        Self {
            undivided,
            many_combs,
            names,
        }
    }

    /// What a frame is called: what it holds, and what else tells it from others of its colony.
    pub(super) fn frame(&self, frames: &Frames) -> String {
        let look = Look::of(frames, self.many_combs);
        self.names.get(&look).cloned().unwrap_or_default()
    }

    /// Where frames come from, and what they are: `colony 7 (brood 60%)`.
    pub(super) fn origin(&self, frames: &Frames) -> String {
        let from = match &frames.source.colony {
            Some(colony) => format!("colony {}", clean(colony)),
            None => "the store room".to_owned(),
        };
        match self.frame(frames) {
            name if name == frames.line => from,
            name => format!("{from} ({name})"),
        }
    }

    /// Box and compartment as `3.2`, or `3` where the box is not divided.
    pub(super) fn number(&self, slot: &Slot) -> String {
        match self.undivided.contains(&slot.kind) {
            true => slot.box_no.to_string(),
            false => format!("{}.{}", slot.box_no, slot.compartment),
        }
    }

    /// A compartment by name: `mating box 3.2`.
    pub(super) fn slot(&self, slot: &Slot) -> String {
        format!("{} {}", clean(&slot.kind), self.number(slot))
    }
}

/// Names that are numbers in the order of these, then the others.
pub(super) fn order(name: &str) -> (u64, String) {
    (name.parse().unwrap_or(u64::MAX), name.to_owned())
}

/// `2 more frames`, or `1 frame fewer`.
pub(super) fn more(difference: i64, one: &str, many: &str) -> String {
    let size = difference.saturating_abs();
    match (difference > 0, size) {
        (true, 1) => format!("1 more {one}"),
        (true, _) => counted(size, &format!("more {one}"), &format!("more {many}")),
        (false, _) => format!("{} fewer", counted(size, one, many)),
    }
}

/// So many bees more or fewer, in round numbers.
pub(super) fn more_bees(difference: i64) -> String {
    let which = if difference > 0 { "more" } else { "fewer" };
    format!("{} bees {which}", some(difference.saturating_abs()))
}

/// The new figure, and the old one.
pub(super) fn instead(now: &str, then: &str) -> String {
    format!("{now} instead of {then}")
}
