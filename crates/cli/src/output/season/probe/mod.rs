//! Alternatives of a season beside the season as it is.

mod record;
mod words;
mod write;

pub use record::{ProbeSeason, SeasonDifference, SeasonRow};
pub(crate) use record::{build, row, without};
pub use write::{markdown, table};
