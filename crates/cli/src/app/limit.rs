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

    /// The same, or so long from now where that is sooner.
    pub(super) fn at_most(self, limit: Duration) -> Self {
        Self(self.0.into_iter().chain(Self::of(Some(limit)).0).min())
    }

    /// What is left for the next search.
    pub(super) fn left(self) -> Option<Duration> {
        self.0
            .map(|until| until.saturating_duration_since(Instant::now()))
    }
}
