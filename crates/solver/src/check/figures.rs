//! What frames hold, in integers too wide to overflow.

use crate::honey::HoneyRates;
use crate::scenario::{Colony, Comb, FrameState};
use crate::units::Milli;

/// A share of a whole, rounded half up. A share outside 0..=1000 counts as the nearest of these.
pub(super) fn part(share: Milli, whole: i64) -> i128 {
    let twice = 2 * i128::from(share.0.clamp(0, 1000)) * i128::from(whole);
    (twice + 1000).div_euclid(2000)
}

/// The quotient, rounded up; `by` above 0.
pub(super) fn up(value: i128, by: i128) -> i128 {
    value.div_euclid(by) + i128::from(value.rem_euclid(by) > 0)
}

/// Figures of one frame, or sums of them.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Content {
    /// Thousandths of a frame.
    pub brood: i128,
    /// Thousandths of a frame.
    pub drawn: i128,
    /// Hundreds.
    pub bees: i128,
    /// Grams.
    pub stores: i128,
    /// Brood cells of any age.
    pub cells: i128,
    /// Sealed cells.
    pub sealed: i128,
    /// Thousandths of a hundred bees that would cover the brood.
    pub cover: i128,
}

impl Content {
    /// Of one frame. A comb that does not exist holds no cells, no stores, and needs no cover.
    pub(super) fn of(combs: &[Comb], frame: &FrameState) -> Self {
        let own = Self {
            brood: frame.brood.0.into(),
            drawn: frame.drawn.0.into(),
            bees: frame.bees.0.into(),
            ..Self::default()
        };
        let Some(comb) = combs.get(frame.comb.0) else {
            return own;
        };
        Self {
            stores: part(frame.stores, comb.stores.0),
            cells: part(frame.brood, comb.cells),
            sealed: part(frame.sealed, comb.cells),
            cover: i128::from(frame.brood.0.clamp(0, 1000)) * i128::from(comb.bees.0),
            ..own
        }
    }

    pub(super) fn add(&mut self, other: Self, times: i128) {
        self.brood += times * other.brood;
        self.drawn += times * other.drawn;
        self.bees += times * other.bees;
        self.stores += times * other.stores;
        self.cells += times * other.cells;
        self.sealed += times * other.sealed;
        self.cover += times * other.cover;
    }

    pub(super) fn less(mut self, other: Self) -> Self {
        self.add(other, -1);
        self
    }

    /// Grams charged for one frame without its bees, in a colony with a crop.
    pub(super) fn charge(&self, rates: HoneyRates) -> i128 {
        let sealed = self.sealed.saturating_mul(rates.sealed.into());
        let open = (self.cells - self.sealed).saturating_mul(rates.open.into());
        let brood = up(sealed.saturating_add(open), 1_000_000);
        brood.saturating_add(self.stores)
    }
}

/// Hundreds of bees that ride at least on one frame of a colony; `None` for a frame without brood.
pub(super) fn least_riding(colony: &Colony, frame: &FrameState) -> Option<i128> {
    let rides = i128::from(colony.rides.0.clamp(0, 100));
    (frame.brood.0 > 0).then(|| up(rides * i128::from(frame.bees.0), 100))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_rounded_half_up() {
        assert_eq!(part(Milli(5), 100), 1);
        assert_eq!(part(Milli(4), 100), 0);
        assert_eq!(part(Milli(333), 10), 3);
        assert_eq!(part(Milli(1000), 4321), 4321);
    }

    #[test]
    fn a_quotient_is_rounded_up() {
        let quotients = [(0, 0), (1, 1), (100, 1), (101, 2), (-1, 0), (-100, -1)];
        for (value, quotient) in quotients {
            assert_eq!(up(value, 100), quotient, "{value}");
        }
    }
}
