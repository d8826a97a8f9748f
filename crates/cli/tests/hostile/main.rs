//! Input that is broken or made to harm.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

mod files;
