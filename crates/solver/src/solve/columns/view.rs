//! Prices as one colony sees them, and what bees gain at them.
//!
//! Beyond those that must ride, further bees ride as far as they sit on the frames for a site, or are loose. Loose bees
//! of a column go to one site, as no second one gains more: which is a [`Way`].

use super::listing::Facts;
use super::{Columns, Slot};
use crate::solve::engine::{Objective, SHIFT};

/// Prices as one colony sees them, in multiples of 2^-`SHIFT`.
#[derive(Debug, Default)]
pub(crate) struct View {
    /// Of a gram of cost.
    pub one: i64,
    /// By slot: a frame with the bees that must ride on it, as if each of these took the place of one that gains
    /// [`View::gain`]; and the need that it then serves.
    pub slots: Vec<(i64, usize)>,
    /// The most that a hundred gains, 0 or more.
    pub gain: i64,
    /// What a riding hundred gains, where it gains something, the most first; and where.
    pub rides: Vec<(i64, usize)>,
    /// What it costs that bees are added where they must be.
    pub must: i64,
    /// Where loose bees may go.
    pub ways: Vec<Way>,
}

/// Where loose bees of a column go.
#[derive(Debug, Clone, Default)]
pub(crate) struct Way {
    /// `None`: there are none.
    pub site: Option<usize>,
    /// What a loose hundred gains.
    pub gain: i64,
    /// What it costs that bees are added there.
    pub charge: i64,
    /// Some riding hundreds gain more.
    mixed: bool,
    /// What a hundred gains at most, and by share that the node leaves: the least from there on of burden less what
    /// all bees allowed by it gain at that, and at which share.
    best: i64,
    least: Vec<(i64, usize)>,
}

/// Bees of a column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Bees {
    /// What they cost, with burden.
    pub value: i64,
    pub share: usize,
    /// Position in [`View::ways`].
    pub way: usize,
}

impl View {
    /// Value of frames with the bees that must ride on them.
    pub fn frames(&self, counts: &[u32]) -> i64 {
        let frames = counts.iter().zip(&self.slots);
        frames
            .map(|(&count, &(value, _))| i64::from(count) * value)
            .sum()
    }
}

impl Columns<'_> {
    /// Fills in prices.
    pub(super) fn see(&self, view: &mut View, objective: Objective, prices: &[i64]) {
        let one = if objective == Objective::Cost {
            1 << SHIFT
        } else {
            0
        };
        let honey = one + self.honey_row.map_or(0, |row| prices[row]);
        let hundred = honey * self.donor.hundred;
        let worth =
            |rows: &[(usize, i64)]| -> i64 { rows.iter().map(|&(row, by)| prices[row] * by).sum() };
        let gains = |site: usize| worth(&self.rows[site].riding) - hundred;
        view.one = one;
        view.rides.clear();
        let sites = 0..self.rows.len();
        view.rides.extend(sites.map(|site| (gains(site), site)));
        view.rides
            .retain(|&(gain, site)| gain > 0 && self.may_ride(site));
        view.rides.sort_by_key(|&(gain, site)| (-gain, site));
        self.see_ways(view, prices, hundred);
        let rides = view.rides.first().map_or(0, |&(gain, _)| gain);
        view.gain = view.ways.iter().fold(rides, |most, way| most.max(way.gain));
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
            let gains = slot.site.map_or(0, gains);
            let value = best + item.charge * honey + item.least * (view.gain - gains);
            view.slots.push((value, need));
        }
        let rides = view.rides.first().map_or(0, |&(gain, _)| gain);
        for way in &mut view.ways {
            way.mixed = rides > way.gain;
            way.best = way.gain.max(rides);
            self.levels(one, way);
        }
    }

    /// The ways of loose bees: where they cost nothing for their own sake, or nowhere; then those that gain more.
    fn see_ways(&self, view: &mut View, prices: &[i64], hundred: i64) {
        let mut kept = std::mem::take(&mut view.ways).into_iter();
        let mut way = |site: Option<usize>, gain: i64, charge: i64| Way {
            site,
            gain,
            charge,
            ..kept.next().unwrap_or_default()
        };
        let gain = |site: usize| -> i64 {
            let rows = self.rows[site].loose.iter();
            rows.map(|&(row, by)| prices[row] * by).sum::<i64>() - hundred
        };
        view.must = 0;
        let mut free = (None, 0);
        for (site, &(must, may)) in self.choices.added.iter().enumerate() {
            let charge = self.rows[site].added.map(|row| prices[row]);
            if must {
                view.must += charge.unwrap_or(0);
            }
            if (must || charge.is_none() || may && charge == Some(0)) && gain(site) > free.1 {
                free = (Some(site), gain(site));
            }
        }
        let mut ways = vec![way(free.0, free.1, 0)];
        for (site, &(must, may)) in self.choices.added.iter().enumerate() {
            let charge = self.rows[site].added.map_or(0, |row| prices[row]);
            if may && !must && charge > 0 && gain(site) > free.1 {
                ways.push(way(Some(site), gain(site), charge));
            }
        }
        view.ways = ways;
    }

    /// Whether bees of the colony may ride to a site.
    fn may_ride(&self, site: usize) -> bool {
        let there = |slot: &Slot| slot.site == Some(site);
        self.slots.iter().any(there)
    }

    fn levels(&self, one: i64, way: &mut Way) {
        way.least.clear();
        if way.best <= 0 {
            return;
        }
        let room = self.donor.bees;
        let (from, to) = self.choices.share;
        way.least.resize(self.burden.len(), (0, 0));
        let mut best = (i64::MAX, 0);
        for share in (from..=to).rev() {
            let taken = self.taken[share].min(room);
            let level = self.burden[share] * one - way.best * taken;
            best = best.min((level, share));
            way.least[share] = best;
        }
    }

    /// The best bees beside frames; `None` where no share is left.
    pub(super) fn best_bees(&self, view: &View, counts: &[u32], facts: &Facts) -> Option<Bees> {
        let from = facts.share.max(self.choices.share.0);
        if from > self.choices.share.1 {
            return None;
        }
        let mut best = (i64::MAX, 0, from);
        for (at, way) in view.ways.iter().enumerate() {
            if self.least_of(view, way, facts, from) >= best.0 {
                continue;
            }
            let (value, share) = match (way.mixed, way.gain > 0) {
                (true, _) => self.mixed(view, way, counts, facts),
                (false, true) => self.plain(view, way, facts, from),
                (false, false) => (self.burden[from] * view.one, from),
            };
            best = best.min((value + way.charge, at, share));
        }
        let (value, way, share) = best;
        Some(Bees {
            // Frames are valued as if what must ride took the place of the best.
            value: value + view.must - view.gain * facts.riding,
            share,
            way,
        })
    }

    /// The best share where all further bees are loose: burden less what they gain.
    fn plain(&self, view: &View, way: &Way, facts: &Facts, from: usize) -> (i64, usize) {
        let to = self.choices.share.1;
        let (value, share) = way.least[from];
        let own = way.gain * facts.riding;
        if share <= to && self.taken[share] <= facts.most {
            return (value + own, share);
        }
        let mut best = (i64::MAX, from);
        for share in from..=to {
            let taken = self.taken[share].min(facts.most).min(self.donor.bees);
            best = best.min((self.burden[share] * view.one - way.gain * taken, share));
            if self.taken[share] >= facts.most {
                break;
            }
        }
        (best.0 + own, best.1)
    }

    /// The same where some ride for a greater gain: these first, then loose ones.
    fn mixed(&self, view: &View, way: &Way, counts: &[u32], facts: &Facts) -> (i64, usize) {
        let (mut share, to) = (facts.share.max(self.choices.share.0), self.choices.share.1);
        let mut best = (i64::MAX, share);
        let (mut taken, mut gained) = (facts.riding, 0);
        let rides = view.rides.iter().filter(|(gain, _)| *gain > way.gain);
        let rides = rides.map(|&(gain, site)| (gain, self.may_ride_to(site, counts)));
        for (gain, room) in rides.chain([(way.gain.max(0), i64::MAX / 4)]) {
            while share <= to {
                let most = self.most(facts, share);
                if most - taken > room {
                    break;
                }
                let burden = self.burden[share] * view.one;
                best = best.min((burden - gained - gain * (most - taken), share));
                if gain == 0 || self.taken[share] >= facts.most {
                    return best;
                }
                share += 1;
            }
            if share > to {
                break;
            }
            gained += gain * room;
            taken += room;
        }
        best
    }

    /// Hundreds that may be taken at a share.
    pub(super) fn most(&self, facts: &Facts, share: usize) -> i64 {
        let most = self.taken[share].min(facts.most).min(self.donor.bees);
        most.max(facts.riding)
    }

    /// Deals out so many further hundreds: those that ride, by what they gain, site and number; and how many are
    /// loose.
    pub(super) fn deal(
        &self,
        view: &View,
        way: &Way,
        counts: &[u32],
        mut further: i64,
        mut ride: impl FnMut(i64, usize, i64),
    ) -> i64 {
        for &(gain, site) in &view.rides {
            if gain <= way.gain || further <= 0 {
                break;
            }
            let riding = self.may_ride_to(site, counts).min(further);
            further -= riding;
            ride(gain, site, riding);
        }
        if way.gain > 0 { further } else { 0 }
    }

    /// Hundreds that may ride to a site beyond those that must.
    fn may_ride_to(&self, site: usize, counts: &[u32]) -> i64 {
        let slots = self.slots.iter().zip(counts);
        let there = slots.filter(|(slot, _)| slot.site == Some(site));
        there
            .map(|(slot, &count)| {
                let item = &self.donor.items[slot.item];
                (item.most_riding() - item.least) * i64::from(count)
            })
            .sum()
    }

    /// No more than the value of [`Columns::best_bees`], at hand at once.
    pub(super) fn least_beside(&self, view: &View, facts: &Facts) -> i64 {
        let share = facts.share.max(self.choices.share.0);
        if share > self.choices.share.1 {
            return i64::MAX / 4;
        }
        let ways = view.ways.iter();
        let least = ways.map(|way| self.least_of(view, way, facts, share));
        least.min().unwrap_or(0) + view.must - view.gain * facts.riding
    }

    /// What a way costs at least, at a share or above.
    fn least_of(&self, view: &View, way: &Way, facts: &Facts, share: usize) -> i64 {
        let no_gain = self.burden[share] * view.one;
        let value = match way.best > 0 {
            true => way.least[share].0 + way.best * facts.riding,
            false => no_gain,
        };
        let value = match way.site {
            // No more ride than sit on the frames.
            None => value.max(no_gain - way.best.max(0) * facts.may_ride),
            Some(_) => value,
        };
        value + way.charge
    }

    /// Burden less what bees gain, at a share or above that the node leaves, whatever the frames: with them valued as
    /// if what must ride took the place of the best.
    pub(super) fn least_bees(&self, view: &View, share: usize) -> i64 {
        let share = share.max(self.choices.share.0);
        if share > self.choices.share.1 {
            return i64::MAX / 4;
        }
        let best = view.ways.iter().find(|way| way.best == view.gain);
        let bees = match best.filter(|_| view.gain > 0) {
            Some(way) => way.least[share].0,
            None => self.burden[share] * view.one,
        };
        view.must + bees
    }
}
