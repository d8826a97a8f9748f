//! What the page asks.

use serde::Deserialize;

/// What is tried: changes of the file, and the plan that is loaded.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct State {
    /// Each `PATH=VALUE`, as `probe --set` takes it.
    #[serde(default)]
    pub sets: Vec<String>,
    /// The plan that work began by.
    #[serde(default)]
    pub near: Option<String>,
}

/// A question about what is tried.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Ask {
    /// Which page asks.
    #[serde(default)]
    pub page: String,
    /// Its questions are numbered; an older one is not wanted any more.
    #[serde(default)]
    pub number: u64,
    #[serde(default)]
    pub state: State,
    /// What was tried before, to say what the change did.
    #[serde(default)]
    pub before: Option<State>,
    /// The colony that is open, by its place in the scenario from 0.
    #[serde(default)]
    pub open: Option<usize>,
    /// What is finished.
    #[serde(default)]
    pub finish: Option<Finish>,
    /// What the file held when it was read, by its digest.
    #[serde(default)]
    pub file: String,
}

/// A colony or a compartment that is finished, by its place in the scenario, or its number on the page.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Finish {
    Colony(usize),
    Compartment(usize),
}
