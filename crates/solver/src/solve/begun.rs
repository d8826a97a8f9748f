//! Among plans of equal worth and cost, one that finishes what is begun.

use super::instance::Instance;
use super::master::{Clock, Solution};
use super::minimise::as_good;

/// Relaxations for each compartment (a choice: ties are pursued, not claimed).
const NODES: usize = 200;

/// The best, with a compartment more of each kind that is begun for as long as one as good is found. The
/// search starts from the cost, so that where there is none it mostly ends at once.
pub(super) fn finish_begun(instance: &Instance, mut best: Solution, clock: Clock) -> Solution {
    let mut tied = instance.clone();
    for (at, kind) in instance
        .kinds
        .iter()
        .enumerate()
        .filter(|(_, kind)| kind.begun)
    {
        let mut stocked = best.totals.compartments[at];
        while stocked < kind.most && !clock.over() {
            tied.kinds[at].least = stocked + 1;
            let Some(found) = as_good(&tied, &best, NODES, clock) else {
                break;
            };
            best = found;
            stocked = best.totals.compartments[at];
        }
        tied.kinds[at].least = stocked;
    }
    best
}
