//! The rows of the table of a plan: which column is what, and what kind of row each is.

use crate::inspect::{bare, figure, name_and_unit};
use crate::reading::{
    At, Cell, Cx, Finding, Kind as Unit, Node, Value, each_row, near, plain, too_wide,
};
use std::borrow::Cow;

/// What a row is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    Frames,
    Bees,
    /// A next cell.
    Cell,
    Queen,
    /// Frames of the store room that went into the gaps of a colony.
    Gap,
}

const KINDS: [(&str, Kind); 5] = [
    ("frames", Kind::Frames),
    ("bees", Kind::Bees),
    ("next cell", Kind::Cell),
    ("queen", Kind::Queen),
    ("gap", Kind::Gap),
];

/// Columns that count, with their keys in `done`.
const COLUMNS: [(&str, &str); 15] = [
    ("row", "row"),
    ("box kind", "box"),
    ("box number", "number"),
    ("compartment", "compartment"),
    ("line", "line"),
    ("from colony", "colony"),
    ("frame group", "group"),
    ("of", "of"),
    ("store room entry", "store room"),
    ("frames", "count"),
    ("bees before drift", "bees"),
    ("comb", "comb"),
    ("queen from", "queen"),
    ("to colony", "to"),
    ("day", "day"),
];
/// Columns that say more of what the others name.
const BESIDE: [&str; 11] = [
    "site",
    "from site",
    "place",
    "of them on brood frames",
    "of them already in",
    "substitute",
    "brood",
    "sealed brood",
    "stores",
    "drawn",
    "feed",
];

/// A column that counts.
struct Column {
    key: &'static str,
    title: String,
}

/// One row: its cells that are not empty.
pub(super) struct Cells<'t> {
    pub number: u32,
    pub at: At,
    pub kind: Kind,
    cells: Vec<(&'static str, String, Node<'t>)>,
}

/// The table.
pub(super) struct Table<'t> {
    pub rows: Vec<Cells<'t>>,
}

impl Table<'_> {
    /// Reads a table; whatever is no row of one is found.
    pub fn read(cx: &mut Cx, text: &str) -> Option<Self> {
        let mut header: Option<Vec<Option<Column>>> = None;
        let mut rows = Vec::new();
        each_row(cx, text, |cx, number, cells| {
            let Some(columns) = &header else {
                let found = columns(cx, cells);
                let whole = found.is_some();
                header = found;
                return whole;
            };
            if !too_wide(cx, columns.len(), (number, cells)) {
                rows.extend(row(cx, columns, (number, cells)));
            }
            true
        })?;
        if header.is_none() {
            named(cx, At::top());
            return None;
        }
        Some(Table { rows })
    }

    /// Says row and column of what was found in the values.
    pub fn place(&self, findings: &mut [Finding], from: usize) {
        for finding in findings.iter_mut().skip(from) {
            let (start, end) = (finding.span.start, finding.span.end);
            let after = self
                .rows
                .partition_point(|row| row.at.start as usize <= start);
            let Some(row) = after.checked_sub(1).and_then(|at| self.rows.get(at)) else {
                continue;
            };
            let here = |at: At| (at.start as usize, at.end as usize) == (start, end);
            let cell = row.cells.iter().find(|(.., node)| here(node.at));
            let column = cell.map_or(String::new(), |(_, title, _)| format!(", column `{title}`"));
            finding.found = format!("{} in row {}{column}", finding.found, row.number);
        }
    }
}

fn named(cx: &mut Cx, at: At) {
    cx.error(
        "missing-key",
        at,
        "no columns of a plan's table",
        "the names of its columns in the first row: `box kind`, `frames`, `bees before drift` and the others",
        "is it the right file? `spareframe share SCENARIO --format csv` writes it",
    );
}

/// The columns of the first row; none where it is no table of a plan.
fn columns(cx: &mut Cx, cells: &[Cell]) -> Option<Vec<Option<Column>>> {
    let mut found: Vec<Option<Column>> = Vec::new();
    for cell in cells {
        let (title, _) = name_and_unit(&cell.text);
        let column = COLUMNS.iter().find(|(name, _)| *name == title);
        let twice = |other: &Option<Column>| other.as_ref().is_some_and(|c| c.title == title);
        if found.iter().any(twice) {
            let found = format!("column `{}` again", plain(&title));
            cx.error(
                "duplicate-key",
                cell.at,
                found,
                "each column once",
                "remove one of them",
            );
        }
        if column.is_none() && !title.is_empty() && !BESIDE.contains(&&*title) {
            unknown(cx, cell, &title);
        }
        found.push(column.map(|(_, key)| Column { key, title }));
    }
    let has = |key| {
        found
            .iter()
            .flatten()
            .any(|column: &Column| column.key == key)
    };
    if has("box") && (has("count") || has("bees")) {
        return Some(found);
    }
    named(cx, cells.first().map_or(At::top(), |cell| cell.at));
    None
}

fn unknown(cx: &mut Cx, cell: &Cell, title: &str) {
    let names = || COLUMNS.iter().map(|(name, _)| *name);
    let meant = near(title, names(), if title.len() < 5 { 1 } else { 2 });
    let known: Vec<&str> = names().collect();
    cx.warn(
        "unknown-key",
        cell.at,
        format!("column `{}`", plain(title)),
        format!("one of {}", known.join(", ")),
        meant.unwrap_or_else(|| "nothing to do, if it is a column of your own".to_owned()),
    );
}

fn row<'t>(
    cx: &mut Cx,
    columns: &[Option<Column>],
    (number, cells): (u32, &[Cell]),
) -> Option<Cells<'t>> {
    let (first, last) = (cells.first()?, cells.last()?);
    let mut row = Cells {
        number,
        at: At {
            end: last.at.end,
            ..first.at
        },
        kind: Kind::Frames,
        cells: Vec::new(),
    };
    for (column, cell) in columns.iter().zip(cells) {
        let Some(Column { key, title }) = column else {
            continue;
        };
        let unit = match *key {
            "number" | "compartment" | "group" | "store room" | "count" => Some(Unit::Count),
            "bees" => Some(Unit::Bees),
            _ => None,
        };
        let text = match unit {
            Some(unit) => figure(unit, &cell.text, ""),
            None => bare(&cell.text).to_owned(),
        };
        if !text.is_empty() {
            let value = Value::Scalar {
                text: Cow::Owned(text),
                plain: unit.is_some(),
            };
            let node = Node { at: cell.at, value };
            row.cells.push((key, title.clone(), node));
        }
    }
    row.kind = row.kind(cx)?;
    row.whole(cx).then_some(row)
}

impl<'t> Cells<'t> {
    /// What the row is about: what it says, else what is filled in.
    fn kind(&self, cx: &mut Cx) -> Option<Kind> {
        let has = |key| self.get(key).is_some();
        let Some(said) = self.text("row") else {
            return match (has("count"), has("bees"), has("to")) {
                (true, false, false) => Some(Kind::Frames),
                (false, true, false) => Some(Kind::Bees),
                (true, false, true) => Some(Kind::Gap),
                _ => {
                    let found = format!("row {} without a word in column `row`", self.number);
                    self.unclear(cx, self.at, found);
                    None
                }
            };
        };
        let kind = KINDS.iter().find(|(name, _)| *name == said.to_lowercase());
        if kind.is_none() {
            let found = format!("`{}` in row {}, column `row`", plain(said), self.number);
            self.unclear(cx, self.place("row"), found);
        }
        kind.map(|(_, kind)| *kind)
    }

    fn unclear(&self, cx: &mut Cx, at: At, found: String) {
        let words = KINDS.map(|(name, _)| name).join(", ");
        cx.error(
            "wrong-type",
            at,
            found,
            format!("one of {words}"),
            "say what the row is about",
        );
    }

    /// Whether its number is there, and no number of another kind of row.
    fn whole(&self, cx: &mut Cx) -> bool {
        let (number, others): (Option<&str>, &[&str]) = match self.kind {
            Kind::Frames | Kind::Gap => (Some("count"), &["bees"]),
            Kind::Bees => (Some("bees"), &["count"]),
            Kind::Cell | Kind::Queen => (None, &["count", "bees"]),
        };
        if let Some(other) = others.iter().find(|key| self.get(key).is_some()) {
            cx.error(
                "two-readings",
                self.place(other),
                format!("a number that does not belong to row {}", self.number),
                "frames in rows of frames and gaps, bees in rows of bees",
                "empty the cell, or correct the column `row`",
            );
            return false;
        }
        let needs = [
            number.map(|key| (key, "a number; 0 if it was not done")),
            (self.kind == Kind::Gap).then_some(("to", "the colony whose gap was filled")),
            (self.kind == Kind::Gap).then_some(("store room", "where the frames were from")),
        ];
        let lack = needs
            .into_iter()
            .flatten()
            .find(|(key, _)| self.get(key).is_none());
        if let Some((key, what)) = lack {
            self.lacks(cx, key, what);
        }
        lack.is_none()
    }

    /// Something that a row of its kind must say.
    pub fn lacks(&self, cx: &mut Cx, key: &str, what: &str) {
        let title = COLUMNS
            .iter()
            .find(|(_, of)| *of == key)
            .map_or(key, |(name, _)| name);
        cx.error(
            "empty",
            self.at,
            format!("nothing in row {}, column `{title}`", self.number),
            what,
            "fill it in, or remove the row if it was not done",
        );
    }

    /// The value of a key of `done`.
    pub fn get(&self, key: &str) -> Option<Node<'t>> {
        let cell = self.cells.iter().find(|(of, ..)| *of == key);
        cell.map(|(.., node)| node.clone())
    }

    pub fn text(&self, key: &str) -> Option<&str> {
        let cell = self.cells.iter().find(|(of, ..)| *of == key);
        cell.map(|(.., node)| crate::reading::word(node))
    }

    pub fn place(&self, key: &str) -> At {
        self.get(key).map_or(self.at, |node| node.at)
    }

    /// Whether a number says that nothing was done.
    pub fn none(&self, key: &str) -> bool {
        self.text(key).and_then(|text| text.parse::<f64>().ok()) == Some(0.0)
    }

    pub fn entry(&self, of: &'static str) -> Option<(Node<'t>, Node<'t>)> {
        let node = self.get(of)?;
        Some((key(node.at, of), node))
    }

    /// Keys of `done` with their values.
    pub fn map(&self, keys: impl Iterator<Item = &'static str>) -> Node<'t> {
        let entries = keys.filter_map(|key| self.entry(key));
        Node {
            at: self.at,
            value: Value::Map(entries.collect()),
        }
    }
}

pub(super) fn key<'t>(at: At, key: &'static str) -> Node<'t> {
    Node {
        at,
        value: Value::Scalar {
            text: Cow::Borrowed(key),
            plain: true,
        },
    }
}
