//! Quantities written as text.

use super::fields::Kind;

/// The figure of a text and what stands behind it, as in `6 kg`. Underscores may part digits.
pub(crate) fn number(text: &str) -> Option<(&str, &str)> {
    let text = text.trim();
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | '_')))
        .unwrap_or(text.len());
    let (number, unit) = text.split_at_checked(end)?;
    (!number.starts_with('_')).then(|| (number, unit.trim()))
}

/// A number and its unit, as in `6 kg`.
pub(crate) fn split(text: &str) -> Option<(f64, &str)> {
    let (number, unit) = number(text)?;
    let value: f64 = number.replace('_', "").parse().ok()?;
    value.is_finite().then_some((value, unit))
}

/// Units of a kind and their factors to its base unit. An empty unit is a bare number.
fn units(kind: Kind) -> &'static [(&'static str, f64)] {
    match kind {
        Kind::Count | Kind::Number => &[("", 1.0)],
        Kind::Area => &[("", 1.0), ("dm2", 1.0)],
        Kind::Share => &[("", 1.0), ("%", 0.01)],
        Kind::Frames => &[("", 1.0), ("frame", 1.0), ("frames", 1.0)],
        Kind::Combs => &[
            ("", 1.0),
            ("frame", 1.0),
            ("frames", 1.0),
            ("comb", 1.0),
            ("combs", 1.0),
            ("full frame", 1.0),
            ("full frames", 1.0),
        ],
        Kind::Bees => &[("", 1.0), ("bee", 1.0), ("bees", 1.0)],
        // Exact by definition: the international yard and pound agreement of 1959.
        Kind::Grams => &[
            ("g", 1.0),
            ("kg", 1000.0),
            ("lb", 453.592_37),
            ("oz", 28.349_523_125),
        ],
        Kind::Metres => &[("m", 1.0), ("km", 1000.0), ("mi", 1609.344)],
        Kind::Days => &[("day", 1.0), ("days", 1.0), ("week", 7.0), ("weeks", 7.0)],
        Kind::Hours => &[
            ("h", 1.0),
            ("hour", 1.0),
            ("hours", 1.0),
            ("day", 24.0),
            ("days", 24.0),
        ],
        Kind::Cap(of) | Kind::Range(of) => units(*of),
        _ => &[],
    }
}

/// The factor to the base unit of a kind of quantity.
pub(crate) fn factor(kind: Kind, unit: &str) -> Option<f64> {
    let found = units(kind).iter().find(|(name, _)| *name == unit);
    found.map(|(_, factor)| *factor)
}

/// How a kind is written.
pub(crate) fn form(kind: Kind) -> &'static str {
    match kind {
        Kind::Count => "a whole number",
        Kind::Grams => "a weight such as `6 kg` or `12 lb`",
        Kind::Metres => "a distance such as `3.4 km` or `2 mi`",
        Kind::Share => "a share such as `60 %` or `0.6`",
        Kind::Frames => "frames such as `2.5 frames`",
        Kind::Combs => "combs such as `6 combs` or `6 combs at 70 %`, or `4.2 full frames`",
        Kind::Bees => "bees as a number or as `4 frames`",
        Kind::Area => "an area such as `8.8 dm2`",
        Kind::Days => "days such as `10 days` or `2 weeks`",
        Kind::Hours => "hours such as `12 hours`",
        Kind::Range(Kind::Days) => "days such as `10 days` or `6 to 10 days`",
        Kind::Range(Kind::Share) => "a share such as `70 %` or `60 to 80 %`",
        Kind::Cap(of) | Kind::Range(of) => form(*of),
        _ => "a number",
    }
}

/// Names of units that people write, and what the format calls them.
const MEANT: &[(&str, &str)] = &[
    ("seam", "frame"),
    ("seams", "frames"),
    ("gram", "g"),
    ("grams", "g"),
    ("gr", "g"),
    ("kilo", "kg"),
    ("kilos", "kg"),
    ("kgs", "kg"),
    ("lbs", "lb"),
    ("pound", "lb"),
    ("pounds", "lb"),
    ("ounce", "oz"),
    ("ounces", "oz"),
    ("metres", "m"),
    ("meters", "m"),
    ("kms", "km"),
    ("mile", "mi"),
    ("miles", "mi"),
    ("percent", "%"),
    ("comb", "frames"),
    ("combs", "frames"),
    ("dm²", "dm2"),
    ("d", "days"),
    ("wk", "weeks"),
    ("hrs", "hours"),
    ("hr", "hours"),
];

/// Whether a whole number is written with marked thousands, as in `20.000`.
pub(crate) fn in_thousands(kind: Kind, text: &str) -> bool {
    let number = text.trim().trim_end_matches("bees").trim_end();
    let mut groups = number.split(['.', ',']);
    let digits = |g: &str| g.bytes().all(|b| b.is_ascii_digit());
    let first = groups.next().unwrap_or_default();
    let rest: Vec<&str> = groups.collect();
    matches!(kind, Kind::Count | Kind::Bees)
        && (1..=3).contains(&first.len())
        && digits(first)
        && !rest.is_empty()
        && rest.iter().all(|g| g.len() == 3 && digits(g))
}

/// The way out of a quantity that cannot be read: what may be meant, else how it is written.
pub(crate) fn way_out(kind: Kind, text: &str) -> String {
    let usual = format!("write {}", form(kind));
    if text.len() > 60 {
        return usual;
    }
    let text = &text.trim().replace('½', ".5");
    if let Some(meant) = counted_otherwise(kind, text) {
        return meant;
    }
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '_' | '-' | '+')))
        .unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let number = if in_thousands(kind, text) {
        number.replace(['.', ','], "")
    } else {
        number.replacen(',', ".", 1)
    };
    let Some((value, "")) = split(&number) else {
        return usual;
    };
    let unit = unit.trim().to_lowercase();
    let meant = MEANT.iter().find(|(name, _)| *name == unit);
    let unit = match meant {
        Some((_, meant)) if factor(kind, &unit).is_none() => meant,
        _ => unit.as_str(),
    };
    let bees_on = kind == Kind::Bees && matches!(unit, "frame" | "frames");
    match (factor(kind, unit), unit, kind) {
        (None, "", Kind::Grams) => format!("add the unit: `{number} kg`, or g, lb, oz"),
        (None, "", Kind::Days) => format!("add the unit: `{number} days`, or weeks"),
        (None, "", Kind::Hours) => format!("add the unit: `{number} hours`, or days"),
        (None, "", Kind::Metres) => format!("add the unit: `{number} km`, or m, mi"),
        (None, _, Kind::Count) if !unit.is_empty() && value.fract() == 0.0 => {
            format!("write the number alone: `{number}`")
        }
        (None, ..) if !bees_on => usual,
        _ if kind == Kind::Count && value.fract() != 0.0 => usual,
        _ => format!("did you mean `{}`?", format!("{number} {unit}").trim()),
    }
}

/// Words before a figure that say that it is rough; every count is.
const ROUGH: [&str; 7] = ["about", "approx.", "around", "ca.", "circa", "some", "~"];
/// Figures in words, from 0.
const WORDS: [&str; 13] = [
    "none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
    "eleven", "twelve",
];
/// Bees in a kilogram (a German journal, seen).
const BEES_IN_A_KILOGRAM: f64 = 10_000.0;

/// The way out for counts that are said in another way than the format has it.
fn counted_otherwise(kind: Kind, text: &str) -> Option<String> {
    let rough = ROUGH.iter().find_map(|word| text.strip_prefix(word));
    if let Some(figure) = rough
        .map(str::trim)
        .filter(|figure| split(figure).is_some())
    {
        return Some(format!("every figure is a rough one: write `{figure}`"));
    }
    let mut words = text.split_whitespace();
    let (first, rest) = (words.next()?, words.collect::<Vec<_>>().join(" "));
    let counts = matches!(kind, Kind::Count | Kind::Combs | Kind::Frames | Kind::Bees);
    if let (true, Some(n)) = (
        counts,
        WORDS.iter().position(|word| *word == first.to_lowercase()),
    ) {
        let unit = match (kind, rest.as_str()) {
            (Kind::Count, _) => String::new(),
            (Kind::Combs, "") => " combs".to_owned(),
            (_, rest) => format!(" {rest}"),
        };
        return Some(format!(
            "did you mean `{}`?",
            format!("{n}{unit}").trim_end()
        ));
    }
    match (kind, split(text)?) {
        (Kind::Combs, (_, "%")) => Some(format!("say on how many combs: `6 combs at {text}`")),
        (Kind::Combs, (n, rest)) => {
            let all = rest.strip_prefix("of ")?.split_whitespace().next()?;
            let all = all.parse::<u32>().ok()?;
            Some(format!(
                "write `{n} combs`, and `all frames: {all}` for all of them"
            ))
        }
        (Kind::Bees, (weight, unit @ ("g" | "kg"))) => {
            let kilos = weight * if unit == "g" { 0.001 } else { 1.0 };
            let bees = (kilos * BEES_IN_A_KILOGRAM).round();
            Some(format!(
                "bees are counted; 1 kg is about 10,000: did you mean `{bees}`?"
            ))
        }
        _ => None,
    }
}

/// A figure in the base unit of its kind, as people write it.
pub(crate) fn amount(kind: Kind, value: f64) -> String {
    match kind {
        Kind::Share => format!("{} %", value * 100.0),
        Kind::Grams if value >= 1000.0 => format!("{} kg", value / 1000.0),
        Kind::Grams => format!("{value} g"),
        Kind::Metres if value >= 1000.0 => format!("{} km", value / 1000.0),
        Kind::Metres => format!("{value} m"),
        Kind::Area => format!("{value} dm2"),
        Kind::Frames | Kind::Combs => format!("{value} frames"),
        Kind::Days => format!("{value} days"),
        Kind::Hours => format!("{value} hours"),
        Kind::Cap(of) | Kind::Range(of) => amount(*of, value),
        _ => value.to_string(),
    }
}

/// A figure that is not negative, as a regular expression.
const FIGURE: &str = "([0-9][0-9_]*(\\.[0-9_]*)?|\\.[0-9][0-9_]*)";

/// A regular expression for the text of a quantity; one number, one unit. Negative figures
/// are out of every range, so no sign is allowed.
pub(crate) fn pattern(kind: Kind) -> String {
    if let Kind::Range(of) = kind {
        let one = pattern(*of);
        let one = one.trim_start_matches('^').trim_end_matches('$');
        return format!("^({FIGURE} +to )?{one}$|^{one} to {one}$");
    }
    let mut names: Vec<&str> = units(kind).iter().map(|(name, _)| *name).collect();
    if kind == Kind::Bees {
        names.extend(["frame", "frames"]);
    }
    if kind == Kind::Combs {
        // What stands between `at` and the share is the share's to say.
        names.extend(["combs? at +([0-9][0-9_]*(\\.[0-9_]*)?|\\.[0-9][0-9_]*) *%?"]);
    }
    let bare = names.contains(&"");
    names.retain(|name| !name.is_empty());
    let unit = match (names.is_empty(), bare) {
        (true, _) => String::new(),
        (false, true) => format!(" *({})?", names.join("|")),
        (false, false) => format!(" *({})", names.join("|")),
    };
    let figure = if kind == Kind::Count {
        "[0-9][0-9_]*"
    } else {
        FIGURE
    };
    format!("^ *\\+?{figure}{unit} *$")
}

/// Great-circle distance in metres, earth radius 6371.0088 km (mean radius of the IUGG).
pub(crate) fn great_circle(a: (f64, f64), b: (f64, f64)) -> u64 {
    let (la, lb) = (a.0.to_radians(), b.0.to_radians());
    let h = ((lb - la) / 2.0).sin().powi(2)
        + la.cos() * lb.cos() * ((b.1 - a.1).to_radians() / 2.0).sin().powi(2);
    let d = 2.0 * 6_371_008.8 * h.clamp(0.0, 1.0).sqrt().asin();
    d.round() as u64
}

#[cfg(test)]
mod tests {
    use super::*;

    /// International yard and pound agreement of 1959: 1 lb = 0.45359237 kg, 1 yd = 0.9144 m;
    /// 16 oz to the pound, 1760 yd to the mile.
    #[test]
    fn units_are_exact_by_definition() {
        for (kind, unit, grams_or_metres) in [
            (Kind::Grams, "g", 1.0),
            (Kind::Grams, "kg", 1000.0),
            (Kind::Grams, "lb", 1000.0 * 0.453_592_37),
            (Kind::Grams, "oz", 453.592_37 / 16.0),
            (Kind::Metres, "m", 1.0),
            (Kind::Metres, "km", 1000.0),
            (Kind::Metres, "mi", 1760.0 * 0.9144),
        ] {
            assert_eq!(factor(kind, unit), Some(grams_or_metres), "{unit}");
        }
        assert_eq!(factor(Kind::Grams, ""), None, "a bare weight is ambiguous");
        assert_eq!(factor(Kind::Grams, "km"), None);
    }

    #[test]
    fn great_circles_follow_from_the_radius() {
        let radius: f64 = 6_371_008.8;
        let metres = |degrees: f64| (radius * degrees.to_radians()).round() as u64;
        // Along a meridian and along the equator an angle is an arc.
        assert_eq!(great_circle((50.0, 8.0), (51.0, 8.0)), metres(1.0));
        assert_eq!(great_circle((0.0, 0.0), (0.0, 90.0)), metres(90.0));
        assert_eq!(great_circle((90.0, 0.0), (-90.0, 0.0)), metres(180.0));
        // Over the date line, and the same either way.
        assert_eq!(great_circle((0.0, 179.5), (0.0, -179.5)), metres(1.0));
        let (a, b) = ((50.10, 8.20), (50.14, 8.27));
        assert_eq!(great_circle(a, b), great_circle(b, a));
        assert_eq!(great_circle(a, a), 0);
        // Small triangles are flat: 0.04 degrees north, 0.07 east at cos(50.12).
        let flat = metres(0.04) as f64;
        let east = metres(0.07) as f64 * 50.12_f64.to_radians().cos();
        assert!((great_circle(a, b) as f64 - flat.hypot(east)).abs() < 2.0);
    }
}
