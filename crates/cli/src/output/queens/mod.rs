//! Mated queens out of what stands: which goes where, when, and what to mind.

mod record;
mod words;

pub(super) use record::{alone, given, of_hive, queens};
pub(super) use words::{at_sites, cautions, estimate, lines, of, of_box, steps};
