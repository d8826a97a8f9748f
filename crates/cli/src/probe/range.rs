//! Ranges of figures, as `4..7 kg by 0.5`, in exact decimals.

use super::MOST;

/// Most digits of a figure in a range (a choice: more than any figure of the format needs).
const MOST_DIGITS: usize = 15;

/// A decimal figure: `units` times ten to the power of minus `places`.
#[derive(Debug, Clone, Copy)]
struct Decimal {
    units: i64,
    places: u32,
}

impl Decimal {
    fn read(text: &str) -> Option<Self> {
        let text = text.replace('_', "");
        let (whole, part) = text.split_once('.').unwrap_or((&text, ""));
        let digits = format!("{whole}{part}");
        let good = !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit());
        Some(Self {
            units: digits
                .parse()
                .ok()
                .filter(|_| good && digits.len() <= MOST_DIGITS)?,
            places: u32::try_from(part.len()).ok()?,
        })
    }

    /// Its units where so many places are counted.
    fn with(self, places: u32) -> Option<i64> {
        let factor = 10_i64.checked_pow(places.checked_sub(self.places)?)?;
        self.units.checked_mul(factor)
    }
}

/// What is wrong with a range: what was expected, and the way out.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Wrong(pub &'static str, pub &'static str);

/// How a range is written.
const FORM: &str = "a range such as `4..7 kg by 0.5`";

/// The figures of a range, each with its unit: both ends count, if the steps meet the last.
///
/// # Errors
/// Where it is no range, does not move, or has more figures than there may be alternatives.
pub(super) fn figures(text: &str) -> Result<Vec<String>, Wrong> {
    let no_range = || {
        Wrong(
            FORM,
            "write two figures, and the unit once behind the second",
        )
    };
    let (ends, step) = match text.split_once(" by ") {
        Some((ends, step)) => (ends, Some(step.trim())),
        None => (text, None),
    };
    let ends = ends.split_once("..").filter(|_| !ends.contains("..."));
    let (from, to) = ends.ok_or_else(no_range)?;
    let read = |(figure, unit)| Decimal::read(figure).map(|figure| (figure, unit));
    let part = |text| read(parted(text)).ok_or_else(no_range);
    let (from, first_unit) = part(from)?;
    let (to, unit) = part(to)?;
    let (step, step_unit) = part(step.unwrap_or("1"))?;
    if !(first_unit.is_empty() || first_unit == unit) {
        return Err(Wrong("one unit", "give both ends in the same unit"));
    }
    if !(step_unit.is_empty() || step_unit == unit) {
        return Err(Wrong("one unit", "give the step in the unit of the range"));
    }
    let places = from.places.max(to.places).max(step.places);
    let scaled = |figure: Decimal| figure.with(places).ok_or_else(no_range);
    let (from, to, step) = (scaled(from)?, scaled(to)?, scaled(step)?);
    if step == 0 {
        return Err(Wrong("a step above 0", "write another step behind `by`"));
    }
    let count = (to - from).unsigned_abs() / step.unsigned_abs() + 1;
    let count = usize::try_from(count).ok().filter(|&count| count <= MOST);
    let Some(count) = count else {
        return Err(Wrong(
            "at most 1000 figures",
            "narrow the range, or widen the step with `by`",
        ));
    };
    let step = if to < from { -step } else { step };
    let figure = |units: i64| match unit {
        "" => shown(units, places),
        "%" => format!("{} %", shown(units, places)),
        unit => format!("{} {unit}", shown(units, places)),
    };
    Ok((0..count)
        .zip(0..)
        .map(|(_, n)| figure(from + step * n))
        .collect())
}

/// A figure and its unit.
fn parted(text: &str) -> (&str, &str) {
    let text = text.trim();
    let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '_')));
    let (number, unit) = text.split_at(end.unwrap_or(text.len()));
    (number.trim(), unit.trim())
}

/// Units with so many places as a figure without needless zeros.
fn shown(units: i64, places: u32) -> String {
    let scale = 10_i64.pow(places);
    let (whole, part) = (units / scale, units % scale);
    if places == 0 {
        return whole.to_string();
    }
    let text = format!("{whole}.{part:0width$}", width = places as usize);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_range_holds_both_ends_and_every_step_between() {
        let figures = |text| figures(text).unwrap().join(" | ");
        assert_eq!(figures("4..7"), "4 | 5 | 6 | 7");
        assert_eq!(
            figures("4..5.2 kg by 0.4"),
            "4 kg | 4.4 kg | 4.8 kg | 5.2 kg"
        );
        assert_eq!(figures("4 kg .. 6 kg by 1.5 kg"), "4 kg | 5.5 kg");
        assert_eq!(figures("40..20 % by 10"), "40 % | 30 % | 20 %");
        assert_eq!(figures("20_000..24_000 by 2_000"), "20000 | 22000 | 24000");
        assert_eq!(figures(".5..1 by .25"), "0.5 | 0.75 | 1");
        assert_eq!(figures("3..3"), "3");
    }

    #[test]
    fn what_is_no_range_or_too_long_is_found() {
        for text in [
            "4..",
            "..7",
            "a..b",
            "-1..3",
            "4..7 by x",
            "4...7",
            "1..2 by -1",
        ] {
            assert_eq!(figures(text).map_err(|wrong| wrong.0), Err(FORM), "{text}");
        }
        let expected = |text| figures(text).unwrap_err().0;
        assert_eq!(expected("4 kg..7 lb"), "one unit");
        assert_eq!(expected("4..7 kg by 2 lb"), "one unit");
        assert_eq!(expected("4..7 by 0"), "a step above 0");
        for text in ["0..1000", "0..999999999999999", "0..1 by 0.000000001"] {
            assert_eq!(expected(text), "at most 1000 figures", "{text}");
        }
        assert_eq!(figures("1..1000").unwrap().len(), 1000);
        assert!(figures("0..1 by 0.000000000000000000001").is_err());
    }
}
