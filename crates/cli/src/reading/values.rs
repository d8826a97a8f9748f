//! Typed values: yes or no, quantities, ranges, words.

use super::cx::{Cx, Map, describe, word};
use super::exact::Exact;
use super::fields::Kind;
use super::names::near;
use super::text;
use super::tree::{Node, Value};

impl Cx {
    /// Yes or no; no where it is not said.
    pub fn flag(&mut self, node: Option<&Node>) -> bool {
        match node.map(|n| (n, word(n))) {
            None => false,
            Some((_, "true" | "yes")) => true,
            Some((_, "false" | "no")) => false,
            Some((n, said)) => {
                let way_out = match said.to_lowercase().as_str() {
                    "x" | "y" | "1" | "ja" | "oui" | "true" | "yes" => "did you mean `yes`?",
                    "n" | "0" | "none" | "nein" | "non" | "false" | "no" => "did you mean `no`?",
                    "" | "~" => "say `yes` behind the colon",
                    _ => "write `yes` or `no`",
                };
                self.error("wrong-type", n.at, describe(n), "yes or no", way_out);
                false
            }
        }
    }
    /// A quantity in its base unit times `scale`, rounded once to the nearest whole number, halves
    /// up. `covered` is how many bees cover a frame.
    pub fn quantity(
        &mut self,
        map: &Map,
        key: &str,
        scale: f64,
        covered: Option<i64>,
    ) -> Option<i64> {
        let (node, f) = map.with_field(key)?;
        self.value(node, f.kind, f.range?, scale, covered)
    }
    /// A whole number within its range.
    pub fn count(&mut self, map: &Map, key: &str) -> Option<u32> {
        let value = self.quantity(map, key, 1.0, None)?;
        u32::try_from(value).ok()
    }
    /// A quantity of a kind within its range, as in [`Self::quantity`].
    pub fn value(
        &mut self,
        node: &Node,
        kind: Kind,
        limits: (f64, f64),
        scale: f64,
        covered: Option<i64>,
    ) -> Option<i64> {
        Some(self.exact(node, kind, limits, covered)?.nearest(scale))
    }
    /// A quantity of a kind within its range, exact.
    pub fn exact(
        &mut self,
        node: &Node,
        kind: Kind,
        (least, most): (f64, f64),
        covered: Option<i64>,
    ) -> Option<Exact> {
        let kind = capped(kind);
        let text = word(node);
        if let (Kind::Bees, Some((few, ""))) = (kind, text::split(text))
            && few > 0.0
            && few < FEWEST_BARE
            && !text::in_thousands(kind, text)
        {
            self.few_bees(node);
            return None;
        }
        let factor = match text::split(text) {
            _ if text::in_thousands(kind, text) => None,
            Some((_, "frame" | "frames")) if kind == Kind::Bees && covered.is_some() => {
                covered.map(|bees| bees as f64)
            }
            Some((_, unit)) => text::factor(kind, unit),
            None => None,
        };
        let figure = factor.and_then(|factor| Exact::read(text::number(text)?.0, factor));
        let whole = |figure: &Exact| match kind {
            Kind::Count | Kind::Days | Kind::Hours => figure.is_whole(),
            _ => true,
        };
        let Some(figure) = figure.filter(whole) else {
            self.error(
                "wrong-type",
                node.at,
                describe(node),
                text::form(kind),
                text::way_out(kind, text),
            );
            return None;
        };
        if !figure.within((least, most)) {
            let (from, to) = (text::amount(kind, least), text::amount(kind, most));
            let bare = figure.within((1.0, 100.0)).then(|| text::split(text));
            let bare = bare.flatten().filter(|_| kind == Kind::Share);
            self.error(
                "out-of-range",
                node.at,
                describe(node),
                if from == to {
                    from
                } else {
                    format!("{}, from {from} to {to}", text::form(kind))
                },
                match bare {
                    Some((value, "")) => format!("did you mean `{value} %`?"),
                    _ => "correct the figure".to_owned(),
                },
            );
            return None;
        }
        Some(figure)
    }
    /// So few bees are hardly meant: they may be frames, or bees.
    fn few_bees(&mut self, node: &Node) {
        let figure = word(node).trim();
        let unit = |one, many| if figure == "1" { one } else { many };
        self.error(
            "two-meanings",
            node.at,
            format!("`{figure}`: bees, or frames covered with bees"),
            "which of the two it is",
            format!(
                "write `{figure} {}` for what covers so many, or `{figure} {}`",
                unit("frame", "frames"),
                unit("bee", "bees")
            ),
        );
    }
    /// A quantity, or from one to another: the least and the most, as in [`Self::quantity`].
    pub fn range(&mut self, map: &Map, key: &str, scale: f64) -> Option<(i64, i64)> {
        let (node, f) = map.with_field(key)?;
        let kind = capped(f.kind);
        let (Kind::Range(of), Some(limits)) = (kind, f.range) else {
            return None;
        };
        let text = word(node);
        let Some((least, most)) = text.split_once(" to ") else {
            if text::split(text)
                .and_then(|(_, unit)| text::factor(*of, unit))
                .is_none()
            {
                // The whole form is shown, as a range may have been meant.
                self.error(
                    "wrong-type",
                    node.at,
                    describe(node),
                    text::form(kind),
                    text::way_out(*of, text),
                );
                return None;
            }
            let value = self.value(node, *of, limits, scale, None)?;
            return Some((value, value));
        };
        let unit = text::split(most).map_or("", |(_, unit)| unit);
        let bare = matches!(text::split(least), Some((_, "")));
        let least = if bare {
            format!("{} {unit}", least.trim())
        } else {
            least.to_owned()
        };
        let mut one = |text: &str| {
            let node = Node {
                at: node.at,
                value: Value::Scalar {
                    text: text.trim().to_owned().into(),
                    plain: true,
                },
            };
            self.value(&node, *of, limits, scale, None)
        };
        let (least, most) = (one(&least), one(most));
        let (least, most) = (least?, most?);
        if least > most {
            self.error(
                "out-of-range",
                node.at,
                describe(node),
                "the lesser first",
                "turn the two round",
            );
            return None;
        }
        Some((least, most))
    }
    /// Which of the words of a field stands there.
    pub fn one_of(&mut self, map: &Map, key: &str) -> Option<&'static str> {
        let (node, f) = map.with_field(key)?;
        let Kind::OneOf(words) = f.kind else {
            return None;
        };
        let found = words.iter().find(|known| **known == word(node));
        if found.is_none() {
            let way_out = near(word(node), words.iter().copied(), 3);
            self.error(
                "wrong-type",
                node.at,
                describe(node),
                format!("`{}`", words.join("` or `")),
                way_out.unwrap_or_else(|| "write the one of these that is meant".to_owned()),
            );
        }
        found.copied()
    }
}

/// Fewer bees than these are not written as a bare number: bees are counted in hundreds.
pub(crate) const FEWEST_BARE: f64 = 100.0;

/// The kind of figure under a cap.
fn capped(kind: Kind) -> Kind {
    match kind {
        Kind::Cap(of) => *of,
        kind => kind,
    }
}
