//! Figures as they stand in a scenario: a number, and what is written behind it.

use crate::reading::{Node, Value, word};

/// A number in thousandths, with its unit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Figure {
    pub milli: i64,
    pub unit: String,
}

impl Figure {
    pub(super) fn of(milli: i64, unit: &str) -> Self {
        let unit = unit.to_owned();
        Self { milli, unit }
    }

    /// `6 combs at 70 %` is 6 and ` combs at 70 %`.
    pub(super) fn read(node: &Node) -> Option<Self> {
        let Value::Scalar { .. } = node.value else {
            return None;
        };
        let text = word(node);
        let end = text.find(|c: char| !c.is_ascii_digit() && c != '.' && c != '_');
        let (number, unit) = text.split_at(end.unwrap_or(text.len()));
        let number = number.replace('_', "");
        let (whole, part) = number.split_once('.').unwrap_or((&number, ""));
        let part = format!("{part:0<3}");
        let milli = whole.parse::<i64>().ok()?.checked_mul(1000)?;
        let part = part.get(..3)?.parse::<i64>().ok()?;
        Some(Self::of(milli.checked_add(part)?, unit.trim_end()))
    }
}

/// Thousandths as a number without zeros at its end.
pub(super) fn number(milli: i64) -> String {
    let (whole, part) = (milli / 1000, milli % 1000);
    let text = format!("{whole}.{part:03}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::{Cx, parse};

    #[test]
    fn a_figure_is_read_with_what_stands_behind_it() {
        let read = |text: &str| {
            let text = format!("x: {text}");
            let tree = parse(&mut Cx::new("", &[]), &text, ("", "")).unwrap();
            let figure = tree.get("x").and_then(Figure::read)?;
            Some((number(figure.milli), figure.unit))
        };
        let is = |number: &str, unit: &str| Some((number.to_owned(), unit.to_owned()));
        assert_eq!(read("6"), is("6", ""));
        assert_eq!(read("6 combs at 70 %"), is("6", " combs at 70 %"));
        assert_eq!(read("4.25 full frames"), is("4.25", " full frames"));
        assert_eq!(read("20_000"), is("20000", ""));
        assert_eq!(read("55%"), is("55", "%"));
        assert_eq!(read("none"), None);
        assert_eq!(read("[1]"), None);
        assert_eq!(read("99999999999999999999"), None);
    }
}
