//! Frames that are taken and still to be placed.

use std::collections::BTreeMap;

use super::Totals;
use super::earlier::Earlier;
use crate::plan::Origin;
use crate::solve::instance::{Instance, Part, share_out};

/// Frames that hold the same, or of the store room, that serve the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Source {
    /// Donor and item.
    Item(usize, usize),
    /// Class.
    Shelf(usize),
}

impl Source {
    /// The donor; `None` for the store room.
    pub fn donor(self) -> Option<usize> {
        match self {
            Self::Item(donor, _) => Some(donor),
            Self::Shelf(_) => None,
        }
    }

    /// Position in [`Instance::classes`].
    pub fn class(self, instance: &Instance) -> usize {
        match self {
            Self::Item(donor, item) => instance.donors[donor].items[item].class,
            Self::Shelf(class) => class,
        }
    }
}

/// What of each source serves each need, and where it is.
pub(super) struct Piles {
    quota: BTreeMap<(usize, Source), u32>,
    held: BTreeMap<Source, Vec<(Origin, u32)>>,
    source_of: BTreeMap<Origin, Source>,
}

impl Piles {
    pub fn of(instance: &Instance, totals: &Totals, earlier: &Earlier) -> Option<Self> {
        let mut piles = Self {
            quota: BTreeMap::new(),
            held: BTreeMap::new(),
            source_of: BTreeMap::new(),
        };
        let mut taken: BTreeMap<Source, u32> = BTreeMap::new();
        let items = totals.frames.iter();
        let items = items.map(|(&(donor, item, need), &n)| (Source::Item(donor, item), need, n));
        let shelf = totals.shelf.iter();
        let shelf = shelf.map(|(&(class, need), &n)| (Source::Shelf(class), need, n));
        for (source, need, count) in items.chain(shelf).filter(|&(_, _, count)| count > 0) {
            piles.quota.insert((need, source), count);
            let taken = taken.entry(source).or_default();
            *taken = taken.saturating_add(count);
        }
        for (source, count) in taken {
            piles.hold(source, origins(instance, source, earlier)?, count)?;
        }
        Some(piles)
    }

    /// Takes so many frames of a source from the groups or entries it is made of. `None` where there are
    /// fewer.
    fn hold(&mut self, source: Source, origins: Vec<(Origin, Part)>, count: u32) -> Option<()> {
        let (origins, parts): (Vec<Origin>, Vec<Part>) = origins.into_iter().unzip();
        let given = share_out(&parts, count);
        if given.iter().map(|&n| u64::from(n)).sum::<u64>() < u64::from(count) {
            return None;
        }
        let held = origins.into_iter().zip(given).filter(|&(_, n)| n > 0);
        let held: Vec<(Origin, u32)> = held.collect();
        let sources = held.iter().map(|&(origin, _)| (origin, source));
        self.source_of.extend(sources);
        self.held.insert(source, held);
        Some(())
    }

    /// Frames of each origin.
    pub fn at_hand(&self) -> BTreeMap<Origin, u32> {
        self.held.values().flatten().copied().collect()
    }

    /// The source that an origin is part of.
    pub fn source_of(&self, origin: Origin) -> Option<Source> {
        self.source_of.get(&origin).copied()
    }

    /// Frames of one origin that are left.
    pub fn left(&self, source: Source, origin: Origin) -> u32 {
        let held = self.held.get(&source).into_iter().flatten();
        let of = held.filter(|&&(from, _)| from == origin);
        of.map(|&(_, count)| count).sum()
    }

    /// Frames of a source that are to serve a need.
    pub fn quota(&self, need: usize, source: Source) -> u32 {
        self.quota.get(&(need, source)).copied().unwrap_or(0)
    }

    /// Sources that are to serve a need, and how often.
    pub fn serving(&self, need: usize) -> impl Iterator<Item = (Source, u32)> + '_ {
        let first = (need, Source::Item(0, 0));
        let own = self
            .quota
            .range(first..)
            .take_while(move |((at, _), _)| *at == need);
        own.map(|(&(_, source), &count)| (source, count))
            .filter(|&(_, count)| count > 0)
    }

    /// Takes frames of a source for a need: of one origin, or of any in order.
    pub fn take(
        &mut self,
        (need, source, count): (usize, Source, u32),
        only: Option<Origin>,
    ) -> Option<Vec<(Origin, u32)>> {
        let quota = self.quota.get_mut(&(need, source))?;
        *quota = quota.checked_sub(count)?;
        let mut taken = Vec::new();
        let mut left = count;
        for (origin, held) in self.held.get_mut(&source)? {
            let frames = if only.is_none_or(|only| only == *origin) {
                left.min(*held)
            } else {
                0
            };
            if frames > 0 {
                *held -= frames;
                left -= frames;
                taken.push((*origin, frames));
            }
        }
        (left == 0).then_some(taken)
    }
}

/// The groups or entries that a source is made of, with what an earlier plan takes from each.
fn origins(instance: &Instance, source: Source, earlier: &Earlier) -> Option<Vec<(Origin, Part)>> {
    match source {
        Source::Item(donor, item) => {
            let donor = instance.donors.get(donor)?;
            let parts = donor.items.get(item)?.parts.iter();
            Some(
                parts
                    .map(|part| (Origin::Colony(donor.id, part.group), part.clone()))
                    .collect(),
            )
        }
        Source::Shelf(class) => {
            let entries = instance.shelf.get(class)?.iter();
            let part = |&(entry, count): &(usize, u32)| {
                let origin = Origin::StoreRoom(entry);
                let then = earlier.taken(origin).min(count);
                (
                    origin,
                    Part {
                        group: 0,
                        count,
                        then,
                    },
                )
            };
            Some(entries.map(part).collect())
        }
    }
}
