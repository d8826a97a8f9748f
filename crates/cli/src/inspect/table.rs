//! The table as text: separator, rows, cells with their places.

use super::cells::{self, Written};
use super::columns::{By, Column, Holds, columns};
use crate::reading::{At, Cx, Field};
use csv::{ReaderBuilder, StringRecord};

/// A cell as it stands there.
pub(super) struct Cell {
    pub at: At,
    pub text: String,
}

/// A value of a key, as a scenario has it; none where the cell is empty.
pub(super) struct Given {
    pub key: &'static str,
    pub field: &'static Field,
    pub at: At,
    /// Column of the table, for people.
    pub title: String,
    pub value: Option<Written>,
}

/// One row.
pub(super) struct Row {
    pub number: u32,
    pub at: At,
    pub colony: String,
    pub group: Option<usize>,
    /// What was seen, if it is a compartment.
    pub seen: Option<(String, At)>,
    pub of_colony: Vec<Given>,
    pub of_frame: Vec<Given>,
}

pub(super) struct Table {
    pub by: By,
    /// Rows say which frame group they are.
    pub grouped: bool,
    pub rows: Vec<Row>,
}

impl Table {
    /// Whether a row says something of a key of its colony.
    pub fn states(&self, key: &str) -> bool {
        let given = self.rows.iter().flat_map(|row| &row.of_colony);
        given
            .into_iter()
            .any(|given| given.key == key && given.value.is_some())
    }
}

/// Most rows (a choice: far above any apiary).
const MOST_ROWS: usize = 200_000;
/// Most columns (a choice: far above what a sheet of inspections has).
const MOST_COLUMNS: usize = 200;

/// Reads a table; every cell that cannot be read is found.
pub(super) fn read(cx: &mut Cx, text: &str, by: Option<By>) -> Option<Table> {
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
    let mut header: Option<(Vec<Column>, By)> = None;
    let mut rows: Vec<Row> = Vec::new();
    while reader.read_record(&mut record).ok()? {
        let from = start + record.position().map_or(0, csv::Position::byte) as usize;
        let Cells {
            row,
            list: cells,
            open,
        } = lines.cells(from, separator, &record);
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
        if cells.iter().all(|cell| cell.text.trim().is_empty()) {
            continue;
        }
        let Some((columns, by)) = &header else {
            let at = cells.first().map_or(At::top(), |cell| cell.at);
            if cx.too_many(at, cells.len(), "columns", MOST_COLUMNS) {
                return None;
            }
            let (columns, by) = columns(cx, &cells, by);
            if !columns.iter().any(|c| matches!(c.holds, Holds::Colony)) {
                return None;
            }
            header = Some((columns, by));
            continue;
        };
        if rows.len() >= MOST_ROWS {
            let at = cells.first().map_or(At::top(), |cell| cell.at);
            cx.too_many(at, MOST_ROWS + 1, "rows", MOST_ROWS);
            break;
        }
        let above = rows.last().map(|row| row.colony.clone());
        rows.extend(read_row(cx, columns, *by, (row, &cells), above));
    }
    let Some((columns, by)) = header.filter(|_| !rows.is_empty()) else {
        if !cx.failed() {
            cx.error(
                "empty",
                At::top(),
                "no rows",
                "a row with the names of the columns, and rows below it",
                "is it the right file? `spareframe inspect --table SCENARIO` writes one",
            );
        }
        return None;
    };
    Some(Table {
        by,
        grouped: columns.iter().any(|c| matches!(c.holds, Holds::Group)),
        rows,
    })
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

fn read_row(
    cx: &mut Cx,
    columns: &[Column],
    by: By,
    (number, cells): (u32, &[Cell]),
    above: Option<String>,
) -> Option<Row> {
    let first = cells.first()?;
    let mut row = Row {
        number,
        at: first.at,
        colony: String::new(),
        group: None,
        seen: None,
        of_colony: Vec::new(),
        of_frame: Vec::new(),
    };
    let extra = cells.iter().skip(columns.len());
    if let Some(cell) = extra.into_iter().find(|cell| !cell.text.trim().is_empty()) {
        cx.error(
            "wrong-type",
            cell.at,
            format!("more cells than columns in row {}", row.number),
            "no more than there are columns",
            "a comma within a value? Put the value in quotes, or save with semicolons",
        );
        return None;
    }
    for (column, cell) in columns.iter().zip(cells) {
        let in_row = (row.number, column);
        match column.holds {
            Holds::Colony => {
                row.at = cell.at;
                row.colony = cells::name(cx, cell, in_row);
            }
            Holds::Group => row.group = cells::group(cx, cell, in_row),
            Holds::OfColony(field) => row.of_colony.extend(cells::given(cx, cell, in_row, field)),
            Holds::OfFrame(field) => row.of_frame.extend(cells::given(cx, cell, in_row, field)),
            Holds::Seen => {
                let seen = cell.text.trim();
                row.seen = (!seen.is_empty()).then(|| (seen.to_owned(), cell.at));
            }
            Holds::Nothing => {}
        }
    }
    if row.colony.is_empty() {
        // Frames of one colony are often named once.
        row.colony = above.filter(|_| by == By::Frame).unwrap_or_default();
    }
    if row.colony.is_empty() {
        cx.error(
            "empty",
            row.at,
            format!("no colony in row {}", row.number),
            "the name of a colony",
            "fill it in, or remove the row",
        );
        return None;
    }
    Some(row)
}
