#![doc = include_str!("../README.md")]

mod conflict;
pub mod feed;
mod interval;
mod success;
mod timeline;

pub use conflict::{Conflict, conflicts, lost_too_soon};
pub use interval::{INTERVALS, Interval, IntervalId, Intervals, Published, Status};
pub use success::{Success, attendants_to_eggs, success};
pub use timeline::{Given, Known, MOST_LARVA_HOURS, Reared, Span, Timeline, timeline};
