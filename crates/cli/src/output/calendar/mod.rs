//! The calendar of a plan: `build` makes its record, and there is a writer for each format.

mod build;
mod conflicts;
mod entries;
mod feed;
mod markdown;
mod record;
mod table;
pub(super) mod words;

pub use build::build;
pub(super) use build::first_look;
pub use markdown::markdown;
pub use record::*;
pub use table::table;
