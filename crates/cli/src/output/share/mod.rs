//! What is handed on: a page with everything in it, a table for spreadsheets, dates for a calendar.

mod comb;
mod csv;
mod dates;
mod embed;
mod hive;
mod label;
pub(crate) mod live;
mod mating;
mod names;
mod page;
mod picture;
mod ready;
mod sheet;
mod site;

pub use csv::csv;
pub(crate) use csv::defused;
pub(super) use dates::dated;
pub use dates::ics;
pub use page::{Shared, html};
pub(crate) use page::{parts, served};
pub use picture::svg;
