//! What holds a season back: one record, one writer for each format.

mod build;
mod record;
mod words;
mod write;

pub(crate) use build::{Holds, Total, Tried, Why, why};
pub use record::{ColonyHolds, TotalWhy, TriedReport, WantWhy, WhySeason};
pub use write::{markdown, table};
