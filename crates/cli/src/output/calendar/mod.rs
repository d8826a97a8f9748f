//! The calendar of a plan: its record, and the writers of it.

mod record;

pub use record::*;
