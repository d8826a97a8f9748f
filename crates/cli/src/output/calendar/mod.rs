//! The calendar of a plan: `build` makes its record, and there is a writer for each format.

mod build;
mod conflicts;
mod entries;
mod feed;
mod markdown;
mod queens;
mod record;
mod shift;
mod table;
mod ways;
pub(super) mod words;

pub(super) use words::{long_day, written};

pub use build::build;
pub(super) use build::{MATED_QUEENS, RIPE_CELLS, cells_in, day_conflicts, first_look, keeps};
pub use markdown::markdown;
pub use record::*;
pub use shift::shifted;
pub use table::table;
