#![doc = include_str!("../README.md")]

mod colony;
mod season;

pub use colony::{
    ALPHA, BEE_EATS, BROOD_DAYS, Colony, EGG_DAYS, HALF_LAYING, LARVA_DAYS, LAYING, MORTALITY,
    MORTALITY_BESIDE, MOST_EGGS, OPEN_CELL_EATS, SEALED_DAYS, SIGMA, Setting, steady_ratio,
};
pub use season::{MOST_RATIO, Season, share_of_the_year};

/// The value if it is finite and above 0, else 0.
fn some(value: f64) -> f64 {
    if value.is_finite() {
        value.max(0.0)
    } else {
        0.0
    }
}
