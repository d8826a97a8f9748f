//! A scenario held against other runs while it is changed.

use super::ended::Stop;
use super::files::label;
use super::whole::folder_of;
use std::fs::{File, TryLockError};
use std::path::Path;
use std::time::Duration;

/// How often, and for how long each time, a run waits for another that changes the same scenario (a choice: ten
/// seconds in all; a run takes far less than one).
const WAITS: (u32, Duration) = (200, Duration::from_millis(50));

/// Holds the folder of a scenario against other runs, until it is dropped. Where a folder cannot be held, the
/// comparison before writing is all there is.
pub(super) fn held(scenario: &Path) -> Result<Option<File>, Stop> {
    let real = scenario.canonicalize();
    let Ok(folder) = File::open(folder_of(real.as_deref().unwrap_or(scenario))) else {
        return Ok(None);
    };
    for _ in 0..WAITS.0 {
        match folder.try_lock() {
            Err(TryLockError::WouldBlock) => std::thread::sleep(WAITS.1),
            Ok(()) | Err(TryLockError::Error(_)) => return Ok(Some(folder)),
        }
    }
    Err(Stop::Said(format!(
        "{} is being changed by another run; try again when it is done",
        label(scenario)
    )))
}
