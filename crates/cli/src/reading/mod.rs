//! What scenarios and plans share in being read: YAML to a tree with places, tables of fields,
//! and findings that are collected, never thrown.

mod combs;
mod cx;
mod exact;
mod fields;
mod finding;
mod grid;
mod names;
mod text;
mod tree;
mod values;

pub use finding::{CODES, Finding, Severity};

pub(crate) use combs::{Combs, Counted, combs};
pub(crate) use cx::{Cx, Map, describe, word};
pub(crate) use exact::Exact;
pub(crate) use fields::{Field, Kind, Section, section};
pub(crate) use finding::{escaped, plain};
pub(crate) use grid::{Cell, each_row, too_wide};
pub(crate) use names::{Names, near};
pub(crate) use text::{amount, factor, form, great_circle, in_thousands, number, pattern, split};
pub(crate) use tree::{At, MOST_BYTES, Node, Value, parse, source};
pub(crate) use values::FEWEST_BARE;
