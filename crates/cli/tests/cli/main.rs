//! The command, run as a person runs it: exit code, stdout and stderr.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

mod boxes;
mod calendar;
mod commands;
mod compare;
mod curve;
mod curve_picture;
mod days;
mod desk;
mod done;
mod done_table;
mod inspect;
#[path = "../support/inspect.rs"]
mod inspect_support;
mod lead_on;
mod legible;
mod near;
mod onward;
mod out;
mod page;
mod plan_picture;
mod plan_text;
mod probe;
mod probe_edits;
mod probe_samples;
mod queens;
mod season;
mod season_near;
mod season_page;
mod season_why;
mod share;
mod standing;
mod stock;
mod support;
mod weeks;
mod when;
mod why;
