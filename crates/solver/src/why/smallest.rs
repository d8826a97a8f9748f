//! The smallest set for which something holds that holds for every larger set as well.

/// Rounds after which the set found is one that nothing can be left out of, but perhaps not the
/// smallest (a choice: it has not been seen to happen).
const ROUNDS: usize = 200;

/// The smallest of the sets out of `0..count` for which `holds`, the first in order among equals.
/// `None` if it does not hold even for all. `holds` must stay true when something is added.
///
/// Each set that fails is grown as far as it fails; whatever holds must then have something of the
/// rest. The smallest set that has something of every such rest is tried next (an implicit hitting
/// set, after Reiter 1987, Artificial Intelligence 32:57, from memory).
pub(super) fn smallest(count: usize, holds: &dyn Fn(&[usize]) -> bool) -> Option<Vec<usize>> {
    let all: Vec<usize> = (0..count).collect();
    if !holds(&all) {
        return None;
    }
    let mut rests: Vec<Vec<usize>> = Vec::new();
    for _ in 0..ROUNDS {
        let set = hitting(&rests);
        if holds(&set) {
            return Some(set);
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
    Some(pruned(all, holds))
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

/// The smallest set with a member of each of the rests.
fn hitting(rests: &[Vec<usize>]) -> Vec<usize> {
    let most = rests.len();
    (0..=most)
        .find_map(|size| within(rests, Vec::new(), size))
        .unwrap_or_default()
}

fn within(rests: &[Vec<usize>], set: Vec<usize>, size: usize) -> Option<Vec<usize>> {
    let missed = rests
        .iter()
        .find(|rest| !rest.iter().any(|member| set.contains(member)));
    let Some(missed) = missed else {
        let mut set = set;
        set.sort_unstable();
        return Some(set);
    };
    if size == 0 {
        return None;
    }
    missed.iter().find_map(|&member| {
        let mut set = set.clone();
        set.push(member);
        within(rests, set, size - 1)
    })
}

/// Leaves out whatever it can, the last first.
fn pruned(mut set: Vec<usize>, holds: &dyn Fn(&[usize]) -> bool) -> Vec<usize> {
    for place in (0..set.len()).rev() {
        let mut less = set.clone();
        less.remove(place);
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
            assert_eq!(found.as_ref().map(Vec::len), by_hand(9, &covers));
            assert!(found.is_none_or(|set| covers(&set)));
        }
    }

    #[test]
    fn nothing_is_needed_for_what_always_holds() {
        assert_eq!(smallest(3, &|_| true), Some(vec![]));
        assert_eq!(smallest(3, &|_| false), None);
    }
}
