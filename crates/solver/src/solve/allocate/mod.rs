//! From totals to compartments: which frames and bees go where. Greedy; it costs nothing, since the
//! totals say what is taken.

mod bees;
mod beside;
mod earlier;
mod exchange;
mod frames;
mod hands;
mod home;
mod number;
mod pair;
mod piles;
mod repair;
mod slots;
mod spare;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use super::instance::Instance;
use crate::plan::Plan;
use crate::scenario::Scenario;

use bees::deal_bees;
use beside::beside_their_own;
use earlier::Earlier;
use frames::{fill, keep};
use hands::{Books, ease};
use home::bring_home;
use number::number;
use pair::pair;
use piles::Piles;
use slots::slots;
pub(crate) use spare::spare;

/// What is taken in all, beyond what is done.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Totals {
    /// Compartments stocked, for each of [`Instance::kinds`].
    pub compartments: Vec<i64>,
    /// Frames by donor, item and need.
    pub frames: BTreeMap<(usize, usize, usize), u32>,
    /// Frames of the store room by class and need.
    pub shelf: BTreeMap<(usize, usize), u32>,
    /// Hundreds of bees by donor and site: those that ride at least, and those beyond.
    pub bees: BTreeMap<(usize, usize), (i64, i64)>,
}

/// A plan of these totals: as much from each colony, and as much stays at each site. Each compartment first gets what an earlier plan puts into it,
/// as far as that is among the totals. `None` where totals break the rules of the instance.
pub(crate) fn allocate(
    scenario: &Scenario,
    instance: &Instance,
    totals: &Totals,
    earlier: Option<&Plan>,
) -> Option<Plan> {
    let earlier = Earlier::of(earlier, &instance.done);
    let mut piles = Piles::of(instance, totals, &earlier)?;
    let mut slots = slots(instance, totals, &piles, &earlier)?;
    for slot in &mut slots {
        keep(instance, slot, &mut piles);
    }
    for slot in &mut slots {
        fill(instance, slot, &mut piles)?;
    }
    deal_bees(
        instance,
        &bring_home(instance, totals, &earlier),
        &mut slots,
    )?;
    let mut books = Books::of(instance, totals);
    // Each opens ways for the other.
    for _ in 0..2 {
        pair(instance, &mut slots);
        ease(instance, &mut books, &mut slots);
    }
    beside_their_own(scenario, instance, &mut slots);
    number(instance, &mut slots);
    let compartments = slots.into_iter().map(|slot| slot.finished(instance));
    Some(instance.done.complete(Plan {
        compartments: compartments.collect(),
        ..Plan::default()
    }))
}
