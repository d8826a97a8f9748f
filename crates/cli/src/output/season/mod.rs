//! The season: one record, one writer for each format.

mod binds;
mod build;
mod courses;
mod csv;
mod dates;
mod markdown;
mod report;
mod table;
mod weeks;
mod words;

pub(crate) use build::{Found, build};
pub use csv::csv;
pub use dates::ics;
pub use markdown::markdown;
pub use report::{
    AgainstReport, AutumnReport, BoxesReport, CourseReport, DrawReport, HeadlineReport, KindCount,
    QueensReport, RoundReport, SeasonReport, UnitsReport, WantReport, WeakReport,
};
pub use table::table;
