//! Honey given up: the charge per bee, cell and frame, after the colony model of `spareframe-colony`.
//!
//! An estimate, not a measurement. Assumptions, formulas and how far the charge and the
//! simulation differ are in `docs/honey.md`.

mod charge;

pub use charge::{HoneyRates, frame_charge, hundred_charge, rates, simulated};
pub use spareframe_colony::Season;
use spareframe_colony::Setting;

use crate::units::Milli;

/// Last day of a flow that is simulated, counted from the stocking day (a choice: one year).
pub const LAST_DAY: i32 = 365;

/// Settings of the colony model, in thousandths and days so that a scenario stays a value that can be
/// compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ColonyModel {
    /// Foragers lost each day, in thousandths, 0..=1000; beyond that the nearest is used.
    /// Default 154 (Khoury, Barron and Myerscough 2013).
    pub mortality: Milli,
    /// Where in the year the stocking day is; `None`, the default: laying knows no season.
    pub season: Option<Season>,
}

impl Default for ColonyModel {
    fn default() -> Self {
        Self {
            mortality: Milli(154),
            season: None,
        }
    }
}

impl ColonyModel {
    /// What the colony model counts with.
    ///
    /// ```
    /// use spareframe_solver::{Milli, honey::ColonyModel};
    /// let mortal = |mortality| ColonyModel { mortality: Milli(mortality), season: None };
    /// assert_eq!(ColonyModel::default().setting().mortality, 0.154);
    /// assert_eq!(mortal(1700).setting().mortality, 1.0);
    /// ```
    #[must_use]
    pub fn setting(&self) -> Setting {
        Setting {
            mortality: float(self.mortality.0.clamp(0, 1000).into()) / 1000.0,
            season: self.season,
            ..Setting::default()
        }
    }
}

fn float(value: i128) -> f64 {
    value as f64
}
