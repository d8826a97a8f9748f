//! The time limit of a whole command, however many searches it makes.

use std::time::{Duration, Instant};

/// When to stop; never, without a limit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limit(Option<Instant>);

impl Limit {
    /// So long from now.
    pub(super) fn of(limit: Option<Duration>) -> Self {
        Self(limit.and_then(|limit| Instant::now().checked_add(limit)))
    }

    /// What is left for the next search.
    pub(super) fn left(self) -> Option<Duration> {
        self.0
            .map(|until| until.saturating_duration_since(Instant::now()))
    }
}
