//! Combs as a glance counts them, `6 combs at 70 %`, or what they hold, `4.2 full frames`.

use super::cx::{Cx, Map, describe, word};
use super::exact::Exact;
use super::fields::Kind;
use super::text;
use super::tree::Node;

/// How combs were counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Counted {
    /// As they hang: each holds some.
    Combs,
    /// As if each were full.
    Full,
    /// It is not said which: a bare number, or `frames`.
    Either,
}

/// So much brood, or stores, on combs alike.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Combs {
    pub counted: Counted,
    /// What all of them hold together, in thousandths of a full frame.
    pub total: i64,
    /// What each holds, in thousandths of the comb, where it is stated.
    pub each: Option<i64>,
}

/// What stands behind the figure: how it is counted, and the share where one is stated.
fn way(unit: &str) -> Option<(Counted, Option<&str>)> {
    let (unit, share) = match unit.split_once(" at ") {
        Some((unit, share)) => (unit.trim(), Some(share.trim())),
        None => (unit, None),
    };
    let counted = match unit {
        "" | "frame" | "frames" => Counted::Either,
        "comb" | "combs" => Counted::Combs,
        "full frame" | "full frames" => Counted::Full,
        _ => return None,
    };
    (share.is_none() || counted == Counted::Combs).then_some((counted, share))
}

/// Reads a text: the figure itself, exact, and what it counts. Combs hold `usual` each, in thousandths,
/// unless a share is stated.
pub(crate) fn combs(text: &str, usual: i64) -> Option<(Exact, Combs)> {
    let (number, unit) = text::number(text)?;
    let (counted, share) = way(unit)?;
    let figure = Exact::read(number, 1.0)?;
    let each = match share {
        Some(share) => {
            let (number, unit) = text::number(share)?;
            let share = Exact::read(number, text::factor(Kind::Share, unit)?)?;
            Some(share.nearest(1000.0)).filter(|_| share.within((0.001, 1.0)))
        }
        None => None,
    };
    if share.is_some() && each.is_none() {
        return None;
    }
    let scale = match counted {
        Counted::Combs => each.unwrap_or(usual),
        Counted::Full | Counted::Either => 1000,
    };
    let total = figure.nearest(scale as f64);
    Some((
        figure,
        Combs {
            counted,
            total,
            each,
        },
    ))
}

/// The share of each comb as it is written, where it is more than a whole one.
fn beyond_full(text: &str) -> Option<&str> {
    let (_, unit) = text::number(text)?;
    let share = way(unit)?.1?;
    let (number, unit) = text::number(share)?;
    let exact = Exact::read(number, text::factor(Kind::Share, unit)?)?;
    (!exact.within((0.0, 1.0))).then_some(share)
}

impl Cx {
    /// Combs of a key, see [`combs`].
    pub fn combs(&mut self, map: &Map, key: &str, usual: i64) -> Option<Combs> {
        let (node, field) = map.with_field(key)?;
        self.combs_of(node, field.range?, usual)
    }

    /// Combs that a value counts, so many frames at least and at most.
    pub fn combs_of(&mut self, node: &Node, range: (f64, f64), usual: i64) -> Option<Combs> {
        let text = word(node);
        let Some((figure, combs)) = combs(text, usual) else {
            if let Some(share) = beyond_full(text) {
                self.error(
                    "out-of-range",
                    node.at,
                    describe(node),
                    "at most 100 %: then a comb is full on both sides",
                    format!("correct `{share}`, or say how many combs there are"),
                );
                return None;
            }
            self.error(
                "wrong-type",
                node.at,
                describe(node),
                text::form(Kind::Combs),
                text::way_out(Kind::Combs, text),
            );
            return None;
        };
        if !figure.within(range) {
            self.error(
                "out-of-range",
                node.at,
                describe(node),
                format!("from {} to {} frames", range.0, range.1),
                "correct the figure",
            );
            return None;
        }
        Some(combs)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn combs_are_counted_as_they_hang_or_as_if_they_were_full() {
        let read = |text| combs(text, 650).map(|(_, c)| (c.counted, c.total, c.each));
        assert_eq!(read("6 combs"), Some((Counted::Combs, 3900, None)));
        assert_eq!(
            read("6 combs at 70 %"),
            Some((Counted::Combs, 4200, Some(700)))
        );
        assert_eq!(
            read("1 comb at 0.35"),
            Some((Counted::Combs, 350, Some(350)))
        );
        assert_eq!(read("4.2 full frames"), Some((Counted::Full, 4200, None)));
        assert_eq!(read("4.5 frames"), Some((Counted::Either, 4500, None)));
        assert_eq!(read("4"), Some((Counted::Either, 4000, None)));
        for wrong in [
            "six",
            "6 kg",
            "6 combs at",
            "6 combs at 70 kg",
            "6 combs at 0 %",
            "6 combs at 120 %",
            "6 frames at 70 %",
            "",
        ] {
            assert_eq!(read(wrong), None, "{wrong}");
        }
    }
}
