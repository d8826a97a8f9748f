//! Stocking on later days: one record, one writer for each format.

mod csv;
mod markdown;
mod picture;
mod report;
mod svg;
mod table;
pub(super) mod words;

pub use csv::csv;
pub use markdown::markdown;
pub use report::{Day, DayReport, WhenReport, build};
pub(super) use svg::picture;
pub use svg::svg;
pub use table::table;
