#![doc = include_str!("../README.md")]

mod combs;
mod expected;

pub use expected::{BESIDE, LAST_DAY, expected};
