//! Where an answer goes, in which format, and how wide.

use super::args::Writing;
use super::detail::Detail;
use super::ended::Stop;
use super::files::{deliver, is_stdin, label, may_write};
use crate::output::{Format, TableOptions, Written};
use crate::reading::escaped;
use std::path::{Path, PathBuf};

/// How to show an answer.
#[derive(Debug)]
pub(super) struct Delivery {
    pub(super) format: Format,
    pub(super) out: Option<PathBuf>,
    pub(super) force: bool,
    /// Columns of the table, where the terminal is not to be asked.
    pub(super) width: Option<u16>,
    /// CSV begins with a byte-order mark.
    pub(super) bom: bool,
    pub(super) detail: Detail,
}

impl Delivery {
    /// As typed; the format is that of the file's ending, where none is named and it has one. Never over the
    /// file that is read.
    ///
    /// # Errors
    /// Where the ending is that of none of its formats.
    pub(super) fn of<W: Written + Send + Sync>(
        typed: Writing<W>,
        source: &Path,
        detail: Detail,
    ) -> Result<Self, Stop> {
        let out = out_file(typed.out, source)?;
        let usual = W::FORMATS.first().copied().unwrap_or(Format::Json);
        let named = out.as_deref().filter(|_| typed.format.is_none());
        let by_ending = named.map(by_ending::<W>).transpose()?.flatten();
        Ok(Self {
            format: typed.format.or(by_ending).unwrap_or(usual),
            out,
            force: typed.force,
            width: None,
            bom: false,
            detail,
        })
    }

    /// Nor over another file that is read.
    pub(super) fn beside(self, source: &Path) -> Result<Self, Stop> {
        let out = out_file(self.out, source)?;
        Ok(Self { out, ..self })
    }

    /// With a table of so many columns.
    pub(super) fn wide(self, width: Option<u16>) -> Self {
        Self { width, ..self }
    }

    /// With a byte-order mark.
    ///
    /// # Errors
    /// Where the format is none that has one.
    pub(super) fn marked(self, bom: bool) -> Result<Self, Stop> {
        if bom && self.format != Format::Csv {
            return Err(Stop::Said(format!(
                "--bom goes with CSV, not with {}; add --format csv or leave it out",
                self.format.name()
            )));
        }
        Ok(Self { bom, ..self })
    }

    /// Refuses early where [`deliver`](Self::deliver) would refuse.
    pub(super) fn may_write(&self) -> Result<(), Stop> {
        self.out
            .as_deref()
            .map_or(Ok(()), |out| may_write(out, self.force))
    }

    /// The text of an answer.
    pub(super) fn text<W: Written>(&self, answer: &W) -> Result<String, Stop> {
        written(answer, self.format, self.layout(), self.bom)
    }

    fn layout(&self) -> TableOptions {
        TableOptions {
            width: self
                .width
                .map_or_else(|| width(self.out.is_some()), usize::from),
            verbose: self.detail == Detail::Verbose,
        }
    }

    /// Writes an answer.
    pub(super) fn deliver<W: Written>(&self, answer: &W) -> Result<(), Stop> {
        self.hand_over(&self.text(answer)?)
    }

    /// Writes what is text already.
    pub(super) fn hand_over(&self, text: &str) -> Result<(), Stop> {
        deliver(text, self.out.as_deref(), self.force, self.detail)
    }
}

/// The format that the ending of a file asks for; none where it has no ending.
fn by_ending<W: Written>(out: &Path) -> Result<Option<Format>, Stop> {
    let Some(ending) = out.extension() else {
        return Ok(None);
    };
    let format = Format::of_ending(out).filter(|format| W::FORMATS.contains(format));
    format.map(Some).ok_or_else(|| {
        let known: Vec<String> = W::FORMATS
            .iter()
            .map(|format| format!(".{}", format.ending()))
            .collect();
        Stop::Said(format!(
            "--out {}: no format of {} ends in .{}; choose one of {}, or name one with --format",
            label(out),
            W::WHAT,
            escaped(&ending.to_string_lossy()),
            known.join(", ")
        ))
    })
}

/// Something in a format; CSV with a mark that says how it is encoded, where that is asked for.
pub(super) fn written<W: Written>(
    answer: &W,
    format: Format,
    layout: TableOptions,
    bom: bool,
) -> Result<String, Stop> {
    let text = answer.written(format, layout);
    let text = text.map_err(|error| match error {
        crate::output::Unwritten::NoDay => no_day(),
        error => Stop::Said(format!("cannot write {}: {error}", W::WHAT)),
    })?;
    Ok(match bom && format == Format::Csv {
        true => format!("{MARK}{text}"),
        false => text,
    })
}

/// The byte-order mark.
pub(super) const MARK: char = '\u{feff}';

/// What is wrong where there is no stocking day.
pub(super) fn no_day() -> Stop {
    Stop::Said(crate::output::Unwritten::NoDay.to_string())
}

/// The file that is to be written, unless stdout is meant; never the one that is read.
pub(super) fn out_file(out: Option<PathBuf>, source: &Path) -> Result<Option<PathBuf>, Stop> {
    let out = out.filter(|out| !is_stdin(out));
    if let Some(out) = &out
        && same_file(out, source)
    {
        return Err(Stop::Said(format!(
            "--out {} is the scenario itself; choose another name",
            label(out)
        )));
    }
    Ok(out)
}

pub(super) fn same_file(a: &Path, b: &Path) -> bool {
    match (std::fs::canonicalize(a), std::fs::canonicalize(b)) {
        (Ok(a), Ok(b)) => a == b,
        _ => false,
    }
}

/// Columns of the terminal; 80 in a pipe or a file, so that the same input gives the same bytes.
fn width(to_file: bool) -> usize {
    if to_file {
        return 80;
    }
    terminal_size::terminal_size_of(std::io::stdout()).map_or(80, |(w, _)| usize::from(w.0))
}
