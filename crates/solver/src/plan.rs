//! A plan: frames and bees for each colony and compartment.

use std::collections::{BTreeMap, BTreeSet};

use crate::scenario::{BoxId, ColonyId};
use crate::units::{Bees, Milligrams, Worth};

/// Where a frame comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Origin {
    /// A frame group of a colony: its index in [`crate::Colony::frames`].
    Colony(ColonyId, usize),
    /// Index in [`crate::Scenario::store_room`].
    StoreRoom(usize),
}

/// Frames of one origin that serve one recipe line of one compartment.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct PlacedFrames {
    /// Index in [`crate::BoxKind::lines`].
    pub line: usize,
    /// Where they come from.
    pub origin: Origin,
    /// How many, 1 or more.
    pub count: u32,
}

/// Bees of one colony that go into one compartment (as taken, before drift).
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct PlacedBees {
    /// Donor.
    pub colony: ColonyId,
    /// How many are taken, 1 or more.
    pub bees: Bees,
}

/// One stocked compartment.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Compartment {
    /// Kind of box.
    pub kind: BoxId,
    /// Which box of that kind, from 0.
    pub box_no: u32,
    /// Which compartment of that box, from 0.
    pub place: u32,
    /// Its frames, by line and origin.
    pub frames: Vec<PlacedFrames>,
    /// Its bees, by colony.
    pub bees: Vec<PlacedBees>,
}

impl Compartment {
    /// Puts what is in it in the order of line, origin and colony, each once.
    pub fn put_in_order(&mut self) {
        self.frames.sort();
        self.frames.dedup_by(|next, last| {
            let same = (next.line, next.origin) == (last.line, last.origin);
            if same {
                last.count = last.count.saturating_add(next.count);
            }
            same
        });
        self.bees.sort();
        self.bees.dedup_by(|next, last| {
            let same = next.colony == last.colony;
            if same {
                last.bees = Bees(last.bees.0.saturating_add(next.bees.0));
            }
            same
        });
    }

    /// What is in it beyond what is in another: frames by line and origin, bees by colony.
    #[must_use]
    pub fn less(&self, other: &Self) -> Self {
        let mut rest = self.clone();
        rest.put_in_order();
        for placed in &mut rest.frames {
            let same = |o: &&PlacedFrames| (o.line, o.origin) == (placed.line, placed.origin);
            for gone in other.frames.iter().filter(same).map(|o| o.count) {
                placed.count = placed.count.saturating_sub(gone);
            }
        }
        for placed in &mut rest.bees {
            let same = |o: &&PlacedBees| o.colony == placed.colony;
            for gone in other.bees.iter().filter(same).map(|o| o.bees.0) {
                placed.bees = Bees((placed.bees.0 - gone).max(0));
            }
        }
        rest.frames.retain(|placed| placed.count > 0);
        rest.bees.retain(|placed| placed.bees.0 > 0);
        rest
    }
}

/// The whole plan: stocked compartments in the order of kind, box, place.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Plan {
    /// Stocked compartments.
    pub compartments: Vec<Compartment>,
    /// Compartments that are begun and not stocked, as what is done left them; in the same order.
    pub begun: Vec<Compartment>,
}

impl Plan {
    /// Puts compartments in the order of kind, box and place, and what is in them by line, origin
    /// and colony, each once.
    pub fn put_in_order(&mut self) {
        for list in [&mut self.compartments, &mut self.begun] {
            list.iter_mut().for_each(Compartment::put_in_order);
            list.sort_by_key(|c| (c.kind, c.box_no, c.place));
        }
    }

    /// Frames taken from each frame group of each colony; the groups that give none are left out.
    #[must_use]
    pub fn drawn(&self) -> BTreeMap<(ColonyId, usize), u64> {
        let mut drawn = BTreeMap::new();
        for placed in self.touched().flat_map(|c| &c.frames) {
            if let Origin::Colony(colony, group) = placed.origin
                && placed.count > 0
            {
                *drawn.entry((colony, group)).or_default() += u64::from(placed.count);
            }
        }
        drawn
    }

    /// What is still to be put into stocked compartments, where this is done; compartments that lack
    /// nothing are left out.
    #[must_use]
    pub fn rest(&self, done: &[Compartment]) -> Self {
        let left = self.compartments.iter().map(|compartment| {
            let place = |c: &Compartment| (c.kind, c.box_no, c.place);
            let records = done
                .iter()
                .filter(|record| place(record) == place(compartment));
            records.fold(compartment.clone(), |rest, record| rest.less(record))
        });
        let lacks = |c: &Compartment| !c.frames.is_empty() || !c.bees.is_empty();
        Self {
            compartments: left.filter(lacks).collect(),
            begun: Vec::new(),
        }
    }

    /// All compartments that something goes into: those stocked, then those that stay begun.
    pub fn touched(&self) -> impl Iterator<Item = &Compartment> {
        self.compartments.iter().chain(&self.begun)
    }

    /// Frames drawn otherwise than in another plan: over all frame groups of all colonies, the sum
    /// of how far the frames taken are apart. It is the same the other way round.
    ///
    /// ```
    /// use spareframe_solver::Plan;
    /// assert_eq!(Plan::default().drawn_otherwise(&Plan::default()), 0);
    /// ```
    #[must_use]
    pub fn drawn_otherwise(&self, then: &Self) -> u64 {
        let (now, then) = (self.drawn(), then.drawn());
        let groups: BTreeSet<_> = now.keys().chain(then.keys()).collect();
        let of = |drawn: &BTreeMap<_, u64>, group| drawn.get(group).copied().unwrap_or(0);
        groups
            .into_iter()
            .map(|group| of(&now, group).abs_diff(of(&then, group)))
            .sum()
    }
}

/// The four goals in their order, and the tie rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Goals {
    /// Worth of the stocked compartments; greatest is best.
    pub worth: Worth,
    /// Honey given up, charged; least is best.
    pub honey: Milligrams,
    /// Colonies opened; fewest is best.
    pub opened: u32,
    /// Bees shaken from frames that stay; fewest is best.
    pub shaken: Bees,
}
