//! Two plans side by side: what someone who holds the old one must do differently.

mod changes;
mod done;
mod draws;
mod headline;
mod stocked;
mod text;
mod words;

pub use changes::{About, Change, CompareReport, Named, compare};
pub use text::{markdown, table};
