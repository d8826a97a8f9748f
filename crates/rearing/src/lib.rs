#![doc = include_str!("../README.md")]

mod chance;
mod conflict;
pub mod feed;
mod interval;
mod queens;
mod success;
mod timeline;

pub use chance::{mated, quantile, together};
pub use conflict::{Conflict, conflicts, lost_too_soon};
pub use interval::{INTERVALS, Interval, IntervalId, Intervals, Published, Status};
pub use queens::{Allotted, Requeened, Wanted, allot, of_age};
pub use success::{Introduction, Success, acceptance, attendants_to_eggs, success};
pub use timeline::{Given, Known, MOST_LARVA_HOURS, Reared, Span, Timeline, timeline};
