//! What one frame holds, and where it hangs.

use super::report::Holds;
use super::words::clean;
use crate::scenario::SEALED;

/// What one frame holds, its comb first where there are several.
pub(super) fn contents(holds: &Holds, many_combs: bool) -> String {
    match many_combs {
        true => format!("{}, {}", clean(&holds.comb), content(holds)),
        false => content(holds),
    }
}

fn content(holds: &Holds) -> String {
    if holds.drawn_share <= 0.0 {
        return "foundation".to_owned();
    }
    let mut parts = Vec::new();
    if holds.brood_share > 0.0 {
        let of_brood = (holds.sealed_share / holds.brood_share * 100.0).round() as i64;
        // What is counted with where nobody looked is not told as a count.
        let sealed = match of_brood > 0 && of_brood * 10 != SEALED {
            true => format!(" ({of_brood}% of it sealed)"),
            false => String::new(),
        };
        parts.push(format!("brood {}{sealed}", held(holds.brood_share)));
    }
    if holds.stores_share > 0.0 {
        parts.push(format!("stores {}", held(holds.stores_share)));
    }
    if !parts.is_empty() && holds.drawn_share < 1.0 {
        parts.push(format!("{} drawn", held(holds.drawn_share)));
    }
    if parts.is_empty() {
        parts.push(if holds.drawn_share < 1.0 {
            format!("comb {} drawn", held(holds.drawn_share))
        } else {
            "empty comb".to_owned()
        });
    }
    parts.join(", ")
}

/// A share of a comb in whole percent, rounded down, so that none is said to reach what it does not.
fn held(share: f64) -> String {
    format!("{}%", (share * 100.0 + 1e-6).floor())
}

/// Where frames hang or lie, to stand behind what they hold. Bare numbers are named, or they would read as counts.
pub(super) fn hanging(place: Option<&str>) -> String {
    let number = |part: &str| part.chars().all(|c| c.is_ascii_digit());
    let joint = |part: &str| matches!(part, "to" | "and" | "-" | "\u{2013}");
    place.map_or(String::new(), |place| {
        let parts: Vec<&str> = place
            .split([' ', ',', '-', '\u{2013}'])
            .filter(|part| !part.is_empty())
            .collect();
        let named = match parts[..] {
            [one] if number(one) => "place ",
            [_, ..] if parts.iter().all(|part| number(part) || joint(part)) => "places ",
            _ => "",
        };
        format!(" ({named}{})", clean(place))
    })
}
