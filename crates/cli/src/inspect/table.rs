//! The rows of a table, with what each says of which colony.

use super::cells::{self, Written};
use super::columns::{By, Column, Holds, columns};
use crate::reading::{At, Cell, Cx, Field, each_row, too_wide};

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

/// Reads a table; every cell that cannot be read is found.
pub(super) fn read(cx: &mut Cx, text: &str, by: Option<By>) -> Option<Table> {
    let mut header: Option<(Vec<Column>, By)> = None;
    let mut rows: Vec<Row> = Vec::new();
    each_row(cx, text, |cx, number, cells| {
        let Some((columns, by)) = &header else {
            let (columns, by) = columns(cx, cells, by);
            let named = columns.iter().any(|c| matches!(c.holds, Holds::Colony));
            header = Some((columns, by));
            return named;
        };
        let above = rows.last().map(|row| row.colony.clone());
        rows.extend(read_row(cx, columns, *by, (number, cells), above));
        true
    })?;
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
    if too_wide(cx, columns.len(), (number, cells)) {
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
