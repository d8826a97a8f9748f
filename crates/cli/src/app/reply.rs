//! What the page on the desk is told.

use crate::desk::{Did, Line};
use crate::reading::{Finding, plain};
use serde::Serialize;
use std::collections::BTreeMap;

/// What the page is told.
#[derive(Serialize)]
#[serde(untagged)]
pub(super) enum Reply {
    /// A newer question has come.
    Stale {
        stale: bool,
    },
    /// Something is wrong with what is tried, or with the file.
    Wrong {
        wrong: Vec<String>,
    },
    Shown(Box<Shown>),
    /// Changes that say that something is finished.
    Finished {
        sets: Vec<String>,
        said: String,
    },
    /// The plan, to stay near to.
    Plan {
        plan: String,
    },
    Lines {
        lines: Vec<Line>,
        file: String,
    },
    Saved {
        saved: bool,
        stays: Vec<String>,
    },
}

#[derive(Serialize, Default)]
pub(super) struct Shown {
    pub(super) number: u64,
    pub(super) parts: BTreeMap<&'static str, String>,
    pub(super) did: Option<Did>,
    pub(super) verdict: Option<(String, bool)>,
    /// Nothing better is left to be found.
    pub(super) proved: bool,
    /// The file is no longer what was read.
    pub(super) outside: bool,
}

pub(super) const STALE: Reply = Reply::Stale { stale: true };

pub(super) fn wrong(text: impl Into<String>) -> Reply {
    let wrong = vec![text.into()];
    Reply::Wrong { wrong }
}

impl Reply {
    pub(super) fn said(&self) -> String {
        match self {
            Self::Wrong { wrong } => wrong.join("\n"),
            _ => String::new(),
        }
    }
}

/// A finding as a sentence.
pub(super) fn sentence(finding: &Finding) -> String {
    plain(&format!(
        "Found {}, expected {}: {}.",
        finding.found, finding.expected, finding.way_out
    ))
}
