//! How a command ends, and what it says beside its answer.

use crate::output::{Answer, Report};
use std::io::{self, Write};
use std::process::ExitCode;

/// How a command ended. The codes are an interface.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Exit {
    /// Done: 0.
    Done,
    /// The answer is no, such as nothing to stock or a plan that breaks a rule: 1.
    No,
    /// Bad input, or a failure of ours: 2.
    Bad,
}

impl Exit {
    /// Of a plan: no where there is nothing to do by it, neither a compartment to stock nor a queen to carry.
    pub(super) fn of(report: &Report) -> Self {
        match report.headline.answer == Answer::Stocked || report.queens_today() {
            true => Self::Done,
            false => Self::No,
        }
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> Self {
        Self::from(match exit {
            Exit::Done => 0,
            Exit::No => 1,
            Exit::Bad => 2,
        })
    }
}

/// What stops a command before its answer.
#[derive(Debug, thiserror::Error)]
pub(super) enum Stop {
    /// Said in full here.
    #[error("{0}")]
    Said(String),
    /// Findings are already on stderr.
    #[error("")]
    Reported,
    /// The reader of our output is gone; not an error.
    #[error("")]
    ClosedPipe,
}

impl Stop {
    /// A failed write to stdout.
    pub(super) fn stdout(error: &io::Error) -> Self {
        if error.kind() == io::ErrorKind::BrokenPipe {
            Self::ClosedPipe
        } else {
            Self::Said(format!("cannot write to stdout: {error}"))
        }
    }
}

/// Columns of the terminal that stderr is; none elsewhere, so that the same input gives the same bytes.
pub(super) fn columns() -> Option<usize> {
    terminal_size::terminal_size_of(std::io::stderr()).map(|(width, _)| usize::from(width.0))
}

/// Writes a line to stderr. A closed stderr is not an error.
pub(super) fn note(text: &str) {
    let _ = writeln!(anstream::stderr().lock(), "{text}");
}
