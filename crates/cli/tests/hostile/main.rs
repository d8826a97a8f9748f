//! Input that is broken or made to harm, and a system that fails.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

mod extremes;
mod files;
#[cfg(unix)]
mod names;
mod support;
#[cfg(unix)]
mod writes;
