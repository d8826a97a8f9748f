//! What the writers show of one plan, and what is read back of it.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

#[path = "../cli_support/mod.rs"]
mod cli_support;
mod hands;
mod headline;
mod read_back;
mod support;
