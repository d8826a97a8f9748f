//! Scenarios, tables and schemas, read and written without the command.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

mod done;
mod findings;
mod inspect_counts;
#[path = "../support/inspect.rs"]
mod inspect_support;
mod inspect_table;
mod inspect_text;
mod lead_on;
mod look;
mod mistakes;
mod onward;
mod queens;
mod read;
mod schema;
mod season;
mod standing;
mod values;
mod versions;
mod weeks;
