//! The values of a change: one, several with commas, or a range; each is YAML.

use super::MOST;
use super::piece::Piece;
use super::range;
use crate::reading::{At, Cx, Kind, Node, Value, in_thousands, parse, plain};
use std::borrow::Cow;

/// Longest value in names of alternatives (a choice: what a column of a table shows).
const MOST_SHOWN: usize = 60;

/// One value that a path may be given.
#[derive(Debug, Clone)]
pub(super) struct Wanted<'a> {
    /// As it is written.
    pub text: String,
    /// `None` removes what is there.
    pub node: Option<Node<'a>>,
}

/// A value that stands in the file of alternatives.
pub(super) fn given<'a>(node: &Node<'a>, text: &str) -> Wanted<'a> {
    Wanted {
        text: short(text),
        node: (!gone(node)).then(|| node.clone()),
    }
}

fn short(text: &str) -> String {
    let text = plain(text.trim());
    match text.char_indices().nth(MOST_SHOWN) {
        Some((end, _)) => format!("{}...", &text[..end]),
        None => text,
    }
}

/// The mark that removes: `~`, or `null` as JSON has it.
fn gone(node: &Node) -> bool {
    matches!(&node.value, Value::Scalar { text, plain: true } if matches!(&**text, "~" | "null"))
}

/// Whether a value is nothing at all.
pub(super) fn missing(node: &Node) -> bool {
    matches!(&node.value, Value::Scalar { text, plain: true } if text.is_empty())
}

/// All values that a typed change gives, from byte `from` of its text on; those that cannot be read
/// are found and left out.
pub(super) fn values<'a>(
    cx: &mut Cx,
    piece: &Piece<'a>,
    from: usize,
    kind: Kind,
) -> Vec<Wanted<'a>> {
    let free_text = matches!(kind, Kind::Text | Kind::Hold);
    let whole = &piece.text[from..];
    if in_thousands(figure(kind), whole) && whole.contains(',') {
        let figures = whole.trim().replace(',', "_");
        let way_out = format!(
            "did you mean `{}`? For several figures put blanks behind the commas",
            plain(&figures)
        );
        let at = piece.at(from, piece.text.len());
        cx.error(
            "two-readings",
            at,
            "a figure with commas",
            "one figure or several",
            way_out,
        );
        return Vec::new();
    }
    let items = if free_text {
        vec![(0, whole.len())]
    } else {
        items(whole)
    };
    let mut out = Vec::new();
    for (start, end) in items {
        let read = item(cx, piece, (from + start, from + end), kind);
        out.extend(read.into_iter().flatten());
        if out.len() > MOST {
            let at = piece.at(from, piece.text.len());
            too_many(cx, at, &format!("more than {MOST} values"));
            return Vec::new();
        }
    }
    out
}

/// Finds that there would be too many alternatives.
pub(super) fn too_many(cx: &mut Cx, at: At, found: &str) {
    cx.error(
        "out-of-range",
        at,
        found,
        format!("at most {MOST} alternatives"),
        "give fewer values, or ask in several runs",
    );
}

/// The kind of figure that a value of a kind holds.
fn figure(kind: Kind) -> Kind {
    match kind {
        Kind::Cap(of) | Kind::Range(of) => figure(*of),
        Kind::Cells | Kind::PerRound | Kind::CountOrMost => Kind::Count,
        Kind::Dates => Kind::Date,
        kind => kind,
    }
}

/// The parts between commas that are in no quotes and no brackets.
fn items(text: &str) -> Vec<(usize, usize)> {
    let (mut depth, mut quote, mut fresh, mut start) = (0_usize, None, true, 0);
    let mut out = Vec::new();
    for (i, c) in text.char_indices() {
        match (quote, c) {
            (Some(open), c) if c == open => quote = None,
            (Some(_), _) => {}
            (None, '"' | '\'') if fresh => quote = Some(c),
            (None, '[' | '{') => depth += 1,
            (None, ']' | '}') => depth = depth.saturating_sub(1),
            (None, ',') if depth == 0 => {
                out.push((start, i));
                start = i + 1;
            }
            _ => {}
        }
        fresh = matches!(c, ',' | '[' | '{' | ':') || (fresh && c == ' ');
    }
    out.push((start, text.len()));
    out
}

fn item<'a>(
    cx: &mut Cx,
    piece: &Piece<'a>,
    (from, to): (usize, usize),
    kind: Kind,
) -> Option<Vec<Wanted<'a>>> {
    let raw: &'a str = &piece.text[from..to];
    let lead = raw.len() - raw.trim_start().len();
    let text = raw.trim();
    let from = from + lead;
    let at = piece.at(from, from + text.len());
    if text.is_empty() {
        let way_out = "write a value; `~` removes what is there";
        cx.error(
            "empty",
            at,
            "nothing where a value should be",
            "a value",
            way_out,
        );
        return None;
    }
    if text.contains("..") && ranged(kind) && !text.starts_with(['"', '\'', '[', '{']) {
        let figures = match range::figures(text) {
            Ok(figures) => figures,
            Err(range::Wrong(expected, way_out)) => {
                cx.error(
                    "out-of-range",
                    at,
                    format!("`{}`", short(text)),
                    expected,
                    way_out,
                );
                return None;
            }
        };
        let wanted = |figure: String| Wanted {
            text: figure.clone(),
            node: Some(Node {
                at,
                value: Value::Scalar {
                    text: Cow::Owned(figure),
                    plain: true,
                },
            }),
        };
        return Some(figures.into_iter().map(wanted).collect());
    }
    let mut own = Cx::new("", crate::scenario::SECTIONS);
    let node = parse(&mut own, text, ("a value", "spareframe probe"));
    let broken = own.failed();
    for mut finding in own.findings {
        piece.place_finding(&mut finding, from);
        cx.add(finding);
    }
    let mut node = node.filter(|_| !broken)?;
    piece.place(&mut node, from);
    Some(vec![given(&node, text)])
}

/// Whether values of a kind are figures, of which there are ranges.
fn ranged(kind: Kind) -> bool {
    matches!(
        figure(kind),
        Kind::Count
            | Kind::Number
            | Kind::Area
            | Kind::Share
            | Kind::Frames
            | Kind::Combs
            | Kind::Bees
            | Kind::Grams
            | Kind::Metres
            | Kind::Days
            | Kind::Hours
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(text: &str, kind: Kind) -> Result<Vec<String>, Vec<String>> {
        let mut cx = Cx::new("typed", crate::scenario::SECTIONS);
        let piece = Piece {
            label: String::new(),
            text,
            base: 0,
        };
        let found = values(&mut cx, &piece, 0, kind);
        let findings: Vec<String> = cx.findings.into_iter().map(|f| f.way_out).collect();
        match findings.is_empty() {
            true => Ok(found.into_iter().map(|w| w.text).collect()),
            false => Err(findings),
        }
    }

    #[test]
    fn commas_part_values_but_not_in_brackets_quotes_and_free_text() {
        let parts = |text, kind| texts(text, kind).unwrap().join(" | ");
        assert_eq!(parts("8,12, 16", Kind::Count), "8 | 12 | 16");
        assert_eq!(parts("8, 12..14", Kind::Cells), "8 | 12 | 13 | 14");
        assert_eq!(parts("1,2,none", Kind::Cap(&Kind::Count)), "1 | 2 | none");
        assert_eq!(
            parts("{a: [1, 2], b: \"x}, y\"}, all", Kind::DrawOrAll),
            "{a: [1, 2], b: \"x}, y\"} | all"
        );
        assert_eq!(parts("it's, \"a, b\"", Kind::Name), "it's | \"a, b\"");
        assert_eq!(
            parts("treatment, until 3..4 May", Kind::Hold),
            "treatment, until 3..4 May"
        );
        assert_eq!(parts("100, 200, 300", Kind::Count), "100 | 200 | 300");
    }

    #[test]
    fn values_are_counted_before_they_are_made() {
        let ranges = vec!["1..1000"; 16_000].join(",");
        let found = texts(&ranges, Kind::Count).unwrap_err();
        assert_eq!(found, ["give fewer values, or ask in several runs"]);
        let thousand = texts("1..600, 1..400", Kind::Count).unwrap();
        assert_eq!(thousand.len(), 1000);
    }

    #[test]
    fn least_shares_of_a_line_come_in_ranges_too() {
        let share = Kind::Range(&Kind::Share);
        let parts = |text| texts(text, share).unwrap().join(" | ");
        assert_eq!(parts("40..60 % by 10"), "40 % | 50 % | 60 %");
        assert_eq!(parts("20 % to 60 %, 50 %"), "20 % to 60 % | 50 %");
    }

    #[test]
    fn marked_thousands_nothing_and_broken_yaml_are_found() {
        let way_out = |text, kind| texts(text, kind).unwrap_err().join("; ");
        assert!(way_out("20,000", Kind::Bees).starts_with("did you mean `20_000`?"));
        assert!(way_out("", Kind::Count).contains("`~` removes"));
        assert!(way_out("1,,2", Kind::Count).contains("`~` removes"));
        assert!(!way_out("[1, 2", Kind::Names).is_empty());
        assert!(!way_out("*x", Kind::Name).is_empty());
        assert!(!way_out("# five", Kind::Count).is_empty());
    }
}
