//! The cheapest column of a colony at given prices.

use std::cell::RefMut;
use std::rc::Rc;
use std::sync::Arc;

use itertools::Itertools;

use super::listing::{Facts, Listing};
use super::view::{Bees, View};
use super::{Choices, Columns};
use crate::solve::engine::{Column, Objective, Priced};

/// What a column of a colony stands for.
#[derive(Debug, Clone)]
pub(crate) struct Draw {
    /// Frames by slot.
    pub frames: Arc<[u32]>,
    /// The share whose burden is paid.
    pub share: usize,
    /// Hundreds that must ride, and hundreds of bees that may be taken at most by the share.
    pub riding: i64,
    pub most: i64,
    /// By site: bees are added there, and that counts.
    pub added: Arc<[bool]>,
    pub opened: bool,
    /// Position of its frames in the list of vectors.
    pub at: Option<u32>,
    /// Grams.
    pub cost: i64,
}

impl Columns<'_> {
    fn view(&self, objective: Objective, prices: &[i64]) -> RefMut<'_, View> {
        let mut view = self.seen.borrow_mut();
        self.see(&mut view, objective, prices);
        view
    }

    /// Value of an opened column of these frames, and its bees.
    pub(super) fn value(&self, view: &View, counts: &[u32], facts: &Facts) -> Option<(i64, Bees)> {
        let (beside, bees) = self.beside(view, counts, facts)?;
        Some((view.frames(counts) + beside, bees))
    }

    /// What the best column of these frames adds to their own value, and its bees.
    fn beside(&self, view: &View, counts: &[u32], facts: &Facts) -> Option<(i64, Bees)> {
        let bees = self.best_bees(view, counts, facts)?;
        let opening = if facts.frames == 0 { self.opening } else { 0 };
        Some(((facts.extra + opening) * view.one + bees.value, bees))
    }

    /// The cheapest column whose value is below `below`, and what no column is below. Where the search is cut
    /// short, there may be a cheaper one.
    pub fn price(&self, objective: Objective, prices: &[i64], below: i128) -> Priced<Draw> {
        let view = self.view(objective, prices);
        let below = i64::try_from(below).unwrap_or(i64::MAX);
        let closed = self.choices.closed && below > 0;
        let below = if closed { 0 } else { below };
        let mut least = i64::MAX;
        let found = match &self.listing {
            _ if !self.choices.opened => None,
            Some(list) => self.listed(objective, list, &view, below),
            None => {
                let (found, open) = self.cheapest(&view, below);
                least = open;
                found.map(|(counts, facts, bees)| {
                    self.column(objective, &view, &counts, &facts, bees)
                })
            }
        };
        let column = found.or_else(|| closed.then(|| self.closed()));
        let own = column.as_ref().map(|column| column.value(prices));
        Priced {
            least: own.unwrap_or(i128::MAX).min(i128::from(least)),
            column,
        }
    }

    /// Positions of the vectors in a list that are left.
    pub(super) fn left<'l>(&'l self, list: &'l Listing) -> impl Iterator<Item = usize> + 'l {
        let (some, all) = match &self.choices.list {
            Some(some) => (&some[..], 0..0),
            None => (&[][..], 0..list.len()),
        };
        let free = self.choices.all;
        let all = all.filter(move |&at| free || self.choices.allow(list.at(at).0));
        some.iter().map(|&at| at as usize).chain(all)
    }

    /// The cheapest column of a list.
    fn listed(
        &self,
        objective: Objective,
        list: &Listing,
        view: &View,
        mut below: i64,
    ) -> Option<Column<Draw>> {
        let mut found = None;
        for at in self.left(list) {
            let (counts, facts) = list.at(at);
            let frames = view.frames(counts);
            if frames + facts.extra * view.one + self.least_beside(view, facts) < below
                && let Some((beside, bees)) = self.beside(view, counts, facts)
                && frames + beside < below
            {
                below = frames + beside;
                found = Some((at, bees));
            }
        }
        let (at, bees) = found?;
        let (counts, facts) = list.at(at);
        let mut column = self.column(objective, view, counts, facts, bees);
        column.tag.at = u32::try_from(at).ok();
        Some(column)
    }

    /// The closed colony.
    pub fn closed(&self) -> Column<Draw> {
        Column {
            cost: 0,
            entries: Vec::new(),
            tag: Draw {
                frames: vec![0; self.slots.len()].into(),
                share: 0,
                riding: 0,
                most: 0,
                added: vec![false; self.rows.len()].into(),
                opened: false,
                at: None,
                cost: 0,
            },
        }
    }

    /// Lists the vectors that can be in a solution within `gap` of the bound at these prices, where all
    /// were too many.
    pub fn list_within(&mut self, prices: &[i64], gap: i128) {
        if self.listing.is_some() {
            return;
        }
        let best = self.price(Objective::Cost, prices, i128::MAX);
        let column = best.column.map(|column| column.value(prices));
        if column != Some(best.least) {
            // The search was cut short: the least value is not known.
            return;
        }
        let most = i64::try_from(best.least.saturating_add(gap)).unwrap_or(i64::MAX);
        let view = self.view(Objective::Cost, prices);
        let listing = self.within(&view, most);
        drop(view);
        self.listing = listing.map(Arc::new);
    }

    /// How much dearer the second best vector is than the best; much, where they are not listed.
    pub fn regret(&self, prices: &[i64]) -> i64 {
        let Some(list) = &self.listing else {
            return i64::MAX;
        };
        let view = self.view(Objective::Cost, prices);
        let closed = self.choices.closed.then_some(0);
        let values = self.left(list).map(|at| list.at(at));
        let values = values.filter_map(|(counts, facts)| Some(self.value(&view, counts, facts)?.0));
        let mut two = [i64::MAX; 2];
        for value in values.chain(closed) {
            if value < two[0] {
                two = [value, two[0]];
            } else {
                two[1] = two[1].min(value);
            }
        }
        two[1].saturating_sub(two[0])
    }

    /// Forbids what cannot be in a solution within `gap` of the node's bound at these prices.
    pub fn fix_by_reduced_cost(&mut self, prices: &[i64], gap: i128) {
        if let Some(choices) = self.fixed(prices, gap) {
            self.choices = Rc::new(choices);
        }
    }

    fn fixed(&self, prices: &[i64], gap: i128) -> Option<Choices> {
        let list = self.listing.as_ref()?;
        let view = self.view(Objective::Cost, prices);
        let closed = self.choices.closed.then_some(0);
        let opened = self.choices.opened.then(|| self.left(list));
        let valued = opened.into_iter().flatten().filter_map(|at| {
            let (counts, facts) = list.at(at);
            let (value, _) = self.value(&view, counts, facts)?;
            Some((u32::try_from(at).ok()?, value))
        });
        let mut valued: Vec<(u32, i64)> = valued.collect();
        let best = valued.iter().map(|&(_, value)| value).chain(closed).min()?;
        let most = i64::try_from(i128::from(best) + gap).unwrap_or(i64::MAX);
        let before = valued.len();
        valued.retain(|&(_, value)| value <= most);
        let mut choices = Choices {
            closed: closed.is_some_and(|value| value <= most),
            opened: !valued.is_empty(),
            all: false,
            ..(*self.choices).clone()
        };
        if valued.len() < before || choices.list.is_none() {
            choices.list = Some(valued.iter().map(|&(at, _)| at).collect());
        }
        let left = valued.iter().map(|&(at, _)| list.at(at as usize));
        let share = left.clone().map(|(_, facts)| facts.share).min();
        let least = left.map(|(counts, facts)| view.frames(counts) + facts.extra * view.one);
        let (Some(share), Some(least)) = (share, least.min()) else {
            return Some(choices);
        };
        for (slot, frames) in choices.frames.iter_mut().enumerate() {
            let of_slot = valued.iter().map(|&(at, _)| list.at(at as usize).0[slot]);
            *frames = of_slot.minmax().into_option().unwrap_or(*frames);
        }
        let dear = |share: usize| {
            let taken = self.taken[share].min(self.donor.bees);
            least + view.must + self.burden[share] * view.one - view.gain * taken > most
        };
        let (from, to) = &mut choices.share;
        *from = (*from).max(share);
        while *from < *to && dear(*to) {
            *to -= 1;
        }
        Some(choices)
    }

    /// The column of a vector at a share.
    fn column(
        &self,
        objective: Objective,
        view: &View,
        counts: &[u32],
        facts: &Facts,
        bees: Bees,
    ) -> Column<Draw> {
        let most = self.most(facts, bees.share);
        let way = &view.ways[bees.way];
        let mut entries: Vec<(usize, i64)> = Vec::with_capacity(8);
        let mut add = |rows: &[(usize, i64)], hundreds: i64| {
            entries.extend(rows.iter().map(|&(row, by)| (row, by * hundreds)));
        };
        let mut taken = facts.riding;
        let further = most - facts.riding;
        let loose = self.deal(view, way, counts, further, |_, site, riding| {
            add(&self.rows[site].riding, riding);
            taken += riding;
        });
        if let Some(site) = way.site {
            add(&self.rows[site].loose, loose);
            taken += loose;
        }
        let mut places = 0;
        for (at, &count) in counts.iter().enumerate().filter(|(_, count)| **count > 0) {
            let (slot, count) = (&self.slots[at], i64::from(count));
            let need = view.slots[at].1;
            let place = slot.needs.iter().find(|(of, _)| *of == need);
            places += count * place.map_or(0, |(_, place)| *place);
            add(&[(need, 1)], count);
            if let Some(site) = slot.site {
                let riding = count * self.donor.items[slot.item].least;
                add(&self.rows[site].riding, riding);
            }
        }
        let honey = self.charge(counts) + self.donor.hundred * taken;
        if let Some(row) = self.honey_row {
            add(&[(row, -1)], honey);
        }
        let added = self.choices.added.iter().enumerate();
        let added = added.map(|(site, &(must, _))| {
            let counts = self.rows[site].added.is_some();
            counts && (must || loose > 0 && way.site == Some(site))
        });
        let added: Arc<[bool]> = added.collect();
        for (rows, _) in self
            .rows
            .iter()
            .zip(added.iter())
            .filter(|(_, added)| **added)
        {
            entries.extend(rows.added.map(|row| (row, -1)));
        }
        let opening = if facts.frames == 0 { self.opening } else { 0 };
        let cost =
            honey + self.burden[bees.share] + facts.extra + opening + self.substitute * places;
        Column {
            cost: if objective == Objective::Cost {
                cost
            } else {
                0
            },
            entries,
            tag: Draw {
                frames: counts.into(),
                share: bees.share,
                riding: facts.riding,
                most,
                added,
                opened: true,
                at: None,
                cost,
            },
        }
    }

    /// Whether the node allows a column.
    pub fn allows(&self, draw: &Draw) -> bool {
        let choices = &self.choices;
        if !draw.opened {
            return choices.closed;
        }
        if choices.all {
            return true;
        }
        let (least, most) = choices.share;
        let vector = match (&choices.list, &draw.at) {
            (Some(list), Some(at)) => list.binary_search(at).is_ok(),
            _ => choices.allow(&draw.frames),
        };
        let added = choices.added.iter().zip(draw.added.iter());
        let mut added = added.map(|(&(must, may), &added)| if added { may } else { !must });
        choices.opened
            && (least..=most).contains(&draw.share)
            && vector
            && added.all(|allowed| allowed)
    }
}

impl Choices {
    pub fn allow(&self, counts: &[u32]) -> bool {
        let slots = self.frames.iter().zip(counts);
        slots
            .into_iter()
            .all(|(&(least, most), count)| (least..=most).contains(count))
    }
}
