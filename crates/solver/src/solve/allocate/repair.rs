//! Bees from neighbours, where loose ones do not suffice.

use super::bees::Deal;
use super::slots::{Filling, Lot};
use crate::solve::instance::LESS_THAN_A_HUNDRED;

/// Bees that a neighbour can spare.
struct Spare {
    /// Position among the compartments of the site.
    from: usize,
    donor: usize,
    riding: bool,
    hundreds: i64,
}

/// Moves bees until no compartment is short by a hundred. As long as one is, and the site's sums hold,
/// another has bees beyond its need, and a hundred less does not leave it short by a hundred: so this
/// comes to an end, and only fails where a sum does not hold.
pub(super) fn repair(deal: &mut Deal, slots: &mut [&mut Filling]) -> Option<()> {
    // Those without a brood line, which stand first, take loose bees wherever they are.
    for at in 0..slots.len() {
        while slots[at].is_short(deal.instance) {
            let spare = best(deal, slots, at)?;
            let short = -slots[at].over(deal.instance);
            let hundreds = deal.hundreds_for(spare.donor, short).min(spare.hundreds);
            move_bees(slots, at, &spare, hundreds)?;
        }
    }
    Some(())
}

/// The neighbour's bees that are moved next: best enough for all that is missing, then those of a colony
/// that is there already, then loose ones, then the most.
fn best(deal: &Deal, slots: &[&mut Filling], at: usize) -> Option<Spare> {
    let loose_only = !brood_line(deal, slots[at]);
    let others = (0..slots.len()).filter(|&from| from != at);
    let spares = others.flat_map(|from| {
        let lots = slots[from].lots.iter();
        lots.flat_map(move |(&donor, lot)| {
            let kinds = [(false, lot.loose), (true, lot.riding)];
            kinds.map(|(riding, held)| Spare {
                from,
                donor,
                riding,
                hundreds: held,
            })
        })
    });
    let spares = spares.filter(|spare| spare.hundreds > 0 && deal.stay(spare.donor) > 0);
    let spares = spares
        .filter(|spare| !(loose_only && spare.riding))
        .map(|mut spare| {
            let left = can_spare(deal, slots[spare.from], loose_only, &spare);
            spare.hundreds = spare.hundreds.min(left);
            spare
        });
    spares
        .filter(|spare| spare.hundreds > 0)
        .max_by_key(|spare| {
            let short = -slots[at].over(deal.instance);
            let enough = spare.hundreds >= deal.hundreds_for(spare.donor, short);
            let here = slots[at].present.contains(&spare.donor);
            (enough, here, !spare.riding, spare.hundreds)
        })
}

/// Hundreds that a compartment can do without.
fn can_spare(deal: &Deal, from: &Filling, loose_only: bool, spare: &Spare) -> i64 {
    match brood_line(deal, from) {
        // Bees that ride count for nothing where loose ones alone count.
        false if spare.riding => i64::MAX,
        // It is helped afterwards.
        true if loose_only => i64::MAX,
        _ => {
            let over = from.over(deal.instance);
            let least = if over > 0 { 1 } else { 0 };
            let without_harm = (over + LESS_THAN_A_HUNDRED) / deal.stay(spare.donor).max(1);
            (over / deal.stay(spare.donor).max(1))
                .max(least)
                .min(without_harm)
        }
    }
}

fn brood_line(deal: &Deal, slot: &Filling) -> bool {
    deal.instance.kinds[slot.kind].brood_line
}

fn move_bees(slots: &mut [&mut Filling], to: usize, spare: &Spare, hundreds: i64) -> Option<()> {
    let change = |lot: &mut Lot, by: i64| match spare.riding {
        true => lot.riding += by,
        false => lot.loose += by,
    };
    change(slots[spare.from].lots.get_mut(&spare.donor)?, -hundreds);
    change(slots[to].lots.entry(spare.donor).or_default(), hundreds);
    slots[to].present.insert(spare.donor);
    Some(())
}
