//! Plans for people and programs: one report record, one writer for each format.

mod build;
pub mod calendar;
mod carry;
mod cautions;
pub mod compare;
mod counted;
pub mod curve;
mod data;
mod done;
mod donors;
mod figures;
mod gaps;
mod hands;
mod headline;
mod held_back;
mod kept;
mod markdown;
mod next_cells;
mod page;
pub mod probe;
mod queens;
pub mod reasons;
mod report;
mod riding;
pub mod share;
pub mod standing;
mod stays;
mod steps;
mod stocked;
mod table;
pub mod when;
mod wishes;
mod words;
mod written;

pub(crate) use build::decimal;
pub use build::{Notes, at_most, build, done_alone};
pub use counted::{CountedOn, counted_on};
pub use data::{json, plan_schema, yaml};
pub use held_back::held_back_by;
pub use kept::keep_account;
pub use markdown::markdown;
pub use report::*;
pub use table::{TableOptions, table};
pub use written::{Dates, Format, Unwritten, Written};

use cautions::{assumptions, cautions};
