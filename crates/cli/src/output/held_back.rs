//! What keeps compartments empty, in the few lines that a plan carries of it.

use super::reasons::in_short as named;
use super::report::HeldBack;
use spareframe_solver::Scenario;
use spareframe_solver::why::{WhyOptions, in_short};

/// Limits of which any one, eased alone, lets more be stocked; of countable things the least that
/// does. One entry of rule `several` where none does alone.
#[must_use]
pub fn held_back_by(scenario: &Scenario) -> Vec<HeldBack> {
    let found = in_short(scenario, &WhyOptions::default());
    if found.is_empty() {
        return vec![HeldBack {
            rule: "several".to_owned(),
            text: "no single limit: two or more have to give way together".to_owned(),
        }];
    }
    let combs = scenario.boxes.iter().flat_map(|kind| &kind.lines);
    let mut combs = combs.map(|line| match line.ask {
        spareframe_solver::Ask::AtLeast { comb, .. }
        | spareframe_solver::Ask::Foundation { comb } => comb,
    });
    let first = combs.next();
    let many_combs = combs.any(|comb| Some(comb) != first);
    let found = found.iter();
    found
        .map(|(group, change)| named(scenario, group, change.as_ref(), many_combs))
        .collect()
}
