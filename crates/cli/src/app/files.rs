//! Files in and out: a size limit on the way in, nothing half written on the way out.

use super::task::Detail;
use super::{Stop, note};
use atomic_write_file::AtomicWriteFile;
use std::fs::{File, OpenOptions};
use std::io::{self, ErrorKind, Read, Write};
use std::path::Path;

/// Largest input in bytes; more is refused before it is read.
const MOST_BYTES: u64 = crate::reading::MOST_BYTES as u64;

/// Whether a path stands for stdin or stdout.
pub(super) fn is_stdin(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// How a path is named in messages.
pub(super) fn label(path: &Path) -> String {
    if is_stdin(path) {
        "<stdin>".to_owned()
    } else {
        path.display().to_string()
    }
}

/// Reads a whole input, up to the limit.
pub(super) fn read(path: &Path) -> Result<Vec<u8>, Stop> {
    let name = label(path);
    let failed = |e: io::Error| Stop::Said(format!("cannot read {name}: {e}"));
    if is_stdin(path) {
        return limited(io::stdin().lock(), &name).map_err(failed)?;
    }
    let file = File::open(path).map_err(failed)?;
    let facts = file.metadata().map_err(failed)?;
    if facts.is_dir() {
        return Err(Stop::Said(format!("cannot read {name}: it is a folder")));
    }
    if facts.len() > MOST_BYTES {
        return Err(too_large(&name));
    }
    limited(file, &name).map_err(failed)?
}

fn limited(source: impl Read, name: &str) -> io::Result<Result<Vec<u8>, Stop>> {
    let mut bytes = Vec::new();
    source.take(MOST_BYTES + 1).read_to_end(&mut bytes)?;
    let fits = u64::try_from(bytes.len()).is_ok_and(|n| n <= MOST_BYTES);
    Ok(if fits {
        Ok(bytes)
    } else {
        Err(too_large(name))
    })
}

fn too_large(name: &str) -> Stop {
    Stop::Said(format!(
        "{name} is larger than 16 MB; is it the right file?"
    ))
}

/// Refuses early where [`write`] would refuse, so that no work is done in vain.
pub(super) fn may_write(path: &Path, force: bool) -> Result<(), Stop> {
    match path.symlink_metadata() {
        Ok(facts) if facts.is_dir() => Err(Stop::Said(format!(
            "cannot write {}: it is a folder",
            path.display()
        ))),
        Ok(_) if !force => Err(exists(path)),
        _ => Ok(()),
    }
}

fn exists(path: &Path) -> Stop {
    Stop::Said(format!("{} exists; --force replaces it", path.display()))
}

/// Writes a whole file or nothing. Without `force` an existing file stays as it is.
pub(super) fn write(path: &Path, text: &str, force: bool) -> Result<(), Stop> {
    may_write(path, force)?;
    // A link stays one: what it leads to is written.
    let behind = std::fs::canonicalize(path).ok().filter(|_| force);
    let path = behind.as_deref().unwrap_or(path);
    let failed = |e: io::Error| Stop::Said(format!("cannot write {}: {e}", path.display()));
    // Claiming the name first keeps a file that someone else makes in the meantime.
    let claimed = !force;
    if claimed {
        match OpenOptions::new().write(true).create_new(true).open(path) {
            Ok(_) => {}
            Err(e) if e.kind() == ErrorKind::AlreadyExists => return Err(exists(path)),
            Err(e) => return Err(failed(e)),
        }
    }
    let written = AtomicWriteFile::open(path).and_then(|mut file| {
        file.write_all(text.as_bytes())?;
        file.commit()
    });
    if written.is_err() && claimed {
        let _ = std::fs::remove_file(path);
    }
    written.map_err(failed)
}

/// Writes an answer to its file, plain, or else to stdout.
pub(super) fn deliver(
    text: &str,
    out: Option<&Path>,
    force: bool,
    detail: Detail,
) -> Result<(), Stop> {
    let Some(out) = out else {
        return print(text);
    };
    let plain = anstream::adapter::strip_str(text).to_string();
    write(out, &plain, force)?;
    if detail != Detail::Quiet {
        note(&format!("wrote {}", out.display()));
    }
    Ok(())
}

/// Writes to stdout, styles only where they are wanted.
pub(super) fn print(text: &str) -> Result<(), Stop> {
    let mut out = anstream::stdout().lock();
    out.write_all(text.as_bytes())
        .and_then(|()| out.flush())
        .map_err(|e| Stop::stdout(&e))
}
