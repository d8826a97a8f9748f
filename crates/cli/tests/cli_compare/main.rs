//! `compare`: each kind of change by its own line, and files that cannot be read.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

mod changes;
#[path = "../cli_support/mod.rs"]
mod cli_support;
mod figures;
mod files;
mod support;
