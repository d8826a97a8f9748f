//! Plans read back: against their scenario, against one that has changed since, or by their own names; from YAML, JSON, or
//! the page that holds one.

mod earlier;
mod fields;
mod file;
mod own;
mod page;
mod sheet;

pub use earlier::{Earlier, EarlierRead, read_earlier};
pub use file::{PlanRead, Stated, day_of, read_plan};
pub use own::{SheetRead, read_sheet};
pub use page::{plan_of, read_back};
pub use sheet::Sheet;
pub(crate) use sheet::{Bees, Brought, Draw, Frames, Slot, Stocked};
