//! A folder of files, written whole or not at all.

use super::Stop;
use std::fs;
use std::io;
use std::path::Path;
use tempfile::TempDir;

/// Refuses early where [`write`] would refuse.
pub(super) fn may_write(to: &Path, force: bool) -> Result<(), Stop> {
    match to.symlink_metadata() {
        Ok(facts) if !facts.is_dir() => Err(Stop::Said(format!(
            "cannot write {}: it is not a folder",
            to.display()
        ))),
        Ok(_) if !force => Err(Stop::Said(format!(
            "{} exists; --force replaces the files that share writes in it",
            to.display()
        ))),
        _ => Ok(()),
    }
}

/// Writes all files or none, and takes those away that are `gone`. Files of other names in an existing folder
/// stay as they are.
pub(super) fn write(
    to: &Path,
    files: &[(&str, String)],
    gone: &[&str],
    force: bool,
) -> Result<(), Stop> {
    may_write(to, force)?;
    let failed = |e: io::Error| Stop::Said(format!("cannot write {}: {e}", to.display()));
    let beside = beside(to).map_err(failed)?;
    let new = beside.path().join("new");
    fs::create_dir(&new).map_err(failed)?;
    for (name, text) in files {
        fs::write(new.join(name), text).map_err(failed)?;
    }
    if !to.exists() {
        return fs::rename(&new, to).map_err(failed);
    }
    let mut moved = Vec::new();
    for (name, _) in files {
        if let Err(error) = replace(&new, to, beside.path(), name) {
            undo(to, beside.path(), &moved);
            return Err(failed(error));
        }
        moved.push(*name);
    }
    for name in gone {
        let (target, old) = (to.join(name), beside.path().join(name));
        let there = target.symlink_metadata().is_ok_and(|facts| !facts.is_dir());
        if !there {
            continue;
        }
        if let Err(error) = fs::rename(&target, &old) {
            undo(to, beside.path(), &moved);
            return Err(failed(error));
        }
        moved.push(*name);
    }
    Ok(())
}

/// A folder for the work, on the same disk; it goes when it is dropped.
fn beside(to: &Path) -> io::Result<TempDir> {
    let parent = to.parent().filter(|parent| !parent.as_os_str().is_empty());
    tempfile::Builder::new()
        .prefix(".spareframe-")
        .tempdir_in(parent.unwrap_or_else(|| Path::new(".")))
}

/// Puts a new file in its place and the old one aside.
fn replace(new: &Path, to: &Path, aside: &Path, name: &str) -> io::Result<()> {
    let (target, old) = (to.join(name), aside.join(name));
    match target.symlink_metadata() {
        Ok(facts) if facts.is_dir() => {
            return Err(io::Error::other(format!("{name} is a folder")));
        }
        Ok(_) => fs::rename(&target, &old)?,
        Err(_) => {}
    }
    let placed = fs::rename(new.join(name), &target);
    if placed.is_err() && old.exists() {
        let _ = fs::rename(&old, &target);
    }
    placed
}

/// Puts back what stood there before.
fn undo(to: &Path, aside: &Path, moved: &[&str]) {
    for name in moved {
        let (target, old) = (to.join(name), aside.join(name));
        let _ = match old.symlink_metadata() {
            Ok(_) => fs::rename(&old, &target),
            Err(_) => fs::remove_file(&target),
        };
    }
}
