//! What stands in boxes: how its queen is, and what is next. `record` is the record, `build` fills it in with `next`, what
//! is to be done; `table`, `markdown` and `csv` write it, with `words`.

mod build;
mod csv;
mod markdown;
mod next;
mod record;
mod table;
mod words;

pub use build::build;
pub use csv::csv;
pub use markdown::markdown;
pub use record::{CompartmentStanding, NextReport, SoFar, StandingReport};
pub use table::table;
