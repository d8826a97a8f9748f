//! Among plans of equal worth and cost, one that finishes what is begun, and gives what stands its next cells.

use super::instance::Instance;
use super::master::{Clock, Solution};
use super::minimise::as_good;

/// Relaxations for each compartment (a choice: ties are pursued, not claimed).
const NODES: usize = 200;

/// The best, with a compartment more of each kind that is begun, then of each that stands, for as long as one as good is found.
/// The search starts from the cost, so that where there is none it mostly ends at once.
pub(super) fn finish_begun(instance: &Instance, mut best: Solution, clock: Clock) -> Solution {
    let mut tied = instance.clone();
    let kinds = || instance.kinds.iter().enumerate();
    let begun = kinds().filter(|(_, kind)| kind.begun);
    let stand = kinds().filter(|(_, kind)| kind.again && !kind.begun);
    for (at, kind) in begun.chain(stand) {
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
