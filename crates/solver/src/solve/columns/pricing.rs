//! The cheapest column of a colony at given prices.

use std::cell::RefMut;
use std::rc::Rc;
use std::sync::Arc;

use itertools::Itertools;

use super::listing::{Facts, Listing};
use super::{Choices, Columns};
use crate::solve::engine::{Column, Objective, Priced, SHIFT};

/// What a column of a colony stands for.
#[derive(Debug, Clone)]
pub(crate) struct Draw {
    /// Frames by slot.
    pub frames: Arc<[u32]>,
    /// The need that the frames of each slot serve.
    pub needs: Arc<[usize]>,
    /// The share whose burden is paid.
    pub share: usize,
    /// Hundreds that must ride, and hundreds of bees that may be taken at most by the share.
    pub riding: i64,
    pub most: i64,
    /// Loose hundreds, and for which site.
    pub loose: i64,
    pub site: usize,
    pub opened: bool,
    /// Position of its frames in the list of vectors.
    pub at: Option<u32>,
    /// Grams.
    pub cost: i64,
}

/// Prices as one colony sees them, in multiples of 2^-`SHIFT`.
#[derive(Debug, Default)]
pub(crate) struct View {
    /// Of a gram of cost.
    pub(super) one: i64,
    /// By slot: a frame with the bees that ride on it, and the need that it then serves.
    pub(super) slots: Vec<(i64, usize)>,
    /// What a loose hundred gains, and where.
    pub(super) gain: i64,
    site: usize,
    /// By share that the node leaves: the least from there on of burden less what all bees allowed by it
    /// gain, and at which share.
    least: Vec<(i64, usize)>,
}

impl View {
    /// Value of frames with the bees that ride on them.
    fn frames(&self, counts: &[u32]) -> i64 {
        let frames = counts.iter().zip(&self.slots);
        frames
            .map(|(&count, &(value, _))| i64::from(count) * value)
            .sum()
    }
}

impl Columns<'_> {
    fn view(&self, objective: Objective, prices: &[i64]) -> RefMut<'_, View> {
        let mut view = self.seen.borrow_mut();
        let one = if objective == Objective::Cost {
            1 << SHIFT
        } else {
            0
        };
        let honey = one + self.honey_row.map_or(0, |row| prices[row]);
        let hundred = honey * self.donor.hundred;
        let worth =
            |rows: &[(usize, i64)]| -> i64 { rows.iter().map(|&(row, by)| prices[row] * by).sum() };
        let loose = self
            .rows
            .iter()
            .map(|rows| worth(&rows.loose) - hundred)
            .enumerate();
        let best = loose.max_by_key(|&(site, gain)| (gain, usize::MAX - site));
        let (site, gain) = best.unwrap_or((0, 0));
        (view.one, view.site, view.gain) = (one, site, gain);
        view.slots.clear();
        for (slot, &(_, most)) in self.slots.iter().zip(&self.choices.frames) {
            if most == 0 {
                view.slots.push((0, 0));
                continue;
            }
            let item = &self.donor.items[slot.item];
            let serve = slot
                .needs
                .iter()
                .map(|&(need, place)| (self.substitute * place * one - prices[need], need));
            let (best, need) = serve.min().unwrap_or((0, 0));
            let rides = slot
                .site
                .map_or(0, |site| worth(&self.rows[site].riding) - hundred);
            // A riding hundred takes the place of a loose one.
            let value = best + item.charge * honey + item.least * (gain.max(0) - rides);
            view.slots.push((value, need));
        }
        if gain > 0 {
            self.levels(&mut view);
        }
        view
    }

    fn levels(&self, view: &mut View) {
        let room = self.donor.bees;
        let (from, to) = self.choices.share;
        view.least.resize(self.burden.len(), (0, 0));
        let mut best = (i64::MAX, 0);
        for share in (from..=to).rev() {
            let taken = self.taken[share].min(room);
            let level = self.burden[share] * view.one - view.gain * taken;
            best = best.min((level, share));
            view.least[share] = best;
        }
    }

    /// The best share for a vector, and its burden less what loose bees gain, as if no bee rode.
    fn best_share(&self, view: &View, facts: &Facts) -> Option<(i64, usize)> {
        let (from, to) = (facts.share.max(self.choices.share.0), self.choices.share.1);
        if from > to {
            return None;
        }
        if view.gain <= 0 {
            return Some((self.burden[from] * view.one, from));
        }
        let (value, share) = view.least[from];
        if share <= to && self.taken[share] <= facts.most {
            return Some((value, share));
        }
        let mut best = (i64::MAX, from);
        for share in from..=to {
            let taken = self.taken[share].min(facts.most).min(self.donor.bees);
            best = best.min((self.burden[share] * view.one - view.gain * taken, share));
            if self.taken[share] >= facts.most {
                break;
            }
        }
        Some(best)
    }

    /// Value of an opened column of these frames, and its share.
    pub(super) fn value(&self, view: &View, counts: &[u32], facts: &Facts) -> Option<(i64, usize)> {
        let (beside, share) = self.beside(view, facts)?;
        Some((view.frames(counts) + beside, share))
    }

    /// What the best column of these frames adds to their own value, and its share.
    fn beside(&self, view: &View, facts: &Facts) -> Option<(i64, usize)> {
        let (bees, share) = self.best_share(view, facts)?;
        let opening = if facts.frames == 0 { self.opening } else { 0 };
        Some(((facts.extra + opening) * view.one + bees, share))
    }

    /// No more than [`Columns::beside`], at hand at once.
    fn least_beside(&self, view: &View, facts: &Facts) -> i64 {
        facts.extra * view.one + self.least_bees(view, facts.share)
    }

    /// Burden less what loose bees gain, at a share or above that the node leaves.
    pub(super) fn least_bees(&self, view: &View, share: usize) -> i64 {
        let share = share.max(self.choices.share.0);
        if share > self.choices.share.1 {
            i64::MAX / 4
        } else if view.gain > 0 {
            view.least[share].0
        } else {
            self.burden[share] * view.one
        }
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
                found.map(|(counts, facts, share)| {
                    self.column(objective, &view, &counts, &facts, share)
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
            if frames + self.least_beside(view, facts) < below
                && let Some((beside, share)) = self.beside(view, facts)
                && frames + beside < below
            {
                below = frames + beside;
                found = Some((at, share));
            }
        }
        let (at, share) = found?;
        let (counts, facts) = list.at(at);
        let mut column = self.column(objective, view, counts, facts, share);
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
                needs: vec![0; self.slots.len()].into(),
                share: 0,
                riding: 0,
                most: 0,
                loose: 0,
                site: 0,
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
            least + self.burden[share] * view.one - view.gain.max(0) * taken > most
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
        share: usize,
    ) -> Column<Draw> {
        let most = facts
            .most
            .min(self.taken[share])
            .min(self.donor.bees)
            .max(facts.riding);
        let mut draw = Draw {
            frames: counts.into(),
            needs: view.slots.iter().map(|&(_, need)| need).collect(),
            share,
            riding: facts.riding,
            most,
            loose: if view.gain > 0 {
                most - facts.riding
            } else {
                0
            },
            site: view.site,
            opened: true,
            at: None,
            cost: 0,
        };
        let mut entries: Vec<(usize, i64)> = Vec::with_capacity(8);
        let honey = self.charge(counts) + self.donor.hundred * (facts.riding + draw.loose);
        let mut places = 0;
        for (at, &count) in counts.iter().enumerate().filter(|(_, count)| **count > 0) {
            let (slot, count) = (&self.slots[at], i64::from(count));
            let need = draw.needs[at];
            let place = slot.needs.iter().find(|(of, _)| *of == need);
            places += count * place.map_or(0, |(_, place)| *place);
            entries.push((need, count));
            if let Some(site) = slot.site {
                let riding = count * self.donor.items[slot.item].least;
                entries.extend(
                    self.rows[site]
                        .riding
                        .iter()
                        .map(|&(row, by)| (row, by * riding)),
                );
            }
        }
        if draw.loose > 0 {
            let loose = &self.rows[draw.site].loose;
            entries.extend(loose.iter().map(|&(row, by)| (row, by * draw.loose)));
        }
        if let Some(row) = self.honey_row {
            entries.push((row, -honey));
        }
        let opening = if facts.frames == 0 { self.opening } else { 0 };
        draw.cost = honey + self.burden[share] + facts.extra + opening + self.substitute * places;
        Column {
            cost: if objective == Objective::Cost {
                draw.cost
            } else {
                0
            },
            entries,
            tag: draw,
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
        choices.opened && (least..=most).contains(&draw.share) && vector
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
