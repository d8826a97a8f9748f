//! Panics: one that is caught further in stays silent, as the solver crate catches those of its
//! engines and goes another way. All others are bugs of ours and say so.

use super::ended::{Exit, note};
use crate::reading::plain;
use std::panic::{self, AssertUnwindSafe, PanicHookInfo};
use std::process::ExitCode;
use std::sync::{Mutex, PoisonError};

/// What the last panic said.
static LAST: Mutex<Option<String>> = Mutex::new(None);

/// Runs the program so that no panic ends without a word to the user: what is not caught further
/// in ends with a request to report it and exit code 2.
pub fn guarded(run: impl FnOnce() -> ExitCode) -> ExitCode {
    let last = || LAST.lock().unwrap_or_else(PoisonError::into_inner);
    panic::set_hook(Box::new(move |info| *last() = Some(what(info))));
    // Nothing of the run is used afterwards.
    panic::catch_unwind(AssertUnwindSafe(run)).unwrap_or_else(|_| {
        let said = last().take();
        note(&report(said.as_deref().unwrap_or("no message")));
        Exit::Bad.into()
    })
}

fn what(info: &PanicHookInfo) -> String {
    let payload = info.payload();
    let text = payload
        .downcast_ref::<&str>()
        .map(|s| (*s).to_owned())
        .or_else(|| payload.downcast_ref::<String>().cloned());
    let text = text.unwrap_or_else(|| "no message".to_owned());
    match info.location() {
        Some(at) => format!("{text} ({at})"),
        None => text,
    }
}

/// The request to report a bug. `what` happened may hold text of a file.
pub(super) fn report(what: &str) -> String {
    format!(
        "error: this is a bug of Spareframe, not of your input: {}\nPlease send us the files, the \
         command, this message and the version ({}).",
        plain(what),
        env!("CARGO_PKG_VERSION")
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_panic_that_nobody_catches_is_exit_code_2() {
        let shown = |code: ExitCode| format!("{code:?}");
        let caught = guarded(|| {
            let engine = panic::catch_unwind(|| panic!("an engine gave up"));
            ExitCode::from(u8::from(engine.is_ok()))
        });
        let uncaught = guarded(|| panic!("provoked by a test"));
        let _ = panic::take_hook();
        assert_eq!(shown(caught), shown(ExitCode::SUCCESS));
        assert_eq!(shown(uncaught), shown(ExitCode::from(2)));
        assert_eq!(*LAST.lock().unwrap(), None);
    }

    #[test]
    fn the_request_names_the_version_and_hides_escapes() {
        let text = report("index 3\u{1b}[31m");
        assert!(
            text.contains(env!("CARGO_PKG_VERSION")) && text.contains("index 3?[31m"),
            "{text}"
        );
    }
}
