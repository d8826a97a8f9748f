#![doc = include_str!("../README.md")]

mod combs;
mod count;
mod expected;
mod stand;

pub use count::{Change, Count, Event, Gone, Hung, Projected};
pub use expected::{BESIDE, Counts, LAST_DAY, expected, laying, on, stands};
pub use stand::{Stand, glance};
