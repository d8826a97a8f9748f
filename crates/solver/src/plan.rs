//! A plan: frames and bees for each colony and compartment.

use std::collections::{BTreeMap, BTreeSet};

use crate::scenario::Prices;
use crate::scenario::{BoxId, ColonyId};
use crate::units::{Grams, Hundreds, Worth};

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
    /// Bees that ride on its brood frames, 0 or more.
    pub riding: Hundreds,
    /// Other bees, 0 or more: from its frames without brood, or shaken from frames that stay.
    pub loose: Hundreds,
}

impl PlacedBees {
    /// All of them.
    #[must_use]
    pub fn taken(&self) -> Hundreds {
        Hundreds(self.riding.0.saturating_add(self.loose.0))
    }
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
                last.riding = Hundreds(last.riding.0.saturating_add(next.riding.0));
                last.loose = Hundreds(last.loose.0.saturating_add(next.loose.0));
            }
            same
        });
    }

    /// What is in it beyond what is in another: frames by line and origin, bees by colony, riding
    /// from riding and loose from loose; what the other has too many of one sort is of the other sort.
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
            for gone in other.bees.iter().filter(same) {
                let left = (placed.taken().0.saturating_sub(gone.taken().0)).max(0);
                let riding = placed.riding.0.saturating_sub(gone.riding.0);
                placed.riding = Hundreds(riding.clamp(0, left));
                placed.loose = Hundreds(left - placed.riding.0);
            }
        }
        rest.frames.retain(|placed| placed.count > 0);
        rest.bees.retain(|placed| placed.taken().0 > 0);
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
    ///
    /// ```
    /// use spareframe_solver::{ColonyId, Outcome, Scenario, SolveOptions, solve};
    /// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
    /// let yard: Scenario = include!("../doctests/yard.rs");
    /// let Outcome::Stocked(best) = solve(&yard, &SolveOptions::default()) else { panic!() };
    /// // Two brood frames of each, and a comb of stores of the producer.
    /// let (producer, nucleus) = (ColonyId(0), ColonyId(1));
    /// let drawn = [((producer, 0), 2), ((producer, 2), 1), ((nucleus, 0), 2)];
    /// assert_eq!(best.plan.drawn(), drawn.into());
    /// ```
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
    ///
    /// ```
    /// use spareframe_solver::{Outcome, Scenario, SolveOptions, solve};
    /// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
    /// let yard: Scenario = include!("../doctests/yard.rs");
    /// let Outcome::Stocked(best) = solve(&yard, &SolveOptions::default()) else { panic!() };
    /// let first = &best.plan.compartments[..1];
    /// assert_eq!(best.plan.rest(first).compartments, best.plan.compartments[1..]);
    /// ```
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
    /// use spareframe_solver::{Outcome, Plan, Scenario, SolveOptions, solve};
    /// // A producer, a nucleus, a colony on hold; two boxes of two compartments.
    /// let yard: Scenario = include!("../doctests/yard.rs");
    /// let Outcome::Stocked(best) = solve(&yard, &SolveOptions::default()) else { panic!() };
    /// assert_eq!(best.plan.drawn_otherwise(&best.plan), 0);
    /// assert_eq!(best.plan.drawn_otherwise(&Plan::default()), 5);
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

/// The parts of the cost, each in its own unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Cost {
    /// Honey given up, charged.
    pub honey: Grams,
    /// Points of burden, summed over colonies.
    pub burden: i64,
    /// Places in the orders of preference, summed over frames.
    pub substitutes: i64,
    /// Colonies opened.
    pub opened: i64,
    /// Frames drawn otherwise than in an earlier plan; 0 without one.
    pub otherwise: i64,
}

impl Cost {
    /// The whole cost at these prices, 0 or more.
    ///
    /// ```
    /// use spareframe_solver::{Cost, Grams, Prices};
    /// let cost = Cost { honey: Grams(700), burden: 60, substitutes: 1, opened: 2, otherwise: 0 };
    /// assert_eq!(cost.total(&Prices::default()), Grams(700 + 300 + 50 + 40));
    /// ```
    #[must_use]
    pub fn total(&self, prices: &Prices) -> Grams {
        let parts = [
            (self.burden, prices.burden),
            (self.substitutes, prices.substitute),
            (self.opened, prices.opened),
            (self.otherwise, prices.otherwise),
        ];
        let weighed = parts.map(|(count, price)| count.saturating_mul(price.0));
        Grams(weighed.into_iter().fold(self.honey.0, i64::saturating_add))
    }
}

/// What a plan reaches: most worth, then least cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Goals {
    /// Worth of the stocked compartments; greatest is best.
    pub worth: Worth,
    /// What makes the cost; the least total is best.
    pub cost: Cost,
}

#[cfg(test)]
mod tests {
    use super::*;

    fn holding(riding: i64, loose: i64) -> Compartment {
        Compartment {
            kind: BoxId(0),
            box_no: 0,
            place: 0,
            frames: vec![],
            bees: vec![PlacedBees {
                colony: ColonyId(0),
                riding: Hundreds(riding),
                loose: Hundreds(loose),
            }],
        }
    }

    #[test]
    fn bees_that_are_done_are_deducted_from_their_own_sort_first() {
        let rest = |done: (i64, i64)| {
            let rest = holding(10, 5).less(&holding(done.0, done.1));
            rest.bees.first().map(|bees| (bees.riding.0, bees.loose.0))
        };
        assert_eq!(rest((10, 0)), Some((0, 5)));
        assert_eq!(rest((4, 1)), Some((6, 4)));
        assert_eq!(rest((0, 7)), Some((8, 0)));
        assert_eq!(rest((12, 0)), Some((0, 3)));
        assert_eq!(rest((0, 15)), None);
    }
}
