//! The cheapest column of a colony at given prices.

use std::rc::Rc;

use super::listing::{Facts, Sums, Visit};
use super::{Choices, Columns};
use crate::solve::engine::{Column, Objective, SHIFT};

/// What a column of a colony stands for.
#[derive(Debug, Clone)]
pub(crate) struct Draw {
    /// Frames by slot.
    pub frames: Rc<[u32]>,
    /// The need that the frames of each slot serve.
    pub needs: Rc<[usize]>,
    /// The share whose burden is paid.
    pub share: usize,
    /// Hundreds that must ride, and hundreds of bees that may be taken at most by the share.
    pub riding: i64,
    pub most: i64,
    /// Loose hundreds, and for which site.
    pub loose: i64,
    pub site: usize,
    pub opened: bool,
    /// Grams.
    pub cost: i64,
}

/// Prices as one colony sees them, in multiples of 2^-`SHIFT`.
pub(crate) struct View {
    /// Of a gram of cost.
    one: i64,
    /// Of a gram of honey.
    honey: i64,
    /// By slot: a frame with the bees that ride on it, and the need that it then serves.
    slots: Vec<(i64, usize)>,
    /// What a loose hundred gains, and where.
    gain: i64,
    site: usize,
    /// By share: burden less what all bees allowed by it gain; and the least of it from there on.
    level: Vec<i64>,
    least: Vec<(i64, usize)>,
}

impl Columns<'_> {
    pub fn view(&self, objective: Objective, prices: &[i64]) -> View {
        let one = if objective == Objective::Cost { 1 << SHIFT } else { 0 };
        let honey = one + self.honey_row.map_or(0, |row| prices[row]);
        let hundred = honey * self.donor.hundred;
        let worth = |rows: &[(usize, i64)]| -> i64 {
            rows.iter().map(|&(row, by)| prices[row] * by).sum()
        };
        let loose = self.rows.iter().map(|rows| worth(&rows.loose) - hundred).enumerate();
        let (site, gain) = loose.max_by_key(|&(site, gain)| (gain, usize::MAX - site)).unwrap_or((0, 0));
        let slots = self.slots.iter().map(|slot| {
            let item = &self.donor.items[slot.item];
            let serve = slot.needs.iter().map(|&(need, place)| {
                (self.substitute * place * one - prices[need], need)
            });
            let (best, need) = serve.min().unwrap_or((0, 0));
            let rides = slot.site.map_or(0, |site| worth(&self.rows[site].riding) - hundred);
            // A riding hundred takes the place of a loose one.
            let value = best + item.charge * honey + item.least * (gain.max(0) - rides);
            (value, need)
        });
        let mut view = View {
            one,
            honey,
            slots: slots.collect(),
            gain,
            site,
            level: Vec::new(),
            least: Vec::new(),
        };
        if gain > 0 {
            self.levels(&mut view);
        }
        view
    }

    fn levels(&self, view: &mut View) {
        let room = self.donor.bees;
        let by_share = self.burden.iter().zip(&self.taken);
        view.level = by_share
            .map(|(&burden, &taken)| burden * view.one - view.gain * taken.min(room))
            .collect();
        view.least = vec![(0, 0); view.level.len()];
        let mut best = (i64::MAX, 0);
        for share in (0..view.level.len()).rev() {
            best = best.min((view.level[share], share));
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

    /// Value of an opened column of these frames.
    fn value(&self, view: &View, counts: &[u32], facts: &Facts) -> Option<(i64, usize)> {
        let frames = counts.iter().zip(&view.slots);
        let frames: i64 = frames.map(|(&count, &(value, _))| i64::from(count) * value).sum();
        let (bees, share) = self.best_share(view, facts)?;
        let opening = if facts.frames == 0 { self.opening } else { 0 };
        Some((frames + (facts.extra + opening) * view.one + bees, share))
    }

    /// The cheapest column whose value is below `below`.
    pub fn price(&self, objective: Objective, prices: &[i64], below: i128) -> Option<Column<Draw>> {
        let view = self.view(objective, prices);
        let mut best = Best {
            columns: self,
            view: &view,
            order: &[],
            rest: Vec::new(),
            below: i64::try_from(below).unwrap_or(i64::MAX),
            found: None,
        };
        if self.choices.closed && best.below > 0 {
            best.below = 0;
            best.found = Some((vec![0; self.slots.len()].into(), Facts::default(), None));
        }
        if self.choices.opened {
            match &self.listing {
                Some(list) => {
                    for (counts, facts) in list.counts.iter().zip(&list.facts) {
                        if self.choices.all || self.choices.allow(counts) {
                            best.look(counts, *facts);
                        }
                    }
                }
                None => self.search(&view, &mut best),
            }
        }
        let (counts, facts, share) = best.found?;
        Some(self.column(objective, &view, &counts, &facts, share))
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
                cost: 0,
            },
        }
    }

    /// Forbids vectors that cannot be in a solution within `gap` of the bound at these prices; lists those
    /// that can where all were too many.
    pub fn fix_by_reduced_cost(&mut self, prices: &[i64], gap: i128) {
        let Some(best) = self.price(Objective::Cost, prices, i128::MAX) else {
            return;
        };
        let most = best.value(prices) + gap;
        let view = self.view(Objective::Cost, prices);
        if let Some(mut list) = self.listing.take() {
            let keeps: Vec<bool> = list
                .counts
                .iter()
                .zip(&list.facts)
                .map(|(counts, facts)| {
                    self.value(&view, counts, facts).is_none_or(|(value, _)| i128::from(value) <= most)
                })
                .collect();
            let mut keep = keeps.iter();
            list.counts.retain(|_| *keep.next().unwrap_or(&true));
            let mut keep = keeps.iter();
            list.facts.retain(|_| *keep.next().unwrap_or(&true));
            self.listing = Some(list);
        }
    }

    fn search<'a>(&'a self, view: &'a View, best: &mut Best<'a, '_>) {
        let mut order: Vec<usize> = (0..self.slots.len()).collect();
        order.sort_by_key(|&slot| (view.slots[slot].0, slot));
        let mut rest = vec![0; order.len() + 1];
        for at in (0..order.len()).rev() {
            let slot = order[at];
            let most = i64::from(self.choices.frames[slot].1);
            rest[at] = rest[at + 1] + most * view.slots[slot].0.min(0);
        }
        let mut search = Best {
            columns: self,
            view,
            order: &order,
            rest,
            below: best.below,
            found: best.found.take(),
        };
        self.walk(&order, &mut search);
        best.below = search.below;
        best.found = search.found;
    }

    /// The column of a vector at a share; `None` for the closed colony.
    fn column(
        &self,
        objective: Objective,
        view: &View,
        counts: &[u32],
        facts: &Facts,
        share: Option<usize>,
    ) -> Column<Draw> {
        let Column {
            mut entries,
            tag: mut draw,
            ..
        } = self.closed();
        if let Some(share) = share {
            draw.frames = counts.into();
            draw.needs = view.slots.iter().map(|&(_, need)| need).collect();
            draw.site = view.site;
            draw.opened = true;
            draw.share = share;
            draw.riding = facts.riding;
            draw.most = facts.most.min(self.taken[share]).min(self.donor.bees).max(facts.riding);
            draw.loose = if view.gain > 0 { draw.most - facts.riding } else { 0 };
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
                    entries.extend(self.rows[site].riding.iter().map(|&(row, by)| (row, by * riding)));
                }
            }
            let loose = &self.rows[draw.site].loose;
            if draw.loose > 0 {
                entries.extend(loose.iter().map(|&(row, by)| (row, by * draw.loose)));
            }
            if let Some(row) = self.honey_row {
                entries.push((row, -honey));
            }
            let opening = if facts.frames == 0 { self.opening } else { 0 };
            draw.cost = honey + self.burden[share] + facts.extra + opening + self.substitute * places;
        }
        Column {
            cost: if objective == Objective::Cost { draw.cost } else { 0 },
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
        choices.opened && (least..=most).contains(&draw.share) && choices.allow(&draw.frames)
    }
}

impl Choices {
    pub fn allow(&self, counts: &[u32]) -> bool {
        let slots = self.frames.iter().zip(counts);
        slots.into_iter().all(|(&(least, most), count)| (least..=most).contains(count))
    }
}

/// The best column of a search so far.
struct Best<'a, 'o> {
    columns: &'a Columns<'a>,
    view: &'a View,
    order: &'o [usize],
    /// By position in `order`: the least that slots from there on may add.
    rest: Vec<i64>,
    below: i64,
    found: Option<(Box<[u32]>, Facts, Option<usize>)>,
}

impl Best<'_, '_> {
    fn look(&mut self, counts: &[u32], facts: Facts) {
        if let Some((value, share)) = self.columns.value(self.view, counts, &facts)
            && value < self.below
        {
            self.below = value;
            self.found = Some((counts.into(), facts, Some(share)));
        }
    }
}

impl Visit for Best<'_, '_> {
    fn enter(&mut self, counts: &[u32], sums: &Sums, next: usize) -> bool {
        let done = self.order[..next].iter();
        let done: i64 = done.map(|&slot| i64::from(counts[slot]) * self.view.slots[slot].0).sum();
        let share = self.columns.share_of_cells(sums.cells);
        let bees = match self.view.gain > 0 {
            true => self.view.least[share].0,
            false => self.columns.burden[share] * self.view.one,
        };
        done + self.rest[next] + bees < self.below
    }

    fn take(&mut self, counts: &[u32], facts: Facts) -> bool {
        self.look(counts, facts);
        true
    }
}
