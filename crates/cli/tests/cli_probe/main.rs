//! `probe` at the command line: alternatives, wishes, what is wrong, files and widths.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

mod alternatives;
#[path = "../cli_support/mod.rs"]
mod cli_support;
mod files;
mod support;
mod wishes;
mod wrong;
