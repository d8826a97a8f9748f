//! An earlier plan that the new one is to stay near to.

use std::collections::BTreeMap;

use crate::plan::{Compartment, Origin, Plan};
use crate::solve::instance::{Done, Instance, Kind, Place};

/// What an earlier plan puts where, without what is done. It may name what there is no more.
#[derive(Default)]
pub(super) struct Earlier {
    compartments: BTreeMap<Place, Compartment>,
    taken: BTreeMap<Origin, u32>,
}

impl Earlier {
    pub fn of(plan: Option<&Plan>, done: &Done) -> Self {
        let mut earlier = Self::default();
        for compartment in plan.into_iter().flat_map(|plan| &plan.compartments) {
            let key = (compartment.kind, compartment.box_no, compartment.place);
            let rest = done.rest(compartment);
            for placed in &rest.frames {
                let taken = earlier.taken.entry(placed.origin).or_default();
                *taken = taken.saturating_add(placed.count);
            }
            // One that is named twice counts as it stands first.
            earlier.compartments.entry(key).or_insert(rest);
        }
        earlier
    }

    /// Frames that it takes from one origin.
    pub fn taken(&self, origin: Origin) -> u32 {
        self.taken.get(&origin).copied().unwrap_or(0)
    }

    /// What it puts into one compartment.
    pub fn compartment(&self, place: Place) -> Option<&Compartment> {
        self.compartments.get(&place)
    }

    /// Hundreds of bees that it takes, by donor and site.
    pub fn bees(&self, instance: &Instance) -> BTreeMap<(usize, usize), i64> {
        let mut bees = BTreeMap::new();
        for (key, compartment) in &self.compartments {
            let kind = instance.kinds.iter().find(|kind| kind.id == key.0);
            for (kind, placed) in kind
                .into_iter()
                .flat_map(|kind| compartment.bees.iter().map(move |placed| (kind, placed)))
            {
                let mut donors = instance.donors.iter();
                if let Some(donor) = donors.position(|donor| donor.id == placed.colony) {
                    *bees.entry((donor, kind.site)).or_default() += placed.taken().0;
                }
            }
        }
        bees
    }

    /// The places (box, compartment) of a kind that it stocks, each with how many of its frames are not
    /// at hand. Those of a place that lacks none are no longer at hand for the others.
    pub fn lacking(
        &self,
        kind: &Kind,
        at_hand: &mut BTreeMap<Origin, u32>,
    ) -> BTreeMap<(u32, u32), u32> {
        let mut places = BTreeMap::new();
        let of_kind = |key: &Place| key.0 == kind.id && kind.places.has((key.1, key.2));
        for (key, compartment) in self.compartments.iter().filter(|(key, _)| of_kind(key)) {
            let mut left = at_hand.clone();
            let mut lacking: u32 = 0;
            for placed in &compartment.frames {
                let held = left.entry(placed.origin).or_default();
                lacking = lacking.saturating_add(placed.count.saturating_sub(*held));
                *held = held.saturating_sub(placed.count);
            }
            if lacking == 0 {
                *at_hand = left;
            }
            places.insert((key.1, key.2), lacking);
        }
        places
    }
}
