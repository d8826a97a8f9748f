#![doc = include_str!("../README.md")]

mod combs;
mod count;
mod expected;

pub use count::{Count, Event, Gone, Projected};
pub use expected::{BESIDE, LAST_DAY, expected, on};
