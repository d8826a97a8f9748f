//! Stocking on later days: one record, one writer for each format.

mod csv;
mod markdown;
mod report;
mod table;
mod words;

pub use csv::csv;
pub use markdown::markdown;
pub use report::{Day, DayReport, WhenReport, build};
pub use table::table;
