//! What totals cost, part by part.

use std::collections::BTreeMap;

use super::super::allocate::Totals;
use super::super::instance::{Donor, Instance};
use crate::plan::Cost;

/// What totals cost, with what is done.
pub(crate) fn cost_of(instance: &Instance, totals: &Totals) -> Cost {
    let mut cost = instance.base;
    let mut frames: BTreeMap<(usize, usize), u32> = BTreeMap::new();
    let place = |class: usize, need: usize| i64::from(instance.classes[class][need].unwrap_or(0));
    for (&(donor, item, need), &count) in &totals.frames {
        *frames.entry((donor, item)).or_default() += count;
        let class = instance.donors[donor].items[item].class;
        cost.substitutes += place(class, need) * i64::from(count);
    }
    for (&(class, need), &count) in &totals.shelf {
        cost.substitutes += place(class, need) * i64::from(count);
    }
    let mut taken: BTreeMap<usize, i64> = BTreeMap::new();
    for (&(donor, _), &(riding, loose)) in &totals.bees {
        *taken.entry(donor).or_default() += riding + loose;
    }
    for (at, donor) in instance.donors.iter().enumerate() {
        let of_donor = frames.range((at, 0)..(at + 1, 0));
        let of_donor: Vec<(usize, u32)> = of_donor.map(|(&(_, item), &n)| (item, n)).collect();
        let of_donor = cost_of_donor(donor, &of_donor, taken.get(&at).copied().unwrap_or(0));
        cost.honey.0 += of_donor.honey.0;
        cost.burden += of_donor.burden;
        cost.opened += of_donor.opened;
        cost.otherwise += of_donor.otherwise;
    }
    if !instance.near {
        cost.otherwise = 0;
    }
    cost
}

/// What it costs that one colony gives these frames, by item, and hundreds of bees, beyond what is done. Substitutes
/// are left out.
pub(crate) fn cost_of_donor(donor: &Donor, frames: &[(usize, u32)], taken: i64) -> Cost {
    let mut cost = Cost::default();
    let mut cells = 0;
    for &(item, count) in frames {
        let of_item = &donor.items[item];
        cost.honey.0 += of_item.charge * i64::from(count);
        cost.otherwise += of_item.otherwise(count);
        cells += of_item.cells * i64::from(count);
    }
    cost.honey.0 += donor.hundred * taken;
    let gives = taken > 0 || frames.iter().any(|&(_, count)| count > 0);
    cost.opened += i64::from(gives && !donor.opened);
    if let Some(share) = &donor.burden {
        cost.burden += share.burden(taken, cells) - share.burden(0, 0);
    }
    cost
}
