//! Files in and out: a size limit on the way in, nothing half written on the way out.

use super::detail::Detail;
use super::ended::{Stop, note};
use super::whole;
use crate::reading::escaped;
use std::fs::{File, Metadata, OpenOptions};
use std::io::{self, ErrorKind, Read, Write};
use std::path::Path;

/// Largest input in bytes; more is refused before it is read.
const MOST_BYTES: u64 = crate::reading::MOST_BYTES as u64;

/// Whether a path stands for stdin or stdout.
pub(super) fn is_stdin(path: &Path) -> bool {
    path.as_os_str() == "-"
}

/// How a path is named in messages: as it was typed, and nothing in it reaches a terminal but as text.
pub(super) fn label(path: &Path) -> String {
    match is_stdin(path) {
        true => "<stdin>".to_owned(),
        false => escaped(&path.to_string_lossy()),
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

/// What stands in the place of a file that is to be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum There {
    Nothing,
    File,
    /// A link that leads nowhere.
    Loose,
    /// A pipe or a terminal, or another device that takes what comes.
    Stream,
}

fn there(path: &Path) -> Result<There, Stop> {
    let refused = |why: &str| Err(Stop::Said(format!("cannot write {}: {why}", label(path))));
    match path.metadata() {
        Ok(facts) if facts.is_dir() => refused("it is a folder"),
        Ok(facts) if facts.is_file() && facts.permissions().readonly() => {
            refused("it is write-protected")
        }
        Ok(facts) if facts.is_file() => Ok(There::File),
        Ok(facts) if takes_a_stream(&facts) => Ok(There::Stream),
        Ok(_) => refused("it is no file"),
        Err(_) if path.symlink_metadata().is_ok() => Ok(There::Loose),
        Err(_) => Ok(There::Nothing),
    }
}

#[cfg(unix)]
fn takes_a_stream(facts: &Metadata) -> bool {
    use std::os::unix::fs::FileTypeExt;
    facts.file_type().is_fifo() || facts.file_type().is_char_device()
}

#[cfg(not(unix))]
fn takes_a_stream(_: &Metadata) -> bool {
    false
}

/// Refuses early where [`write`] would refuse, so that no work is done in vain.
pub(super) fn may_write(path: &Path, force: bool) -> Result<(), Stop> {
    match there(path)? {
        There::File | There::Loose if !force => Err(exists(path)),
        There::Nothing => has_folder(path),
        _ => Ok(()),
    }
}

/// Refuses a path in a folder that is not there.
pub(super) fn has_folder(path: &Path) -> Result<(), Stop> {
    let folder = whole::folder_of(path);
    match folder.metadata() {
        Err(error) if error.kind() == ErrorKind::NotFound => Err(Stop::Said(format!(
            "cannot write {}: there is no folder {}; make it first, or choose another place",
            label(path),
            label(&folder)
        ))),
        _ => Ok(()),
    }
}

fn exists(path: &Path) -> Stop {
    Stop::Said(format!("{} exists; --force replaces it", label(path)))
}

/// Writes a whole file or nothing. Without `force` an existing file stays as it is. A pipe or a device is
/// written to, and never replaced.
pub(super) fn write(path: &Path, text: &str, force: bool) -> Result<(), Stop> {
    may_write(path, force)?;
    let bytes = text.as_bytes();
    let written = match there(path)? {
        There::Stream => {
            let stream = OpenOptions::new().write(true).open(path);
            stream.and_then(|mut stream| stream.write_all(bytes))
        }
        There::Nothing if !force => whole::create(path, bytes),
        _ => whole::replace(path, bytes),
    };
    written.map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => exists(path),
        ErrorKind::BrokenPipe => Stop::ClosedPipe,
        _ => Stop::Said(format!("cannot write {}: {error}", label(path))),
    })
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
        note(&format!("wrote {}", label(out)));
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
