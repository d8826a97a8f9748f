//! Honey given up: the colony model and the charge per bee, cell and frame.
//!
//! An estimate, not a measurement. Assumptions, formulas and how far the charge and the
//! simulation differ are in `docs/honey.md`.
//!
//! # The colony model
//!
//! Adults are house bees `H` and foragers `F`, `N = H + F`, as in Khoury, Myerscough and
//! Barron 2011 (PLoS ONE 6(4):e18491); brood is a line of 21 ages of one day: 3 egg, 6 larva,
//! 12 sealed. One day with mortality `m`:
//!
//! * emerging: the brood of the last age;
//! * recruited: `H (alpha - sigma F / N)`, negative when foragers turn back to house work;
//! * `H` gains the emerging and loses the recruited, `F` gains the recruited and loses `m F`;
//! * laid: `L N / (w + N)` eggs, from the adults at the start of the day.
//!
//! ```
//! use spareframe_solver::honey::ColonyState;
//! let mut colony = ColonyState::steady_state(0.1).expect("stable below 0.355");
//! assert!((colony.bees() - 44_129.32).abs() < 0.01);
//! colony.take_bees(4_000.0);
//! colony.run(0.1, 10);
//! assert!(colony.bees() < 44_129.0);
//! ```

mod charge;
mod colony;

pub use charge::{HoneyRates, frame_charge, hundred_charge, rates, simulated};
pub use colony::{
    ALPHA, BROOD_DAYS, ColonyModel, ColonyState, EGG_DAYS, HALF_LAYING, LARVA_DAYS, LAST_DAY,
    LAYING, SEALED_DAYS, SIGMA, steady_ratio,
};

/// The value if it is finite and above 0, else 0.
fn some(value: f64) -> f64 {
    if value.is_finite() {
        value.max(0.0)
    } else {
        0.0
    }
}

fn float(value: i128) -> f64 {
    value as f64
}
