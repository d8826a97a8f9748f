//! The smallest set for which something holds that holds for every larger set as well.

use std::cell::Cell;

/// Rounds, and sets looked at in all of them, after which the search for the smallest is given up
/// (choices): what is then found is a set that nothing can be left out of.
const ROUNDS: usize = 200;
const MOST_SETS: u32 = 100_000;

/// A set out of `0..count`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Found {
    /// Its members, in order.
    pub members: Vec<usize>,
    /// No smaller set will do.
    pub least: bool,
}

/// The smallest of the sets out of `0..count` for which `holds`, the first in order among equals.
/// `None` if it does not hold even for all. `holds` must stay true when something is added.
///
/// Each set that fails is grown as far as it fails; whatever holds must then have something of the
/// rest. The smallest set that has something of every such rest is tried next (an implicit hitting
/// set, after Reiter 1987, Artificial Intelligence 32:57, from memory).
pub(super) fn smallest(count: usize, holds: &dyn Fn(&[usize]) -> bool) -> Option<Found> {
    let all: Vec<usize> = (0..count).collect();
    if !holds(&all) {
        return None;
    }
    let mut rests: Vec<Vec<usize>> = Vec::new();
    let left = Cell::new(MOST_SETS);
    for _ in 0..ROUNDS {
        let Some(set) = hitting(&rests, &left) else {
            break;
        };
        if holds(&set) {
            return Some(Found {
                members: set,
                least: true,
            });
        }
        let mut failing = set;
        let others: Vec<usize> = all
            .iter()
            .copied()
            .filter(|member| !failing.contains(member))
            .collect();
        grow(&mut failing, &others, holds);
        let rest = all.iter().copied();
        rests.push(rest.filter(|member| !failing.contains(member)).collect());
    }
    let orders = [pruned(all.clone(), holds, true), pruned(all, holds, false)];
    let members = orders.into_iter().min_by_key(Vec::len)?;
    Some(Found {
        members,
        least: false,
    })
}

/// Adds all of `others` that it can without `holds` becoming true.
fn grow(failing: &mut Vec<usize>, others: &[usize], holds: &dyn Fn(&[usize]) -> bool) {
    if others.is_empty() {
        return;
    }
    let mut more = failing.clone();
    more.extend_from_slice(others);
    more.sort_unstable();
    if !holds(&more) {
        *failing = more;
    } else if others.len() > 1 {
        let (one, two) = others.split_at(others.len() / 2);
        grow(failing, one, holds);
        grow(failing, two, holds);
    }
}

/// The smallest set with a member of each of the rests; `None` where too many would have to be
/// looked at.
fn hitting(rests: &[Vec<usize>], left: &Cell<u32>) -> Option<Vec<usize>> {
    (0..=rests.len())
        .take_while(|_| left.get() > 0)
        .find_map(|size| within(rests, Vec::new(), size, left))
}

fn within(
    rests: &[Vec<usize>],
    set: Vec<usize>,
    size: usize,
    left: &Cell<u32>,
) -> Option<Vec<usize>> {
    let missed = rests
        .iter()
        .find(|rest| !rest.iter().any(|member| set.contains(member)));
    let Some(missed) = missed else {
        let mut set = set;
        set.sort_unstable();
        return Some(set);
    };
    if size == 0 || left.get() == 0 {
        return None;
    }
    left.set(left.get() - 1);
    missed.iter().find_map(|&member| {
        let mut set = set.clone();
        set.push(member);
        within(rests, set, size - 1, left)
    })
}

/// Leaves out whatever it can, the last first or the first.
fn pruned(mut set: Vec<usize>, holds: &dyn Fn(&[usize]) -> bool, last: bool) -> Vec<usize> {
    let mut places: Vec<usize> = set.clone();
    if last {
        places.reverse();
    }
    for member in places {
        let less: Vec<usize> = set
            .iter()
            .copied()
            .filter(|&other| other != member)
            .collect();
        if holds(&less) {
            set = less;
        }
    }
    set
}

#[cfg(test)]
mod tests {
    use super::*;

    /// All subsets, smallest first, then in order.
    fn by_hand(count: usize, holds: &dyn Fn(&[usize]) -> bool) -> Option<usize> {
        let sets = 0_u32..1 << count;
        let members = |set: u32| (0..count).filter(|m| set >> m & 1 == 1).collect::<Vec<_>>();
        let sizes = sets.map(members).filter(|set| holds(set));
        sizes.map(|set| set.len()).min()
    }

    #[test]
    fn it_is_as_small_as_a_look_at_every_subset_says() {
        // Covers of 7 elements by 9 sets that come from a fixed recurrence.
        let mut state = 12_345_u32;
        for _ in 0..300 {
            let mut next = || {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (state >> 16) & 0x7f & (state >> 8)
            };
            let sets: Vec<u32> = (0..9).map(|_| next()).collect();
            let covers = |chosen: &[usize]| chosen.iter().fold(0, |all, &m| all | sets[m]) == 0x7f;
            let found = smallest(9, &covers);
            let size = found.as_ref().map(|found| found.members.len());
            assert_eq!(size, by_hand(9, &covers));
            assert!(found.is_none_or(|found| found.least && covers(&found.members)));
        }
    }

    #[test]
    fn nothing_is_needed_for_what_always_holds() {
        let none = Found {
            members: vec![],
            least: true,
        };
        assert_eq!(smallest(3, &|_| true), Some(none));
        assert_eq!(smallest(3, &|_| false), None);
    }

    #[test]
    fn what_takes_too_many_tries_is_a_set_that_nothing_can_be_left_out_of() {
        // Any 30 of 60.
        let found = smallest(60, &|set| set.len() >= 30).expect("all are enough");
        assert_eq!((found.members.len(), found.least), (30, false));
    }
}
