//! One cell: what people write in spreadsheets, as a scenario has it.

use super::columns::{Column, is_figure};
use super::table::Given;
use crate::reading::{Cell, Cx, Field, Kind, Node, Value, combs, factor, in_thousands, split};

/// A value as it is written in a scenario.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Written {
    /// What it says.
    pub text: String,
    /// Whether it is a text of people, which may need quotes.
    pub free: bool,
}

type Place<'a> = (u32, &'a Column);

/// The name of a colony.
pub(super) fn name(cx: &mut Cx, cell: &Cell, place: Place) -> String {
    let text = bare(&cell.text).to_owned();
    if text.is_empty() {
        return text;
    }
    checked(cx, cell, place, |cx, node| Some(cx.name(node)), &text).unwrap_or(text)
}

/// Which frame group a row is.
pub(super) fn group(cx: &mut Cx, cell: &Cell, place: Place) -> Option<usize> {
    let text = figure(Kind::Count, &cell.text, "");
    if text.is_empty() {
        return None;
    }
    let number = checked(
        cx,
        cell,
        place,
        |cx, node| cx.value(node, Kind::Count, (1.0, 1_000_000.0), 1.0, None),
        &text,
    );
    number.and_then(|number| usize::try_from(number).ok())
}

/// The value of a key; nothing is given where the cell cannot be read.
pub(super) fn given(
    cx: &mut Cx,
    cell: &Cell,
    place: Place,
    field: &'static Field,
) -> Option<Given> {
    let given = |value| Given {
        key: field.key,
        field,
        at: cell.at,
        title: place.1.title.clone(),
        value,
    };
    if bare(&cell.text).is_empty() {
        return Some(given(None));
    }
    let (text, free) = match field.kind {
        kind if is_figure(kind) => (figure(kind, &cell.text, &place.1.unit), false),
        Kind::Flag => (flag(&cell.text), false),
        // `no` is no hold, `yes` one without a reason.
        Kind::Hold => match flag(&cell.text) {
            word if matches!(word.as_str(), "yes" | "no") => (word, false),
            _ => (bare(&cell.text).to_owned(), true),
        },
        _ => (bare(&cell.text).to_owned(), true),
    };
    let read = |cx: &mut Cx, node: &Node| match (field.kind, field.range) {
        (Kind::Flag, _) => {
            cx.flag(Some(node));
            Some(())
        }
        (Kind::Combs, Some(range)) => cx.combs_of(node, range, 1000).map(|_| ()),
        (kind, Some(range)) if is_figure(kind) => {
            // How many bees cover a frame is not known here; that it is a number of frames will do.
            cx.value(node, kind, range, 1.0, Some(1)).map(|_| ())
        }
        _ => {
            cx.name(node);
            Some(())
        }
    };
    checked(cx, cell, place, read, &text)?;
    Some(given(Some(Written { text, free })))
}

/// Reads what a cell says, and names row and column in what is found.
fn checked<T>(
    cx: &mut Cx,
    cell: &Cell,
    (row, column): Place,
    read: impl FnOnce(&mut Cx, &Node) -> Option<T>,
    text: &str,
) -> Option<T> {
    let node = Node {
        at: cell.at,
        value: Value::Scalar {
            text: text.into(),
            plain: true,
        },
    };
    let before = cx.findings.len();
    let value = read(cx, &node);
    let mut wrong = false;
    for finding in cx.findings.iter_mut().skip(before) {
        finding.found = format!("{} in row {row}, column `{}`", finding.found, column.title);
        wrong = true;
    }
    value.filter(|_| !wrong)
}

/// Without blanks around it, and without the apostrophe that keeps a spreadsheet from taking it for a
/// formula.
pub(crate) fn bare(text: &str) -> &str {
    let text = text.trim();
    match text.strip_prefix('\'') {
        Some(rest) if rest.starts_with(['=', '+', '-', '@']) => rest,
        _ => text,
    }
}

/// A figure as a scenario has it: a point for a decimal comma, no marks for thousands, the unit of the
/// header where the cell has none.
pub(crate) fn figure(kind: Kind, text: &str, unit: &str) -> String {
    let text = bare(text).replace(['\u{a0}', '\u{202f}', '\u{2009}'], " ");
    let end = text
        .char_indices()
        .find(|&(i, c)| {
            let within = |mark| c == mark && next_is_digit(&text, i + c.len_utf8());
            !(c.is_ascii_digit()
                || matches!(c, '.' | ',' | '_' | '+' | '-')
                || within(' ')
                || within('\''))
        })
        .map_or(text.len(), |(i, _)| i);
    let (number, own) = text.split_at(end);
    let own = own.trim();
    let unit = if own.is_empty() { unit } else { own };
    let of_frames = matches!(unit, "frame" | "frames");
    let joined = number.trim().replace([' ', '\''], ",");
    let number = match joined.as_str() {
        joined if !of_frames && in_thousands(kind, joined) => joined.replace(['.', ','], ""),
        _ if number.matches(',').count() == 1 && !number.contains('.') => {
            number.trim().replace(',', ".")
        }
        _ => number.trim().to_owned(),
    };
    format!("{number} {unit}").trim().to_owned()
}

/// Whether two texts of a key say the same, however they are written.
pub(super) fn same(field: &Field, one: &str, other: &str) -> bool {
    let figure = |text: &str| {
        let (value, unit) = split(text)?;
        let of_frames = matches!(unit, "frame" | "frames") && field.kind == Kind::Bees;
        let factor = if of_frames {
            None
        } else {
            factor(field.kind, unit)
        };
        Some((value * factor.unwrap_or(1.0), of_frames))
    };
    let flag = |text: &str| matches!(text, "yes" | "true");
    match field.kind {
        Kind::Combs => match (combs(one, 1000), combs(other, 1000)) {
            (Some((_, a)), Some((_, b))) => a == b,
            _ => false,
        },
        kind if is_figure(kind) => match (figure(one), figure(other)) {
            (Some((a, by_frames)), Some((b, too))) => {
                by_frames == too && (a - b).abs() <= 1e-9 * a.abs().max(b.abs())
            }
            _ => false,
        },
        Kind::Flag => flag(one) == flag(other),
        _ => one == other,
    }
}

fn next_is_digit(text: &str, at: usize) -> bool {
    let next = text.get(at..).and_then(|rest| rest.chars().next());
    next.is_some_and(|c| c.is_ascii_digit())
}

/// Yes or no, as people tick it.
fn flag(text: &str) -> String {
    let text = bare(text).to_lowercase();
    match text.as_str() {
        "x" | "y" | "1" | "true" => "yes".to_owned(),
        "n" | "0" | "-" | "false" => "no".to_owned(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_read_as_they_are_written_in_many_places() {
        for (kind, text, unit, read) in [
            (Kind::Frames, "4,5", "frames", "4.5 frames"),
            (Kind::Frames, " 4.5 ", "", "4.5"),
            (Kind::Combs, "6", "combs", "6 combs"),
            (Kind::Combs, "6 combs at 70 %", "combs", "6 combs at 70 %"),
            (Kind::Share, "80", "%", "80 %"),
            (Kind::Share, "80 %", "%", "80 %"),
            (Kind::Share, "0,8", "", "0.8"),
            (Kind::Bees, "20.000", "", "20000"),
            (Kind::Bees, "20,000", "", "20000"),
            (Kind::Bees, "20 000 bees", "", "20000 bees"),
            (Kind::Bees, "20\u{202f}000", "", "20000"),
            (Kind::Bees, "20'000", "", "20000"),
            (Kind::Bees, "6,5 frames", "", "6.5 frames"),
            (Kind::Bees, "6.500", "frames", "6.500 frames"),
            (Kind::Grams, "1,250", "kg", "1.250 kg"),
            (Kind::Grams, "20 kg", "", "20 kg"),
            (Kind::Count, "six", "", "six"),
        ] {
            assert_eq!(figure(kind, text, unit), read, "{text}");
        }
    }

    #[test]
    fn a_guard_against_formulas_is_taken_off_again() {
        assert_eq!(bare(" '=cmd "), "=cmd");
        assert_eq!(bare("'twas"), "'twas");
    }
}
