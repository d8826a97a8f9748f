//! What ends a whole command, however many searches it makes: its time limit, or that it is called off.

use spareframe_solver::SolveOptions;
use spareframe_solver::why::WhyOptions;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

/// When to stop; never, without a limit.
#[derive(Debug, Clone, Copy)]
pub(super) struct Limit<'a> {
    until: Option<Instant>,
    called_off: Option<&'a AtomicBool>,
}

impl<'a> Limit<'a> {
    /// So long from now.
    pub(super) fn of(limit: Option<Duration>) -> Self {
        Self {
            until: limit.and_then(|limit| Instant::now().checked_add(limit)),
            called_off: None,
        }
    }

    /// As a search ends that begins now.
    pub(super) fn under(options: &SolveOptions<'a>) -> Self {
        Self {
            called_off: options.cancel,
            ..Self::of(options.time_limit)
        }
    }

    /// The same, or as soon as it is called off.
    pub(super) fn or(self, called_off: &'a AtomicBool) -> Self {
        Self {
            called_off: Some(called_off),
            ..self
        }
    }

    /// The same, or so long from now where that is sooner.
    pub(super) fn at_most(self, limit: Duration) -> Self {
        let sooner = Self::of(Some(limit)).until;
        Self {
            until: self.until.into_iter().chain(sooner).min(),
            ..self
        }
    }

    /// What is left for the next search.
    fn left(self) -> Option<Duration> {
        let until = self.until?;
        Some(until.saturating_duration_since(Instant::now()))
    }

    /// The next search for a plan.
    pub(super) fn solving(self) -> SolveOptions<'a> {
        SolveOptions {
            time_limit: self.left(),
            cancel: self.called_off,
            ..SolveOptions::default()
        }
    }

    /// The next search for reasons.
    pub(super) fn explaining(self) -> WhyOptions<'a> {
        WhyOptions {
            time_limit: self.left(),
            cancel: self.called_off,
            ..WhyOptions::default()
        }
    }
}
