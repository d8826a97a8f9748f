//! Two plans side by side: what someone who holds the old one must do differently.

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
