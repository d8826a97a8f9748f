//! A spreadsheet's table as text: separator, rows, cells with their places.

use super::cx::Cx;
use super::tree::At;
use csv::{ReaderBuilder, StringRecord};

/// A cell as it stands there.
pub(crate) struct Cell {
    pub at: At,
    pub text: String,
}

/// Most rows (a choice: far above any apiary).
const MOST_ROWS: usize = 200_000;
/// Most columns (a choice: far above what a sheet of inspections has).
const MOST_COLUMNS: usize = 200;

/// Reads a table row by row, the one with the names of the columns first; rows without anything in them are left out.
/// `each` gets the number of the row and its cells, and says whether to go on. `None` where it cannot be read on.
pub(crate) fn each_row(
    cx: &mut Cx,
    text: &str,
    mut each: impl FnMut(&mut Cx, u32, &[Cell]) -> bool,
) -> Option<()> {
    // Lines that end in CR alone, each byte in its place.
    let lone = text.contains('\r') && !text.contains('\n');
    let text = if lone {
        &text.replace('\r', "\n")
    } else {
        text
    };
    let start = text.len() - text.trim_start_matches('\u{feff}').len();
    let (start, separator) = separator(text, start);
    let mut lines = Lines {
        text,
        at: 0,
        line: 1,
        line_start: 0,
        end: start,
        row: 1,
    };
    let mut reader = ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .from_reader(text.get(start..).unwrap_or_default().as_bytes());
    let mut record = StringRecord::new();
    let mut rows = 0;
    while reader.read_record(&mut record).ok()? {
        let from = start + record.position().map_or(0, csv::Position::byte) as usize;
        let Cells { row, list, open } = lines.cells(from, separator, &record);
        if let Some(at) = open {
            cx.error(
                "wrong-type",
                at,
                format!("a quote that is never closed in row {row}"),
                "a quote at the end of the cell too",
                "close it; else all rows below belong to this cell",
            );
            return None;
        }
        if list.iter().all(|cell| cell.text.trim().is_empty()) {
            continue;
        }
        let at = list.first().map_or(At::top(), |cell| cell.at);
        if rows == 0 && cx.too_many(at, list.len(), "columns", MOST_COLUMNS) {
            return None;
        }
        if rows > MOST_ROWS {
            cx.too_many(at, rows, "rows", MOST_ROWS);
            break;
        }
        if !each(cx, row, &list) {
            return None;
        }
        rows += 1;
    }
    Some(())
}

/// Whether a row has more cells than there are columns, which is found.
pub(crate) fn too_wide(cx: &mut Cx, columns: usize, (row, cells): (u32, &[Cell])) -> bool {
    let mut extra = cells.iter().skip(columns);
    let Some(cell) = extra.find(|cell| !cell.text.trim().is_empty()) else {
        return false;
    };
    cx.error(
        "wrong-type",
        cell.at,
        format!("more cells than columns in row {row}"),
        "no more than there are columns",
        "a comma within a value? Put the value in quotes, or save with semicolons",
    );
    true
}

/// Where the table begins, and what parts its cells: as a first line `sep=;` says, else the one of
/// tab, semicolon and comma that stands most often in the first line, outside quotes.
fn separator(text: &str, start: usize) -> (usize, u8) {
    let rest = text.get(start..).unwrap_or_default();
    let line = rest.lines().next().unwrap_or_default();
    let said = line.strip_prefix("sep=").map(str::as_bytes);
    if let Some([separator]) = said {
        let next = rest.find('\n').map_or(text.len(), |end| start + end + 1);
        return (next, *separator);
    }
    let line = rest.trim_start().lines().next().unwrap_or_default();
    let count = |wanted: u8| {
        let mut quoted = false;
        let mut count = 0;
        for byte in line.bytes() {
            quoted ^= byte == b'"';
            count += usize::from(byte == wanted && !quoted);
        }
        count
    };
    let most = [b',', b';', b'\t'].into_iter().max_by_key(|&b| count(b));
    (start, most.unwrap_or(b','))
}

/// Where lines begin, counted on as the table is read.
struct Lines<'a> {
    text: &'a str,
    at: usize,
    line: u32,
    line_start: usize,
    /// End of the record before, and its row.
    end: usize,
    row: usize,
}

impl Lines<'_> {
    fn place(&mut self, start: usize, end: usize) -> At {
        let passed = self.text.get(self.at..start).unwrap_or_default();
        for (i, _) in passed.match_indices('\n') {
            self.line += 1;
            self.line_start = self.at + i + 1;
        }
        self.at = start.max(self.at);
        let before = self.text.get(self.line_start..start).unwrap_or_default();
        let small = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        At {
            line: self.line,
            column: small(before.chars().count() + 1),
            start: small(start),
            end: small(end.max(start)),
        }
    }

    /// The cells of a record that begins at `from` or behind line ends, the number of its row, and
    /// whether a quote in it is never closed.
    fn cells(&mut self, from: usize, separator: u8, record: &StringRecord) -> Cells {
        let rest = self.text.get(from..).unwrap_or_default();
        let mut start = from + (rest.len() - rest.trim_start_matches(['\r', '\n']).len());
        let gap = self.text.get(self.end..start).unwrap_or_default();
        self.row += gap.matches('\n').count();
        let bytes = self.text.as_bytes();
        let mut list = Vec::new();
        let mut open = None;
        for text in record {
            let (mut end, mut unclosed) = (start, false);
            if bytes.get(start) == Some(&b'"') {
                (end, unclosed) = quoted_end(bytes, start);
            }
            while let Some(&byte) = bytes.get(end) {
                if byte == separator || matches!(byte, b'\r' | b'\n') {
                    break;
                }
                end += 1;
            }
            let cell = Cell {
                at: self.place(start, end),
                text: text.to_owned(),
            };
            if unclosed {
                open = Some(cell.at);
            }
            list.push(cell);
            start = end + 1;
        }
        self.end = start.saturating_sub(1).min(self.text.len());
        Cells {
            row: u32::try_from(self.row).unwrap_or(u32::MAX),
            list,
            open,
        }
    }
}

struct Cells {
    row: u32,
    list: Vec<Cell>,
    /// Where a quote is opened and never closed.
    open: Option<At>,
}

/// Behind the quote that closes a cell, and whether there is none.
fn quoted_end(bytes: &[u8], start: usize) -> (usize, bool) {
    let mut at = start + 1;
    while let Some(&byte) = bytes.get(at) {
        at += 1;
        if byte == b'"' {
            match bytes.get(at) {
                Some(b'"') => at += 1,
                _ => return (at, false),
            }
        }
    }
    (bytes.len(), true)
}
