//! The independent check: a valid plan, and for each rule plans that break only that rule.

mod bees;
mod done;
mod goals;
mod limits;
mod placed;
mod ride;
mod validate;
mod wild;
mod words;
mod yard;
