//! What fills the gaps that frames leave.

use super::build::{Notes, holds, place};
use super::report::Filling;
use spareframe_solver::{ColonyId, Origin, Plan, Scenario};

/// Frames of the store room that fill gaps in one colony.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Filler {
    pub colony: ColonyId,
    pub entry: usize,
    pub count: u32,
}

/// What fills the gaps of a plan.
pub(super) fn fillers(_scenario: &Scenario, _plan: &Plan) -> Vec<Filler> {
    Vec::new()
}

/// What goes into the gaps of one colony.
pub(super) fn fillings(
    scenario: &Scenario,
    notes: &Notes,
    fillers: &[Filler],
    colony: ColonyId,
) -> Vec<Filling> {
    let own = fillers.iter().filter(|filler| filler.colony == colony);
    own.filter_map(|filler| {
        let spare = scenario.store_room.get(filler.entry)?;
        Some(Filling {
            frames: filler.count,
            store_room_entry: filler.entry.saturating_add(1),
            place: place(notes, Origin::StoreRoom(filler.entry)),
            each_holds: holds(scenario, &spare.frame),
        })
    })
    .collect()
}
