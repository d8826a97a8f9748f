//! What fills the gaps that frames leave.

use super::build::{Notes, holds, place};
use super::report::Filling;
use spareframe_solver::{ColonyId, Filler, Origin, Scenario};

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
