//! What is already done on the day: frames and bees that have left, and compartments that are begun.

use std::collections::BTreeMap;

use crate::plan::{Compartment, Origin, Plan};
use crate::scenario::{BoxId, ColonyId, Give, Scenario};

/// Which compartment: kind, box, place.
pub(crate) type Place = (BoxId, u32, u32);

/// The records of a scenario, put together.
#[derive(Debug, Clone, Default)]
pub(crate) struct Done {
    /// What each compartment that is begun holds.
    pub records: BTreeMap<Place, Compartment>,
    frames: BTreeMap<Origin, u32>,
    bees: BTreeMap<ColonyId, i64>,
}

impl Done {
    pub fn of(scenario: &Scenario) -> Self {
        let mut done = Self::default();
        for record in &scenario.done {
            let place = (record.kind, record.box_no, record.place);
            let held = done.records.entry(place).or_insert_with(|| Compartment {
                frames: Vec::new(),
                bees: Vec::new(),
                ..record.clone()
            });
            held.frames.extend(record.frames.iter().cloned());
            held.bees.extend(record.bees.iter().cloned());
        }
        for record in done.records.values_mut() {
            record.put_in_order();
            for placed in &record.frames {
                let taken = done.frames.entry(placed.origin).or_default();
                *taken = taken.saturating_add(placed.count);
            }
            for placed in &record.bees {
                let taken = done.bees.entry(placed.colony).or_default();
                *taken = taken.saturating_add(placed.taken().0.max(0));
            }
        }
        done
    }

    /// Frames that have left one origin.
    pub fn frames(&self, origin: Origin) -> u32 {
        self.frames.get(&origin).copied().unwrap_or(0)
    }

    /// Hundreds of bees that have left a colony.
    pub fn bees(&self, colony: ColonyId) -> i64 {
        self.bees.get(&colony).copied().unwrap_or(0)
    }

    /// Whether a frame or a bee of a colony has left.
    pub fn opened(&self, colony: ColonyId) -> bool {
        let of = |origin: &Origin| matches!(origin, Origin::Colony(id, _) if *id == colony);
        self.bees(colony) > 0 || self.frames.iter().any(|(from, &n)| n > 0 && of(from))
    }

    /// Frames that are wished for beyond what has left.
    pub fn left_of(&self, give: &Give) -> u32 {
        let gone = self.frames.iter().filter(|(origin, _)| match **origin {
            Origin::Colony(id, group) => {
                id == give.colony && give.group.is_none_or(|wished| wished == group)
            }
            Origin::StoreRoom(_) => false,
        });
        let gone = gone.map(|(_, &count)| count).fold(0, u32::saturating_add);
        give.frames.saturating_sub(gone)
    }

    /// What another plan puts into a compartment besides what is done there.
    pub fn rest(&self, compartment: &Compartment) -> Compartment {
        let place = (compartment.kind, compartment.box_no, compartment.place);
        match self.records.get(&place) {
            Some(record) => compartment.less(record),
            None => compartment.clone(),
        }
    }

    /// Adds what is done to the compartments of a plan; what is begun and not among them stays as it
    /// is, beside them.
    pub fn complete(&self, mut plan: Plan) -> Plan {
        let mut left = self.records.clone();
        for compartment in &mut plan.compartments {
            let place = (compartment.kind, compartment.box_no, compartment.place);
            if let Some(record) = left.remove(&place) {
                compartment.frames.extend(record.frames);
                compartment.bees.extend(record.bees);
            }
        }
        plan.begun.extend(left.into_values());
        plan.put_in_order();
        plan
    }
}
