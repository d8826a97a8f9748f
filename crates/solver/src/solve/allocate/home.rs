//! Loose bees go where brood of their colony goes, rather than others': which site gets whose bees is a tie that
//! the totals leave open.

use std::collections::BTreeMap;

use super::Totals;
use super::earlier::Earlier;
use crate::solve::instance::Instance;

/// Exchanges loose bees of two colonies between two sites, hundred for hundred, where as many stay of both, so that
/// more fit on brood frames of their own; with an earlier plan, more are where that has them.
pub(super) fn bring_home(instance: &Instance, totals: &Totals, earlier: &Earlier) -> Totals {
    let mut totals = totals.clone();
    let then = earlier.bees(instance);
    let room = match then.is_empty() {
        true => room(instance, &totals),
        false => {
            let rides = |of: &(usize, usize)| totals.bees.get(of).map_or(0, |bees| bees.0);
            let beyond = then.iter().map(|(of, bees)| (*of, bees - rides(of)));
            beyond.collect()
        }
    };
    let fits = |totals: &Totals, of: (usize, usize)| {
        let loose = totals.bees.get(&of).map_or(0, |bees| bees.1);
        (loose, room.get(&of).copied().unwrap_or(0))
    };
    for (&(donor, site), _) in room.iter().filter(|(_, room)| **room > 0) {
        for away in (0..instance.sites.len()).filter(|&away| away != site) {
            let (loose, room) = fits(&totals, (donor, site));
            let (own, own_room) = fits(&totals, (donor, away));
            if loose >= room || own <= own_room {
                continue;
            }
            let here = totals.bees.iter();
            let here = here.filter(|((_, of), bees)| *of == site && bees.1 > 0);
            let others: Vec<usize> = here.map(|((other, _), _)| *other).collect();
            for other in others {
                let stay = |of: usize, at: usize| instance.donors[of].stay[at];
                let alike = |at: usize| stay(donor, at) == stay(other, at);
                let (loose, room) = fits(&totals, (donor, site));
                let (own, own_room) = fits(&totals, (donor, away));
                let (others, others_room) = fits(&totals, (other, site));
                let hundreds = (room - loose).min(own - own_room).min(others - others_room);
                if other != donor && hundreds > 0 && alike(site) && alike(away) {
                    let moves = [(donor, away, site), (other, site, away)];
                    for (of, from, to) in moves {
                        totals.bees.entry((of, from)).or_default().1 -= hundreds;
                        totals.bees.entry((of, to)).or_default().1 += hundreds;
                    }
                }
            }
        }
    }
    totals
}

/// Hundreds that may ride at each site beyond those that must, by donor.
fn room(instance: &Instance, totals: &Totals) -> BTreeMap<(usize, usize), i64> {
    let mut room = BTreeMap::new();
    for (&(donor, item, need), &count) in &totals.frames {
        let item = &instance.donors[donor].items[item];
        let kind = &instance.kinds[instance.needs[need].kind];
        if item.brood > 0 && kind.brood_line {
            let more = i64::from(count) * (item.bees - item.least);
            *room.entry((donor, kind.site)).or_default() += more;
        }
    }
    room
}
