//! Reading a scenario file: YAML to a solver value, with every finding at once.

mod cx;
mod finding;
mod parts;
mod recipes;
mod tables;
mod text;
mod tree;
mod whole;

pub use finding::{CODES, Finding, Severity};
pub use tables::{reference_markdown, schema};

/// A scenario ready to solve.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Loaded {
    /// What the solver takes.
    pub scenario: spareframe_solver::Scenario,
    /// The stocking day, if given.
    pub day: Option<jiff::civil::Date>,
    /// The title, if given.
    pub title: Option<String>,
}

/// What came of reading a file.
#[derive(Debug, Clone)]
pub struct Read {
    /// The scenario, unless there is an error among the findings.
    pub loaded: Option<Loaded>,
    /// Errors and warnings in the order of the file.
    pub findings: Vec<Finding>,
}

/// Reads a scenario; `path_label` names the file in findings.
#[must_use]
pub fn read(path_label: &str, bytes: &[u8]) -> Read {
    let mut cx = cx::Cx::new(path_label);
    let loaded = tree::source(&mut cx, bytes)
        .and_then(|text| tree::parse(&mut cx, text))
        .and_then(|root| whole::convert(&mut cx, &root));
    let mut findings = cx.findings;
    findings.sort_by_key(|f| f.span.start);
    let failed = findings.iter().any(|f| f.severity == Severity::Error);
    Read {
        loaded: if failed { None } else { loaded },
        findings,
    }
}

/// A commented scenario to start from.
#[must_use]
pub fn starter() -> &'static str {
    include_str!("starter.yaml")
}
