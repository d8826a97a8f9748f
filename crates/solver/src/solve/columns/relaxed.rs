//! A bound on what the frames of a colony may come to: floors, caps and burden as prices (Lagrangian relaxation), so
//! that the frames that then gain most leave.

use super::pricing::View;
use super::{Columns, Slot};

/// What is short beside frames: brood, stores, drawn comb, bees, honey; last cells and riding bees, which raise the
/// share.
const SHORT: usize = 7;
/// The first that raises the share.
const SHARE: usize = 5;
/// How often each price is set anew (a choice).
const SWEEPS: usize = 2;
/// Halvings by which a price is found (a choice).
const HALVINGS: usize = 20;
/// Prices stay below this, so that no sum overflows.
const DEAREST: f64 = (1_i64 << 50) as f64;

/// A bound at fixed prices.
pub(super) struct Relaxed {
    /// By slot: value of a frame, with the price of all that it takes.
    pub slots: Vec<i128>,
    /// By share: what the bound is beside frames, if so much is given or more.
    pub beside: Vec<i128>,
}

impl Relaxed {
    /// At the best prices found. They are floats rounded, the bound is of whole numbers.
    pub fn new(columns: &Columns, view: &View) -> Self {
        let problem = Problem::new(columns, view);
        let prices = problem.prices().map(|price| price as i64);
        let paid = |takes: &[i64]| -> i128 {
            let takes = takes.iter().zip(&prices);
            let takes = takes.map(|(&by, &price)| i128::from(by) * i128::from(price));
            takes.sum()
        };
        let with_price = |(slot, of): (&Slot, &(i64, usize))| {
            i128::from(of.0) + paid(&problem.items[slot.item].takes)
        };
        let slots = columns.slots.iter().zip(&view.slots).map(with_price);
        let mut least = i128::MAX / 4;
        let mut beside = vec![least; columns.burden.len()];
        for (share, (room, value)) in problem.levels.iter().enumerate().rev() {
            least = least.min(i128::from(*value) - paid(room));
            beside[share] = least;
        }
        Self {
            slots: slots.collect(),
            beside,
        }
    }
}

/// Frames that hold the same.
struct Frames {
    /// Of a frame, in the slot where it gains most.
    value: f64,
    most: f64,
    takes: [i64; SHORT],
}

struct Problem {
    items: Vec<Frames>,
    frames: f64,
    /// By share: what there is of all that is short, and the least of burden less what loose bees gain.
    levels: Vec<([i64; SHORT], i64)>,
}

impl Problem {
    fn new(columns: &Columns, view: &View) -> Self {
        let donor = columns.donor;
        let items = donor.items.iter().map(|item| {
            let honey = item.charge + donor.hundred * item.least;
            let (cells, riding) = (item.cells, item.least);
            Frames {
                value: 0.0,
                most: f64::from(item.count),
                takes: [
                    item.brood,
                    item.stores,
                    item.drawn,
                    riding,
                    honey,
                    cells,
                    riding,
                ],
            }
        });
        let mut items: Vec<Frames> = items.collect();
        for (slot, (value, _)) in columns.slots.iter().zip(&view.slots) {
            let item = &mut items[slot.item];
            item.value = item.value.min(*value as f64);
        }
        let all = |at: usize| -> i64 {
            let items = items.iter();
            items.map(|item| item.takes[at] * item.most as i64).sum()
        };
        let mut most: [i64; SHORT] = std::array::from_fn(all);
        let rooms = [donor.brood, donor.stores, donor.drawn, donor.bees];
        for (most, room) in most.iter_mut().zip(rooms.into_iter().chain(donor.honey)) {
            *most = room.min(*most);
        }
        let last = columns.burden.len() - 1;
        let levels = (0..=columns.choices.share.1).map(|share| {
            let mut room = most;
            if let Some(of) = donor.burden.as_ref().filter(|_| share < last) {
                let part = |before: i64, gone: i64| (share as i64 * before / 100 - gone).max(0);
                let cells = part(of.cells_before, of.cells_gone);
                let riding = part(of.bees_before, of.bees_gone);
                room[SHARE] = cells.min(room[SHARE]);
                room[SHARE + 1] = riding.min(room[SHARE + 1]);
            }
            (room, columns.least_bees(view, share))
        });
        let levels = levels.collect();
        Self {
            items,
            frames: donor.frames as f64,
            levels,
        }
    }

    /// Prices in turn, each the best beside the others, from either end: the better of both.
    fn prices(&self) -> [f64; SHORT] {
        let swept = |order: &dyn Fn(usize) -> usize| {
            let mut prices = [0.0; SHORT];
            for at in (0..SWEEPS * SHORT).map(|step| order(step % SHORT)) {
                prices[at] = 0.0;
                prices[at] = self.price(at, &prices);
            }
            (self.bound(&prices), prices)
        };
        let (up, down) = (swept(&|at| at), swept(&|at| SHORT - 1 - at));
        let (_, mut prices) = if up.0 >= down.0 { up } else { down };
        prices.iter_mut().for_each(|price| *price = price.round());
        prices
    }

    fn bound(&self, prices: &[f64; SHORT]) -> f64 {
        let gains = self.gains(prices);
        let levels = self.levels.iter();
        let beside = levels.map(|(room, value)| *value as f64 - paid(room, prices));
        let frames = self.leave(gains, |(gain, _)| *gain);
        frames + beside.fold(f64::MAX, f64::min)
    }

    /// By item: what a frame of it comes to at prices.
    fn gains(&self, prices: &[f64; SHORT]) -> Vec<(f64, usize)> {
        let items = self.items.iter().enumerate();
        let gain = |(at, item): (usize, &Frames)| (item.value + paid(&item.takes, prices), at);
        items.map(gain).collect()
    }

    /// The sum over the frames that leave: those that gain most, as many as may.
    fn leave(&self, mut gains: Vec<(f64, usize)>, of: impl Fn(&(f64, usize)) -> f64) -> f64 {
        gains.retain(|(gain, _)| *gain < 0.0);
        let all: f64 = gains.iter().map(|&(_, item)| self.items[item].most).sum();
        if all > self.frames {
            gains.sort_by(|a, b| a.0.total_cmp(&b.0));
        }
        let mut room = self.frames;
        let mut sum = 0.0;
        for gain in &gains {
            let frames = self.items[gain.1].most.min(room);
            sum += of(gain) * frames;
            room -= frames;
        }
        sum
    }

    /// The price of one thing from which on no more of it is taken than there is, beside all others.
    fn price(&self, at: usize, prices: &[f64; SHORT]) -> f64 {
        let gains = self.gains(prices);
        // All levels have as much of what does not raise the share.
        let levels = if at < SHARE {
            &self.levels[..1]
        } else {
            &self.levels
        };
        let levels = levels
            .iter()
            .map(|(room, value)| (*value as f64 - paid(room, prices), room[at] as f64));
        let levels: Vec<(f64, f64)> = levels.collect();
        let by = |item: usize| self.items[item].takes[at] as f64;
        let short = |price: f64| {
            let levels = levels
                .iter()
                .map(|&(rest, room)| (rest - room * price, room));
            let room = levels.min_by(|a, b| a.0.total_cmp(&b.0));
            let paid = gains
                .iter()
                .map(|&(gain, item)| (gain + by(item) * price, item));
            let taken = self.leave(paid.collect(), |&(_, item)| by(item));
            taken > room.map_or(0.0, |(_, room)| room)
        };
        if !short(0.0) {
            return 0.0;
        }
        let dear = gains.iter().filter(|(_, item)| by(*item) > 0.0);
        let dear = dear.map(|&(gain, item)| -gain / by(item));
        let (mut low, mut high) = (0.0, dear.fold(0.0, f64::max).min(DEAREST));
        for _ in 0..HALVINGS {
            let middle = (low + high) / 2.0;
            if short(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
        high
    }
}

fn paid(takes: &[i64; SHORT], prices: &[f64; SHORT]) -> f64 {
    let takes = takes.iter().zip(prices);
    takes.map(|(&by, price)| by as f64 * price).sum()
}
