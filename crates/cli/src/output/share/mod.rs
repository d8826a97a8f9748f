//! What is handed on: a page with everything in it, a table for spreadsheets, dates for a calendar.

mod csv;
mod dates;
mod drawing;
mod embed;
mod page;
mod view;

pub use csv::csv;
pub(crate) use csv::defused;
pub use dates::ics;
pub use page::{Shared, html};
