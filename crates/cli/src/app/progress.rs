//! What whoever watches a long search sees of it.

use super::detail::Detail;
use indicatif::ProgressBar;
use spareframe_solver::{Progress, Reached};
use std::io::IsTerminal;
use std::sync::mpsc::{self, RecvTimeoutError};
use std::time::Duration;

/// A wait shorter than this needs no note (a choice).
const PATIENCE: Duration = Duration::from_secs(1);
/// How often the figures are renewed (a choice).
const RENEWED: Duration = Duration::from_millis(200);

/// Does the work; if it takes long and a person watches, says on stderr how far it has come, and takes that
/// away at the end.
pub(super) fn with_progress<T>(detail: Detail, work: impl FnOnce(Option<&Progress>) -> T) -> T {
    if detail == Detail::Quiet || !std::io::stderr().is_terminal() {
        return work(None);
    }
    let progress = &Progress::default();
    let (done, wait) = mpsc::channel::<()>();
    std::thread::scope(|scope| {
        scope.spawn(move || {
            let goes_on = |long| wait.recv_timeout(long) == Err(RecvTimeoutError::Timeout);
            if !goes_on(PATIENCE) {
                return;
            }
            let shown = ProgressBar::new_spinner();
            loop {
                shown.set_message(so_far(&progress.reached()));
                shown.tick();
                if !goes_on(RENEWED) {
                    break shown.finish_and_clear();
                }
            }
        });
        let result = work(Some(progress));
        drop(done);
        result
    })
}

fn so_far(reached: &Reached) -> String {
    let mut text = "looking for the best plan".to_owned();
    if let (Some((worth, cost)), Some(most)) = (reached.best, reached.most) {
        let [worth, most] = [worth, most].map(|worth| worth.0 as f64 / 1000.0);
        text += &match worth < most {
            true => format!(": worth {worth} so far, {most} at most"),
            false => format!(
                ": worth {worth}, the most there is; cost {} g so far",
                cost.0
            ),
        };
        if let Some(least) = reached.least.filter(|_| worth >= most) {
            text += &format!(", at least {} g", least.0);
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use spareframe_solver::{Grams, Worth};

    #[test]
    fn what_is_reached_is_said_beside_what_may_be() {
        let mut reached = Reached::default();
        assert_eq!(so_far(&reached), "looking for the best plan");
        reached.best = Some((Worth(9_500), Grams(5_413)));
        reached.most = Some(Worth(10_000));
        let open = "looking for the best plan: worth 9.5 so far, 10 at most";
        assert_eq!(so_far(&reached), open);
        reached.most = Some(Worth(9_500));
        reached.least = Some(Grams(5_360));
        let settled = ": worth 9.5, the most there is; cost 5413 g so far, at least 5360 g";
        assert!(so_far(&reached).ends_with(settled));
    }
}
