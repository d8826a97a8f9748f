//! Alternatives beside the plan as it is.

mod markdown;
mod report;
mod table;
mod words;

pub use markdown::markdown;
pub use report::{
    ColonyChange, Difference, Draws, FORMAT_VERSION, KindCount, ProbeReport, Row, Taken, build, row,
};
pub(super) use table::named;
pub use table::table;
pub(crate) use words::notes as changes;
