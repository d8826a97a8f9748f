//! The header of a table: which column is which key, and in which unit.

use crate::reading::{Cell, Cx, Field, Kind, factor};
use crate::scenario::{COLONY, FRAME};
use itertools::Itertools;

/// What a row of a table stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// One colony, in quick counts.
    Colony,
    /// One frame group of a colony.
    Frame,
}

/// What a column holds.
#[derive(Clone, Copy)]
pub(super) enum Holds {
    Colony,
    Group,
    OfColony(&'static Field),
    OfFrame(&'static Field),
    /// What was seen in a compartment.
    Seen,
    /// None of ours; left out.
    Nothing,
}

pub(super) struct Column {
    pub holds: Holds,
    pub title: String,
    /// Unit of the header, or none.
    pub unit: String,
}

/// Keys of a frame that no colony has: one of them makes the rows frames.
const OF_FRAMES: [&str; 5] = ["count", "place", "drawn", "queen", GROUP];
/// Which frame group of its colony a row is.
pub(super) const GROUP: &str = "group";
/// What was seen in a compartment that stands.
pub(super) const SEEN: &str = "seen";
/// What the column of names may be called.
const NAMES: [&str; 2] = ["colony", "hive"];

/// Whether a key can stand in a cell.
pub(super) fn in_a_cell(field: &Field) -> bool {
    !matches!(
        field.kind,
        Kind::ListOf(_) | Kind::Section(_) | Kind::TwoDates | Kind::DrawOrAll
    )
}

/// The columns, and what the rows stand for.
pub(super) fn columns(cx: &mut Cx, header: &[Cell], by: Option<By>) -> (Vec<Column>, By) {
    let named: Vec<(String, String)> = header
        .iter()
        .map(|cell| name_and_unit(&cell.text))
        .collect();
    let frames = named
        .iter()
        .any(|(name, _)| OF_FRAMES.contains(&name.as_str()));
    let by = by.unwrap_or(if frames { By::Frame } else { By::Colony });
    let mut columns: Vec<Column> = Vec::new();
    for (cell, (name, unit)) in header.iter().zip(named) {
        if !name.is_empty() && columns.iter().any(|c| c.title == name) {
            cx.error(
                "duplicate-key",
                cell.at,
                format!("column `{name}` again"),
                "each column once",
                "remove or rename one of them",
            );
        }
        let holds = holds(cx, cell, &name, by);
        let unit = checked_unit(cx, cell, holds, unit);
        columns.push(Column {
            holds,
            title: name,
            unit,
        });
    }
    if let (Some(first), false) = (
        header.first(),
        columns.iter().any(|c| matches!(c.holds, Holds::Colony)),
    ) {
        cx.error(
            "missing-key",
            first.at,
            "no column `colony`",
            "the names of columns in the first row, one of them `colony`",
            "add a first row with the names of the columns",
        );
    }
    (columns, by)
}

/// `Stores (kg)` as `stores` and `kg`.
pub(crate) fn name_and_unit(text: &str) -> (String, String) {
    let (name, unit) = match text.split_once(['(', '[']) {
        Some((name, unit)) => (name, unit.trim_end().trim_end_matches([')', ']'])),
        None => (text, ""),
    };
    let name = name.trim().to_lowercase().replace('_', " ");
    (name, unit.trim().to_lowercase())
}

fn holds(cx: &mut Cx, cell: &Cell, name: &str, by: By) -> Holds {
    if NAMES.contains(&name) {
        return Holds::Colony;
    }
    if name == SEEN {
        return Holds::Seen;
    }
    if name == GROUP && by == By::Frame {
        return Holds::Group;
    }
    let of = |fields: &'static [Field]| fields.iter().find(|f| f.key == name);
    let frame = of(FRAME.fields).filter(|_| by == By::Frame);
    match (frame, of(COLONY.fields)) {
        (Some(field), _) => Holds::OfFrame(field),
        (None, Some(field)) if in_a_cell(field) => Holds::OfColony(field),
        (None, Some(_)) => {
            cx.error(
                "unknown-key",
                cell.at,
                format!("column `{name}`"),
                "a key that fits a cell",
                "leave the column out, and change this in the scenario",
            );
            Holds::Nothing
        }
        (None, None) => {
            if !name.is_empty() {
                unknown(cx, cell, name, by);
            }
            Holds::Nothing
        }
    }
}

fn unknown(cx: &mut Cx, cell: &Cell, name: &str, by: By) {
    let of_frames = FRAME.fields.iter().filter(|_| by == By::Frame);
    let fields = of_frames.chain(COLONY.fields.iter().filter(|f| in_a_cell(f)));
    let names = NAMES.iter().take(1).copied();
    let group = (by == By::Frame).then_some(GROUP);
    let mut known: Vec<&str> = names.chain(group).collect();
    known.extend(fields.map(|f| f.key));
    known.push(SEEN);
    let known: Vec<&str> = known.into_iter().unique().collect();
    let meant = crate::reading::near(
        name,
        known.iter().copied(),
        if name.len() < 5 { 1 } else { 2 },
    );
    cx.warn(
        "unknown-key",
        cell.at,
        format!("column `{name}`"),
        format!("one of {}", known.join(", ")),
        meant.unwrap_or_else(|| "nothing to do, if it is a column of your own".to_owned()),
    );
}

/// The field of a column.
pub(super) fn field(holds: Holds) -> Option<&'static Field> {
    match holds {
        Holds::OfColony(field) | Holds::OfFrame(field) => Some(field),
        _ => None,
    }
}

/// Whether a kind is written as a figure with a unit.
pub(super) fn is_figure(kind: Kind) -> bool {
    factor(kind, "").is_some() || matches!(kind, Kind::Grams | Kind::Metres)
}

fn checked_unit(cx: &mut Cx, cell: &Cell, holds: Holds, unit: String) -> String {
    let Some(field) = field(holds).filter(|f| is_figure(f.kind)) else {
        return String::new();
    };
    let of_bees = field.kind == Kind::Bees && matches!(unit.as_str(), "frame" | "frames");
    if unit.is_empty() || of_bees || factor(field.kind, &unit).is_some() {
        return unit;
    }
    cx.error(
        "wrong-type",
        cell.at,
        format!("unit `{unit}` in column `{}`", field.key),
        crate::reading::form(field.kind),
        "put a known unit in the brackets, or in each cell",
    );
    String::new()
}
