//! The season: one record, one writer for each format.

mod binds;
mod build;
mod courses;
mod csv;
mod dates;
pub(super) mod lanes;
mod markdown;
mod near;
mod page;
pub mod probe;
mod report;
mod rounds;
mod svg;
mod table;
mod weeks;
pub mod why;
mod words;

pub(crate) use build::{Found, build};
pub use csv::csv;
pub(super) use dates::after_today;
pub use dates::ics;
pub use markdown::markdown;
pub use near::{NearReport, OtherGift, OtherRound, OtherWant};
pub(super) use page::{SeasonView, view};
pub use report::{
    AgainstReport, AutumnReport, BoxesReport, CourseReport, DrawReport, HeadlineReport, KindCount,
    QueensReport, RoundReport, SeasonReport, UnitsReport, WantReport, WeakReport,
};
pub use svg::svg;
pub use table::table;
pub use why::WhySeason;
pub(crate) use why::{Holds, Total, Tried, Why, why};
