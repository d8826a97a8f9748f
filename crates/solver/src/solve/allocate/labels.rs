//! Which bees are called loose: none of a colony that could all ride on its brood frames for the site.

use std::collections::BTreeMap;

use super::slots::Slot;
use crate::solve::instance::Instance;

/// Hundreds of one donor at one site.
#[derive(Debug, Clone, Copy, Default)]
struct There {
    /// In all; and of them, where there is no brood line, those that ride and loose ones.
    all: i64,
    riding: i64,
    alone: i64,
    /// That ride at least, and at most.
    least: i64,
    most: i64,
}

/// Says of all bees whether they ride: where none need be loose, all do; else those beside brood of their own, as many
/// as sit on it.
pub(super) fn label(instance: &Instance, slots: &mut [Slot]) {
    let mut there: BTreeMap<(usize, usize), There> = BTreeMap::new();
    for slot in slots.iter() {
        let kind = &instance.kinds[slot.kind];
        for (&donor, brood) in &slot.brood {
            let there = there.entry((donor, kind.site)).or_default();
            there.least += brood.least;
            there.most += brood.bees;
        }
        for (&donor, lot) in &slot.lots {
            let there = there.entry((donor, kind.site)).or_default();
            there.all += lot.riding + lot.loose;
            if !kind.brood_line {
                there.riding += lot.riding;
                there.alone += lot.loose;
            }
        }
    }
    // Loose ones count towards the need of compartments without a brood line: these stay as they are.
    let kinds = &instance.kinds;
    let mut slots: Vec<&mut Slot> = slots
        .iter_mut()
        .filter(|slot| kinds[slot.kind].brood_line)
        .collect();
    for (&(donor, site), there) in &there {
        let free = instance.donors[donor].added[site] || instance.prices.added.0 == 0;
        let none_loose = there.alone == 0 && there.all <= there.most && !free;
        let here = slots
            .iter_mut()
            .filter(|slot| kinds[slot.kind].site == site);
        let mut here: Vec<_> = here.collect();
        let mut riding = there.riding;
        for slot in &mut here {
            let on_brood = slot.brood.get(&donor).map_or(0, |brood| brood.bees);
            if let Some(lot) = slot.lots.get_mut(&donor) {
                let all = lot.riding + lot.loose;
                lot.riding = if none_loose { all } else { all.min(on_brood) };
                lot.loose = all - lot.riding;
                riding += lot.riding;
            }
        }
        for slot in here {
            if let Some(lot) = slot.lots.get_mut(&donor) {
                let more = (there.least - riding).clamp(0, lot.loose);
                lot.riding += more;
                lot.loose -= more;
                riding += more;
            }
        }
    }
}
