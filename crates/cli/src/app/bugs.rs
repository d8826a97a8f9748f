//! Panics: those that the solver crate catches stay silent, all others are bugs of ours and say
//! so.

use super::{Exit, note};
use crate::reading::plain;
use std::panic::{self, AssertUnwindSafe, PanicHookInfo};
use std::process::ExitCode;
use std::sync::atomic::{AtomicBool, Ordering};

/// Libraries below the solver that may panic within a search; the solver crate catches that
/// and goes another way. Their files lie in a folder of this name.
const ENGINES: [&str; 2] = ["microlp", "clarabel"];

/// Runs the program so that no panic ends without a word to the user: what is not caught further
/// in ends with a request to report it and exit code 2.
pub fn guarded(run: impl FnOnce() -> ExitCode) -> ExitCode {
    static SAID: AtomicBool = AtomicBool::new(false);
    panic::set_hook(Box::new(|info| {
        let file = info.location().map_or("", |l| l.file());
        if !engine(file) {
            note(&report(&what(info)));
            SAID.store(true, Ordering::Relaxed);
        }
    }));
    // Nothing of the run is used afterwards.
    panic::catch_unwind(AssertUnwindSafe(run)).unwrap_or_else(|_| {
        if !SAID.load(Ordering::Relaxed) {
            note(&report("a library below the solver gave up"));
        }
        Exit::Bad.into()
    })
}

fn engine(file: &str) -> bool {
    ENGINES.iter().any(|name| file.contains(name))
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
    fn a_panic_of_an_engine_is_silent_and_one_of_ours_is_not() {
        assert!(engine(
            "/home/a/.cargo/registry/src/x/microlp-0.6.0/src/solver.rs"
        ));
        assert!(engine("C:\\cargo\\clarabel-0.11.1\\src\\lib.rs"));
        assert!(!engine("crates/solver/src/solve/search.rs"));
    }

    #[test]
    fn an_uncaught_panic_is_exit_code_2() {
        let code = guarded(|| panic!("provoked by a test"));
        let _ = panic::take_hook();
        assert_eq!(format!("{code:?}"), format!("{:?}", ExitCode::from(2)));
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
