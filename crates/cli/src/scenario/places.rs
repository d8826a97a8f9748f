//! Sites and the distances between them.

use super::fields as t;
use super::known::Known;
use crate::reading::{At, Cx, Kind, Map, Node, Value, amount, describe, great_circle, word};
use spareframe_solver as s;
use std::collections::BTreeSet;

/// Most sites (a choice: far above any apiary). Distances grow with the square.
const MOST_SITES: usize = 500;

/// A site as read: name, coordinates, where it stands in the file.
pub(crate) struct Spot {
    pub name: String,
    pub degrees: Option<(f64, f64)>,
    /// There are coordinates, and they make no sense.
    unread: bool,
    pub at: At,
}

pub(crate) fn spot(cx: &mut Cx, name: String, node: &Node) -> Spot {
    let empty = matches!(&node.value, Value::Scalar { text, .. } if text.is_empty() || text == "~");
    let map = if empty { None } else { cx.map(node, &t::SITE) };
    let at = map.as_ref().and_then(|m| m.get("at"));
    let place = at.and_then(|n| degrees(cx, n));
    Spot {
        name,
        degrees: place,
        unread: place.is_none() && (at.is_some() || (map.is_none() && !empty)),
        at: node.at,
    }
}

fn degrees(cx: &mut Cx, node: &Node) -> Option<(f64, f64)> {
    let list = if let Value::List(list) = &node.value {
        list.as_slice()
    } else {
        &[]
    };
    let v: Vec<f64> = list.iter().filter_map(|n| word(n).parse().ok()).collect();
    match v.as_slice() {
        [a, b] if list.len() == 2 && a.abs() <= 90.0 && b.abs() <= 180.0 => Some((*a, *b)),
        [_, _] => {
            cx.error(
                "out-of-range",
                node.at,
                "coordinates off the globe",
                "latitude -90 to 90, longitude -180 to 180",
                "write [latitude, longitude] in degrees",
            );
            None
        }
        _ => {
            cx.error(
                "wrong-type",
                node.at,
                match list.len() {
                    0 => describe(node),
                    n => format!("{n} values, not two numbers"),
                },
                "[latitude, longitude]",
                two_numbers(word(node)).or(with_commas(list)).map_or(
                    "write two numbers in degrees, with points, as [48.1, 11.5]".to_owned(),
                    |(a, b)| format!("did you mean `[{a}, {b}]`?"),
                ),
            );
            None
        }
    }
}

/// Two coordinates with commas for points, one or both, as `51,3, 9.4`.
fn with_commas(list: &[Node]) -> Option<(f64, f64)> {
    let texts: Vec<&str> = list.iter().map(word).collect();
    let joined = |whole: &str, part: &str| format!("{whole}.{part}").parse().ok();
    let plain = |text: &str| text.parse::<f64>().ok();
    match texts.as_slice() {
        [a, b, c] if a.contains('.') => Some((plain(a)?, joined(b, c)?)),
        [a, b, c] if c.contains('.') => Some((joined(a, b)?, plain(c)?)),
        [a, b, c, d] => Some((joined(a, b)?, joined(c, d)?)),
        _ => None,
    }
}

/// Two coordinates without brackets, as `48.1, 11.5` or `48.1 N 11.5 E`.
fn two_numbers(text: &str) -> Option<(f64, f64)> {
    let parts = text.split([',', ' ', ';', '°', 'N', 'E', 'S', 'W']);
    let parts = parts.filter(|part| !part.is_empty());
    let parts: Option<Vec<f64>> = parts.map(|part| part.parse().ok()).collect();
    match parts?.as_slice() {
        [a, b] if text.len() <= 40 && !text.contains(['S', 'W']) => Some((*a, *b)),
        _ => None,
    }
}

/// The distances in metres, from coordinates and from what the file states.
pub(crate) fn distances(cx: &mut Cx, top: &Map, spots: &[Spot], known: &Known) -> Vec<Vec<u64>> {
    let at = top.get("sites").map_or(top.at, |n| n.at);
    if cx.too_many(at, spots.len(), "sites", MOST_SITES) {
        return Vec::new();
    }
    let n = spots.len();
    let mut table: Vec<Vec<Option<u64>>> = vec![vec![None; n]; n];
    let mut set = |i: usize, j: usize, d: u64| {
        for (a, b) in [(i, j), (j, i)] {
            if let Some(x) = table.get_mut(a).and_then(|r| r.get_mut(b)) {
                *x = Some(d);
            }
        }
    };
    for (i, a) in spots.iter().enumerate() {
        for (j, b) in spots.iter().enumerate().skip(i + 1) {
            if let (Some(a), Some(b)) = (a.degrees, b.degrees) {
                set(i, j, great_circle(a, b));
            }
        }
        set(i, i, 0);
    }
    let mut stated = BTreeSet::new();
    if let Some(node) = top.get("distances") {
        for n in cx.list(node) {
            if let Some((a, b, metres)) = distance(cx, n, known, &mut stated) {
                let ends = spots.get(a).zip(spots.get(b));
                if let Some((a, b)) = ends.and_then(|(a, b)| a.degrees.zip(b.degrees)) {
                    beside_coordinates(cx, n, metres, great_circle(a, b));
                }
                set(a, b, metres);
            }
        }
    }
    far_apart(cx, spots);
    for (i, (spot, row)) in spots.iter().zip(&table).enumerate() {
        let others = row.iter().zip(spots).skip(i + 1);
        let mut missing = others.filter(|(d, other)| d.is_none() && !other.unread && !spot.unread);
        if let Some((_, other)) = missing.next() {
            cx.error(
                "missing-distance",
                spot.at,
                format!("no distance from `{}` to `{}`", spot.name, other.name),
                "coordinates of both or a distance",
                "add `at:` or an entry in `distances`",
            );
        }
    }
    let metres = |row: Vec<Option<u64>>| row.into_iter().map(|d| d.unwrap_or(0)).collect();
    table.into_iter().map(metres).collect()
}

/// Furthest that boxes are carried on a day, in metres (a choice: six hours on the road).
const FURTHEST: u64 = 500_000;

/// Warns of two sites that no one drives between, and says where latitude and longitude may be swapped.
fn far_apart(cx: &mut Cx, spots: &[Spot]) {
    let placed = spots
        .iter()
        .filter_map(|spot| spot.degrees.map(|at| (spot, at)));
    let placed: Vec<_> = placed.collect();
    for (i, (a, from)) in placed.iter().enumerate() {
        for (b, to) in placed.iter().skip(i + 1) {
            let metres = great_circle(*from, *to);
            if metres <= FURTHEST {
                continue;
            }
            let swapped = |spot: &Spot, at: (f64, f64), other: (f64, f64)| {
                let turned = (at.1, at.0);
                let near = turned.0.abs() <= 90.0 && great_circle(turned, other) <= FURTHEST;
                near.then(|| {
                    format!(
                        "did you swap those of `{}`? Latitude comes first: `[{}, {}]`",
                        spot.name, at.1, at.0
                    )
                })
            };
            let way_out = swapped(b, *to, *from).or_else(|| swapped(a, *from, *to));
            let km = amount(Kind::Metres, (metres / 1000 * 1000) as f64);
            cx.warn(
                "far-apart",
                b.at,
                format!("{km} from `{}` to `{}`", a.name, b.name),
                format!(
                    "at most {}, a day's drive",
                    amount(Kind::Metres, FURTHEST as f64)
                ),
                way_out.unwrap_or_else(|| "correct the coordinates".to_owned()),
            );
            return;
        }
    }
}

fn distance(
    cx: &mut Cx,
    node: &Node,
    known: &Known,
    stated: &mut BTreeSet<(usize, usize)>,
) -> Option<(usize, usize, u64)> {
    let m = cx.map(node, &t::DISTANCE)?;
    let a = m.get("from").and_then(|n| cx.find(n, "site", &known.sites));
    let b = m.get("to").and_then(|n| cx.find(n, "site", &known.sites));
    let metres = cx.quantity(&m, "is", 1.0, None);
    let (a, b, metres) = (a?, b?, metres?);
    if a == b {
        cx.error(
            "out-of-range",
            node.at,
            "a distance from a site to itself",
            "two sites",
            "name two sites",
        );
        return None;
    }
    if !stated.insert((a.min(b), a.max(b))) {
        cx.error(
            "duplicate-key",
            node.at,
            "a distance of these two sites again",
            "each pair once; it holds both ways",
            "remove one of them",
        );
        return None;
    }
    Some((a, b, metres.unsigned_abs()))
}

/// Warns of a stated distance that is not the straight line between the coordinates, within a
/// tenth and 100 m (a choice): bees do not fly along roads.
fn beside_coordinates(cx: &mut Cx, node: &Node, stated: u64, straight: u64) {
    if stated.abs_diff(straight) > straight / 10 + 100 {
        let show = |metres: u64| amount(Kind::Metres, metres as f64);
        cx.warn(
            "two-distances",
            node.get("is").map_or(node.at, |n| n.at),
            format!("a distance of {}", show(stated)),
            format!("{}, as the coordinates say", show(straight)),
            "give the distance in a straight line or remove it, or correct the coordinates",
        );
    }
}

/// Warns of sites that nothing stands at.
pub(crate) fn unused(cx: &mut Cx, spots: &[Spot], scenario: &s::Scenario) {
    let colonies = scenario.colonies.iter().map(|c| c.site.0);
    let used: BTreeSet<usize> = colonies
        .chain(scenario.boxes.iter().map(|b| b.site.0))
        .collect();
    for (i, spot) in spots.iter().enumerate() {
        if !used.contains(&i) {
            cx.warn(
                "unused-name",
                spot.at,
                format!("site `{}`", spot.name),
                "a colony or a box that stands there",
                "use it or remove it",
            );
        }
    }
}
