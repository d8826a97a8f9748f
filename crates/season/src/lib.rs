#![doc = include_str!("../README.md")]

mod check;
mod compartment;
mod follow;
mod linear;
mod listing;
mod master;
mod outlook;
mod plan;
mod reckon;
mod season;
mod valued;
mod walk;

pub use check::{Fault, can_give, check};
pub use follow::{day_by_day, last_day};
pub use master::Listed;
pub use outlook::{Binds, Counted, Course, Drawn, Met, Outlook, Stocked, Strength};
pub use plan::{RELAXATIONS, plan, plan_each, plan_listed};
pub use reckon::otherwise;
pub use season::{
    Caps, Colony, Crop, Days, Keep, Kind, MOST_FRAMES, Need, Prices, Ready, Round, SUCCESS, Season,
    Stands, Stocks, Taken, Told, ToldOf, WINTER_BEES, Want, What, Winter,
};
pub use valued::{Brings, Valued};

/// For tests: other ways to look at a season.
#[doc(hidden)]
pub mod inside {
    pub use super::check::{Simulated, simulate};
    pub use super::compartment::{lacks, united};
    pub use super::linear::{Linear, linear, linear_held, linear_loose};
}

use spareframe_colony::{MORTALITY_BESIDE, Setting};
