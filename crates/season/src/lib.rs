#![doc = include_str!("../README.md")]

mod outlook;
mod season;

pub use outlook::{Binds, Counted, Course, Drawn, Met, Outlook, Stocked, Strength};
pub use season::{
    Caps, Colony, Crop, Days, Keep, Kind, MOST_FRAMES, Need, Prices, Ready, Round, SUCCESS, Season,
    Stands, Taken, WINTER_BEES, Want, What, Winter,
};
