//! The independent check: a valid plan, and for each rule plans that break only that rule.

mod bees;
mod cells;
mod done;
mod goals;
mod limits;
mod placed;
#[allow(dead_code, reason = "other tests use the rest")]
#[path = "../support/plain.rs"]
mod plain;
mod ride;
mod standing;
mod validate;
mod wild;
mod words;
mod yard;
