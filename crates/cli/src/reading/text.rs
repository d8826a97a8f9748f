//! Quantities written as text.

/// A number and its unit, as in `6 kg`.
pub(crate) fn split(text: &str) -> Option<(f64, &str)> {
    let text = text.trim();
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | '_')))
        .unwrap_or(text.len());
    let number = text.get(..end)?.replace('_', "");
    let value: f64 = number.parse().ok()?;
    value
        .is_finite()
        .then(|| (value, text.get(end..).unwrap_or_default().trim()))
}

/// The factor to the base unit of a kind of quantity.
pub(crate) fn factor(kind: &str, unit: &str) -> Option<f64> {
    Some(match (kind, unit) {
        ("count" | "number" | "area", "") | ("metres", "m") | ("grams", "g") | ("share", "") => 1.0,
        ("area", "dm2") | ("bees", "" | "bees") | ("frames", "" | "frame" | "frames") => 1.0,
        ("grams", "kg") | ("metres", "km") => 1000.0,
        ("grams", "lb") => 453.592_37,
        ("grams", "oz") => 28.349_523_125,
        ("metres", "mi") => 1609.344,
        ("share", "%") => 0.01,
        _ => return None,
    })
}

/// How a kind is written.
pub(crate) fn form(kind: &str) -> &'static str {
    match kind {
        "count" => "a whole number",
        "grams" => "a weight such as `6 kg` or `12 lb`",
        "metres" => "a distance such as `3.4 km` or `2 mi`",
        "share" => "a share such as `60 %` or `0.6`",
        "frames" => "frames such as `2.5 frames`",
        "bees" => "bees as a number or as `4 frames`",
        "area" => "an area such as `8.8 dm2`",
        _ => "a number",
    }
}

/// Great-circle distance in metres, earth radius 6371.0088 km.
pub(crate) fn great_circle(a: (f64, f64), b: (f64, f64)) -> u64 {
    let (la, lb) = (a.0.to_radians(), b.0.to_radians());
    let h = ((lb - la) / 2.0).sin().powi(2)
        + la.cos() * lb.cos() * ((b.1 - a.1).to_radians() / 2.0).sin().powi(2);
    let d = 2.0 * 6_371_008.8 * h.clamp(0.0, 1.0).sqrt().asin();
    d.round() as u64
}
