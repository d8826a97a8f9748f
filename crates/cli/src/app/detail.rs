//! How much is said beside the answer.

use super::args::{Quiet, Said};

/// Notes on stderr and extras in the plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Detail {
    Quiet,
    Normal,
    Verbose,
}

impl From<&Said> for Detail {
    fn from(said: &Said) -> Self {
        match said.verbose {
            true => Self::Verbose,
            false => Self::from(&said.quiet),
        }
    }
}

impl From<&Quiet> for Detail {
    fn from(said: &Quiet) -> Self {
        match said.quiet {
            true => Self::Quiet,
            false => Self::Normal,
        }
    }
}
