//! Loose bees exchanged between compartments of a site, so that few colonies meet in one.

use itertools::iproduct;

use super::bees::Deal;
use super::slots::{Lot, Slot};

/// As many colonies as may well meet.
const FEW: usize = 2;

/// Exchanges small lots for bees of a colony that is there already, hundred for hundred, where as many
/// stay of both and the neighbour is left with few colonies, too.
pub(super) fn exchange(deal: &Deal, slots: &mut [&mut Slot]) {
    for (at, from) in iproduct!(0..slots.len(), 0..slots.len()) {
        if at == from || slots[at].lots.len() <= FEW {
            continue;
        }
        if let Some((out, into, hundreds)) = trade(deal, slots[at], slots[from]) {
            for (slot, out, into) in [(at, out, into), (from, into, out)] {
                give(slots[slot], out, -hundreds);
                give(slots[slot], into, hundreds);
            }
        }
    }
}

/// The donor whose bees go, the one whose come, and how many hundreds.
fn trade(deal: &Deal, slot: &Slot, other: &Slot) -> Option<(usize, usize, i64)> {
    let pairs = iproduct!(&slot.lots, slot.lots.keys());
    let trades = pairs.filter_map(|((&out, lot), &into)| {
        let there = other.lots.get(&into)?;
        let alike = out != into && deal.stay(out) == deal.stay(into);
        let whole = lot.riding == 0 && lot.loose > 0 && there.loose >= lot.loose;
        let leaves = there.loose == lot.loose && there.riding == 0;
        let joins = other.lots.contains_key(&out);
        let colonies = other.lots.len() + usize::from(!joins) - usize::from(leaves);
        let few = colonies <= other.lots.len().max(FEW);
        (alike && whole && few).then_some((out, into, lot.loose))
    });
    trades.min_by_key(|&(_, _, hundreds)| hundreds)
}

fn give(slot: &mut Slot, donor: usize, hundreds: i64) {
    let lot = slot.lots.entry(donor).or_default();
    lot.loose += hundreds;
    if *lot == Lot::default() {
        slot.lots.remove(&donor);
    }
}
