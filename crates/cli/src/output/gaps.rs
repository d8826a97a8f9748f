//! What fills the gaps that frames leave.

use super::build::{Notes, holds, place};
use super::report::Filling;
use spareframe_solver::{Gaps, Origin, Scenario};

/// What goes into the gaps of one colony.
pub(super) fn fillings(scenario: &Scenario, notes: &Notes, gaps: &Gaps) -> Vec<Filling> {
    gaps.fillers
        .iter()
        .filter_map(|filler| {
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
