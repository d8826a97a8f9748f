//! Colonies that have less of something than they must keep, and so give none of it.

use super::build::decimal;
use super::reasons::kept;
use super::report::{BelowFloor, FloorReport, Report};
use super::words::clean;
use itertools::Itertools;
use spareframe_solver::why::{Floor, below_floors};
use spareframe_solver::{Colony, Scenario};

/// Most colonies that are named (a choice: what is read in one go).
const MOST_NAMED: usize = 20;

/// By role and what is kept, in the order of the scenario; none where all is stocked.
pub(super) fn below(scenario: &Scenario, all_stocked: bool) -> Vec<BelowFloor> {
    let mut found: Vec<BelowFloor> = Vec::new();
    if all_stocked {
        return found;
    }
    for (id, floors) in &below_floors(scenario).into_iter().chunk_by(|(id, _)| *id) {
        let Some(colony) = scenario.colonies.get(id.0) else {
            continue;
        };
        let floors: Vec<FloorReport> = floors
            .filter_map(|(_, floor)| kept_by(colony, floor))
            .collect();
        let (role, name) = (colony.role.clone(), colony.name.clone());
        let alike = |b: &&mut BelowFloor| b.role == role && b.must_keep == floors;
        match found.iter_mut().find(alike) {
            Some(same) => same.colonies.push(name),
            None => found.push(BelowFloor {
                role,
                must_keep: floors,
                colonies: vec![name],
            }),
        }
    }
    found
}

/// What a colony must keep by a floor.
fn kept_by(colony: &Colony, floor: Floor) -> Option<FloorReport> {
    let keep = &colony.keep;
    let (of, amount) = match floor {
        Floor::Brood => ("brood_frames", decimal(keep.brood.0, 1000.0)),
        Floor::Bees => ("bees", decimal(keep.bees.bees().0, 1.0)),
        Floor::Stores => ("stores_kg", decimal(keep.stores.0, 1000.0)),
        Floor::Drawn => ("drawn_frames", decimal(keep.drawn.0, 1000.0)),
        Floor::Covered => return None,
    };
    let of = of.to_owned();
    Some(FloorReport { of, amount })
}

/// All of them in a sentence: `Below what they must keep, so give none of it: Alder, Fir (production: 10 kg of stores).`
pub(super) fn sentence(report: &Report) -> Option<String> {
    let item = |below: &BelowFloor| {
        let names = below.colonies.iter().map(|name| clean(name));
        let mut names: Vec<String> = names.collect();
        let more = names.len().saturating_sub(MOST_NAMED);
        if more > 1 {
            names.truncate(MOST_NAMED);
            names.push(format!("{more} more"));
        }
        let floors = below
            .must_keep
            .iter()
            .map(|floor| kept(&floor.of, floor.amount));
        let floors: Vec<String> = floors.collect();
        format!(
            "{} ({}: {})",
            names.join(", "),
            clean(&below.role),
            floors.join(", ")
        )
    };
    let items: Vec<String> = report.below_floor.iter().map(item).collect();
    let colonies = report.below_floor.iter().map(|below| below.colonies.len());
    let lead = match colonies.sum::<usize>() {
        1 => "Below what it must keep, so gives none of it",
        _ => "Below what they must keep, so give none of it",
    };
    (!items.is_empty()).then(|| format!("{lead}: {}.", items.join("; ")))
}
