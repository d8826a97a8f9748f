//! The command line: what was typed, what is to be done, doing it, and the exit code.

mod answer;
mod args;
mod bugs;
mod calendar;
mod commands;
mod compare;
mod curve;
mod delivery;
mod desk;
mod detail;
mod ended;
mod files;
mod folder;
mod held;
mod inspect;
mod limit;
mod load;
mod near;
mod onward;
mod probe;
mod progress;
mod reply;
mod rounds;
mod saving;
mod season;
mod share;
mod standing;
mod stock;
mod table;
mod task;
mod tried;
mod verify;
mod what_if;
mod when;
mod whole;
mod why;

pub use bugs::guarded;

use crate::reading::escaped;
use args::Args;
use clap::Parser;
use clap::error::ContextValue;
use ended::{Exit, Stop, note};
use std::ffi::OsString;
use std::io::{self, Write};
use std::process::ExitCode;

/// Runs the command line in `args`, the program's name first.
///
/// Exit codes: 0 done, 1 the answer is no, 2 bad input or failure.
pub fn run(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    let args = match Args::try_parse_from(args) {
        Ok(args) => args,
        Err(error) => return ended(told(error)),
    };
    ended(task::Task::from_args(args).and_then(|task| commands::perform(&task)))
}

fn ended(result: Result<Exit, Stop>) -> ExitCode {
    match result {
        Ok(exit) => exit.into(),
        Err(Stop::ClosedPipe) => Exit::Done.into(),
        Err(Stop::Reported) => Exit::Bad.into(),
        Err(Stop::Said(text)) => {
            note(&format!("error: {text}"));
            Exit::Bad.into()
        }
    }
}

/// Help and version, which were asked for, or what is wrong with the command line.
fn told(mut error: clap::Error) -> Result<Exit, Stop> {
    let typed: Vec<_> = error
        .context()
        .filter_map(|(kind, value)| Some((kind, harmless(value)?)))
        .collect();
    for (kind, value) in typed {
        error.insert(kind, value);
    }
    let printed = error.print().and_then(|()| io::stdout().flush());
    if error.use_stderr() {
        return Ok(Exit::Bad);
    }
    printed
        .map(|()| Exit::Done)
        .map_err(|error| Stop::stdout(&error))
}

/// What was typed, so that nothing in it steers a terminal.
fn harmless(value: &ContextValue) -> Option<ContextValue> {
    match value {
        ContextValue::String(text) => Some(ContextValue::String(escaped(text))),
        ContextValue::Strings(list) => {
            let list = list.iter().map(|text| escaped(text));
            Some(ContextValue::Strings(list.collect()))
        }
        _ => None,
    }
}
