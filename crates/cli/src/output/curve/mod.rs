//! The curve of cost against compartments: one record, one writer for each format.

mod chart;
mod csv;
mod markdown;
mod picture;
mod report;
mod rows;
mod svg;
mod table;
mod words;

pub use csv::csv;
pub use markdown::markdown;
pub use report::{CountedIn, CurveReport, KindCount, PointReport, StepReport, build};
pub(super) use rows::{Cells, cells};
pub(super) use svg::picture;
pub use svg::svg;
pub use table::table;
pub(super) use words::{sentences, subject};
