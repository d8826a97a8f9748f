//! Files that are there whole or not at all, also where the program is killed half way.
//!
//! A file is written under a name of its own beside its place, synced, and then put there in one step. What a killed
//! run leaves is held by nobody, and the next run that writes to the folder takes it away.

use std::fs::{self, File, Metadata, TryLockError};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use tempfile::{Builder, NamedTempFile, TempDir};

/// Names of what is not finished.
const BEGIN: &str = ".spareframe-";
const END: &str = ".tmp";
/// Most tries for a name (a choice: one is enough, but for a race).
const TRIES: usize = 100;

/// Puts a new file in its place.
///
/// # Errors
/// `AlreadyExists` where there is anything; that stays as it is.
pub(super) fn create(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = folder_of(path);
    let mut file = unfinished_file(&folder)?;
    fill(&mut file, bytes)?;
    file.persist_noclobber(path).map_err(|e| e.error)?;
    sync(&folder)
}

/// Puts a file in the place of another, with its owner and permissions; where a link stands, behind it.
pub(super) fn replace(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let path = &behind(path);
    let folder = folder_of(path);
    let mut file = unfinished_file(&folder)?;
    if let Ok(old) = path.metadata() {
        keep_owner(file.path(), &old);
        file.as_file().set_permissions(old.permissions())?;
    }
    fill(&mut file, bytes)?;
    file.persist(path).map_err(|e| e.error)?;
    sync(&folder)
}

/// What a link leads to, whether it is there or not; else the path itself.
fn behind(path: &Path) -> PathBuf {
    let led = || Some(folder_of(path).join(fs::read_link(path).ok()?));
    let real = fs::canonicalize(path).ok().or_else(led);
    real.unwrap_or_else(|| path.to_owned())
}

fn fill(file: &mut NamedTempFile, bytes: &[u8]) -> io::Result<()> {
    file.write_all(bytes)?;
    file.as_file().sync_all()
}

/// The folder that a path lies in.
pub(super) fn folder_of(path: &Path) -> PathBuf {
    let parent = path.parent().filter(|p| !p.as_os_str().is_empty());
    parent.unwrap_or_else(|| Path::new(".")).to_owned()
}

/// Sees to it that names in a folder outlast a loss of power, where the system can.
pub(super) fn sync(folder: &Path) -> io::Result<()> {
    match cfg!(unix) {
        true => File::open(folder)?.sync_all(),
        false => Ok(()),
    }
}

/// A folder for unfinished files in another one, held while it is used.
pub(super) struct Unfinished {
    pub(super) folder: TempDir,
    /// What keeps others from sweeping it away.
    #[allow(dead_code, reason = "it is held, not read")]
    pub(super) held: Option<File>,
}

pub(super) fn unfinished_folder(parent: &Path) -> io::Result<Unfinished> {
    sweep(parent);
    for _ in 0..TRIES {
        let made = Builder::new().prefix(BEGIN).suffix(END).tempdir_in(parent);
        let folder = made.map_err(plain)?;
        let held = File::open(folder.path()).ok();
        if ours(held.as_ref(), folder.path()) {
            return Ok(Unfinished { folder, held });
        }
    }
    Err(io::ErrorKind::ResourceBusy.into())
}

fn unfinished_file(folder: &Path) -> io::Result<NamedTempFile> {
    sweep(folder);
    let mut builder = Builder::new();
    builder.prefix(BEGIN).suffix(END);
    as_any_new_file(&mut builder);
    for _ in 0..TRIES {
        let file = builder.tempfile_in(folder).map_err(plain)?;
        if ours(Some(file.as_file()), file.path()) {
            return Ok(file);
        }
    }
    Err(io::ErrorKind::ResourceBusy.into())
}

/// Whether we hold what we made, and nobody has swept it away meanwhile. Where nothing can be held, nothing is swept.
fn ours(made: Option<&File>, path: &Path) -> bool {
    let busy = made.is_some_and(|file| matches!(file.try_lock(), Err(TryLockError::WouldBlock)));
    !busy && path.symlink_metadata().is_ok()
}

/// Takes away what killed runs have left in a folder.
fn sweep(folder: &Path) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    for entry in entries {
        let name = entry.file_name();
        let name = name.to_string_lossy();
        if !(name.starts_with(BEGIN) && name.ends_with(END)) {
            continue;
        }
        let path = entry.path();
        let is_link = entry.file_type().is_ok_and(|kind| kind.is_symlink());
        let Some(left) = File::open(&path).ok().filter(|_| !is_link) else {
            continue;
        };
        if left.try_lock().is_ok() {
            let _ = match left.metadata().is_ok_and(|facts| facts.is_dir()) {
                true => fs::remove_dir_all(&path),
                false => fs::remove_file(&path),
            };
        }
    }
}

/// An error without the name of the unfinished file, which nobody has typed.
fn plain(error: io::Error) -> io::Error {
    error.kind().into()
}

#[cfg(unix)]
fn as_any_new_file(builder: &mut Builder) {
    use std::os::unix::fs::PermissionsExt;
    builder.permissions(fs::Permissions::from_mode(0o666));
}

#[cfg(not(unix))]
fn as_any_new_file(_: &mut Builder) {}

/// As far as we may.
#[cfg(unix)]
fn keep_owner(path: &Path, old: &Metadata) {
    use std::os::unix::fs::{MetadataExt, chown};
    let _ = chown(path, Some(old.uid()), Some(old.gid()));
}

#[cfg(not(unix))]
fn keep_owner(_: &Path, _: &Metadata) {}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).unwrap();
        let names = entries.map(|entry| entry.unwrap().file_name());
        let mut names: Vec<String> = names.map(|name| name.into_string().unwrap()).collect();
        names.sort();
        names
    }

    #[test]
    fn what_a_killed_run_has_left_goes_with_the_next_one_and_what_is_held_stays() {
        let place = tempfile::tempdir().unwrap();
        let at = |name: &str| place.path().join(name);
        fs::write(at(".spareframe-a.tmp"), "half").unwrap();
        fs::create_dir_all(at(".spareframe-b.tmp/new")).unwrap();
        fs::write(at(".spareframe-mine"), "another name").unwrap();
        let held = unfinished_folder(place.path()).unwrap();
        create(&at("plan.yaml"), b"whole").unwrap();
        let its_own = held.folder.path().file_name().unwrap().to_str().unwrap();
        let mut left = vec![".spareframe-mine", its_own, "plan.yaml"];
        left.sort_unstable();
        assert_eq!(names(place.path()), left);
    }

    #[test]
    fn nothing_is_put_over_a_file_that_came_meanwhile() {
        let place = tempfile::tempdir().unwrap();
        let path = place.path().join("plan.yaml");
        fs::write(&path, "another's").unwrap();
        let error = create(&path, b"ours").unwrap_err();
        assert_eq!(error.kind(), io::ErrorKind::AlreadyExists);
        assert_eq!(fs::read_to_string(&path).unwrap(), "another's");
        assert_eq!(names(place.path()), ["plan.yaml"]);
    }
}
