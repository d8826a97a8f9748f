//! A folder of files: all of them or none, also where the program is killed half way.
//!
//! Where files are replaced, those that were there before are kept in a folder beside them until all new ones are in
//! place. A run that finds that folder puts them back: the one that made it came to no end.

use super::ended::Stop;
use super::files::{has_folder, label};
use super::whole::{Unfinished, folder_of, sync, unfinished_folder};
use std::fs::{self, File, TryLockError};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Where the files of before are while new ones take their places.
const BEFORE: &str = ".spareframe-before";

/// What a folder is to hold.
pub(super) struct Files<'a> {
    /// Names and texts.
    pub(super) new: &'a [(&'a str, String)],
    /// Names of files that may be there from before, and are not to stay.
    pub(super) gone: &'a [&'a str],
}

impl Files<'_> {
    /// The names of all that is written or taken away.
    fn names(&self) -> impl Iterator<Item = &str> {
        let new = self.new.iter().map(|(name, _)| *name);
        new.chain(self.gone.iter().copied())
    }
}

/// Refuses early where [`write`] would refuse.
pub(super) fn may_write(to: &Path, force: bool) -> Result<(), Stop> {
    let said = |text: String| Err(Stop::Said(text));
    match to.symlink_metadata() {
        Ok(facts) if !facts.is_dir() => {
            said(format!("cannot write {}: it is not a folder", label(to)))
        }
        Ok(_) if !force && to.join(BEFORE).exists() => said(format!(
            "{} was left half written; --force puts back what was there, then replaces the files that share \
             writes in it",
            label(to)
        )),
        Ok(_) if !force => said(format!(
            "{} exists; --force replaces the files that share writes in it",
            label(to)
        )),
        Ok(_) => Ok(()),
        Err(_) => has_folder(to),
    }
}

/// Writes all files or none. Files of other names in an existing folder stay as they are.
pub(super) fn write(to: &Path, files: &Files, force: bool) -> Result<(), Stop> {
    may_write(to, force)?;
    let failed = |e: io::Error| Stop::Said(format!("cannot write {}: {e}", label(to)));
    if !to.exists() {
        return create(to, files).map_err(failed);
    }
    let held = File::open(to).map_err(failed)?;
    if let Err(TryLockError::WouldBlock) = held.try_lock() {
        return Err(Stop::Said(format!(
            "{} is being written by another run; try again when it is done",
            label(to)
        )));
    }
    put_back(to, files).map_err(failed)?;
    let work = unfinished_folder(to).map_err(failed)?;
    let steps = steps(to, files, &work).map_err(failed)?;
    for step in &steps {
        if let Err(error) = step.take() {
            let _ = put_back(to, files);
            return Err(failed(error));
        }
    }
    Ok(())
}

/// A new folder, whole before it gets its name.
fn create(to: &Path, files: &Files) -> io::Result<()> {
    let parent = folder_of(to);
    let work = unfinished_folder(&parent)?;
    let new = fill(&work, files)?;
    fs::rename(new, to)?;
    sync(&parent)
}

/// The new files in a folder of their own.
fn fill(work: &Unfinished, files: &Files) -> io::Result<PathBuf> {
    let new = work.folder.path().join("new");
    fs::create_dir(&new)?;
    for (name, text) in files.new {
        let mut file = File::create_new(new.join(name))?;
        file.write_all(text.as_bytes())?;
        file.sync_all()?;
    }
    sync(&new)?;
    Ok(new)
}

/// One change to a folder that happens or does not.
#[derive(Debug)]
enum Step {
    Move(PathBuf, PathBuf),
    Remove(PathBuf),
    Sync(PathBuf),
}

impl Step {
    fn take(&self) -> io::Result<()> {
        match self {
            Self::Move(from, to) => fs::rename(from, to),
            Self::Remove(path) => fs::remove_file(path),
            Self::Sync(folder) => sync(folder),
        }
    }
}

/// How new files take the places of old ones, the latter kept until the last is in place.
fn steps(to: &Path, files: &Files, work: &Unfinished) -> io::Result<Vec<Step>> {
    let new = fill(work, files)?;
    let work = work.folder.path();
    let before = work.join("before");
    fs::create_dir(&before)?;
    let mut there = Vec::new();
    for name in files.names() {
        let path = to.join(name);
        match path.symlink_metadata() {
            Ok(facts) if facts.is_dir() => {
                return Err(io::Error::other(format!("{name} is a folder")));
            }
            Ok(_) => {
                second(&path, &before.join(name))?;
                there.push(name);
            }
            Err(_) => {}
        }
    }
    sync(&before)?;
    let mut steps = vec![
        Step::Move(before, to.join(BEFORE)),
        Step::Sync(to.to_owned()),
    ];
    let moves = files.new.iter().map(|(name, _)| name);
    steps.extend(moves.map(|name| Step::Move(new.join(name), to.join(name))));
    let gone = files.gone.iter().filter(|name| there.contains(name));
    steps.extend(gone.map(|name| Step::Remove(to.join(name))));
    steps.push(Step::Sync(to.to_owned()));
    steps.push(Step::Move(to.join(BEFORE), work.join("done")));
    steps.push(Step::Sync(to.to_owned()));
    Ok(steps)
}

/// A second name for a file; a copy where the disk knows no such thing.
fn second(path: &Path, name: &Path) -> io::Result<()> {
    match fs::hard_link(path, name) {
        Ok(()) => Ok(()),
        Err(_) => fs::copy(path, name).and_then(|_| File::open(name)?.sync_all()),
    }
}

/// Puts back what stood there before a run that came to no end; to be stopped anywhere, and begun anew.
fn put_back(to: &Path, files: &Files) -> io::Result<()> {
    let before = to.join(BEFORE);
    if !before.exists() {
        return Ok(());
    }
    let work = unfinished_folder(to)?;
    for name in files.names() {
        let (old, path) = (before.join(name), to.join(name));
        if old.symlink_metadata().is_ok() {
            let again = work.folder.path().join(name);
            second(&old, &again)?;
            fs::rename(again, path)?;
        } else if path.symlink_metadata().is_ok() {
            fs::remove_file(path)?;
        }
    }
    sync(to)?;
    fs::rename(before, work.folder.path().join("done"))?;
    sync(to)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    fn texts(folder: &Path) -> BTreeMap<String, String> {
        let entries = fs::read_dir(folder).unwrap().map(Result::unwrap);
        let file = |entry: fs::DirEntry| {
            let name = entry.file_name().into_string().unwrap();
            (name, fs::read_to_string(entry.path()).unwrap())
        };
        entries.map(file).collect()
    }

    fn map(files: &[(&str, &str)]) -> BTreeMap<String, String> {
        let owned = |(name, text): &(&str, &str)| ((*name).to_owned(), (*text).to_owned());
        files.iter().map(owned).collect()
    }

    /// Wherever a run is stopped, the next one finds the files of before, or, after the last step, the new ones.
    #[test]
    fn a_run_that_is_killed_after_any_step_leaves_all_of_before_or_all_of_new() {
        let new = [("a", "A2".to_owned()), ("c", "C2".to_owned())];
        let files = Files {
            new: &new,
            gone: &["b"],
        };
        let (old, renewed) = (
            [("a", "A1"), ("b", "B1"), ("own", "mine")],
            [("a", "A2"), ("c", "C2"), ("own", "mine")],
        );
        let mut ends = Vec::new();
        for stop in 0.. {
            let place = tempfile::tempdir().unwrap();
            let to = place.path();
            for (name, text) in old {
                fs::write(to.join(name), text).unwrap();
            }
            let work = unfinished_folder(to).unwrap();
            let steps = steps(to, &files, &work).unwrap();
            for step in steps.iter().take(stop) {
                step.take().unwrap();
            }
            // The process is gone, and with it whatever it held; its folder stays.
            let Unfinished { folder, held } = work;
            drop(held);
            let _left = folder.keep();
            put_back(to, &files).unwrap();
            drop(unfinished_folder(to).unwrap());
            ends.push(texts(to));
            if stop == steps.len() {
                break;
            }
        }
        let done = ends.iter().filter(|end| **end == map(&renewed)).count();
        assert!(
            ends.iter()
                .take(ends.len() - done)
                .all(|end| *end == map(&old)),
            "{ends:?}"
        );
        assert_eq!(done, 2, "{ends:?}");
    }
}
