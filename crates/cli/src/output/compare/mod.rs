//! Two plans side by side: what has to be done otherwise by whoever holds the old one.

mod changes;
mod done;
mod draws;
mod headline;
mod read;
mod sheet;
mod stocked;
mod text;
mod words;

pub use changes::{About, Change, CompareReport, Named, compare};
pub use read::{SheetRead, read_sheet};
pub use sheet::Sheet;
pub use text::{markdown, table};
