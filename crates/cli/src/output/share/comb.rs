//! One comb as it hangs, drawn once for all that look alike.

use crate::output::report::Holds;
use spareframe_solver::Scenario;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;

/// Left, right, upper and lower edge of the comb in a frame of 100 by 60.
const LEFT: f64 = 6.5;
const RIGHT: f64 = 93.5;
const TOP: f64 = 6.5;
const BOTTOM: f64 = 46.5;
const WIDE: f64 = RIGHT - LEFT;
const HIGH: f64 = BOTTOM - TOP;
const MIDDLE: f64 = 50.0;
/// A brood nest is about twice as wide as it is high (a choice, by the eye).
const OVAL: f64 = 1.95;
/// How far the handles of its curves reach: between a circle (0.55) and a square (1).
const ROUND: f64 = 0.66;
/// How much lower stores reach at the sides than in the middle: around brood, and without it.
const AROUND: f64 = 13.0;
const FLAT: f64 = 4.0;
/// Shares are drawn in steps of so many hundredths, bees in parts of a covered comb.
const STEP: u8 = 5;
const PARTS: u8 = 8;

/// What tells one drawing from another, in hundredths of the comb and parts of its cover.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Look {
    brood: u8,
    stores: u8,
    drawn: u8,
    bees: u8,
    queen: bool,
}

impl Look {
    /// The same on every page, so that parts of one that are drawn anew need no new drawings.
    fn name(self) -> String {
        let steps = |share: u8| u32::from(share / STEP);
        let shares = [self.brood, self.stores, self.drawn].map(steps);
        let packed = shares.iter().fold(0, |sum, share| sum * 21 + share);
        let packed = packed * u32::from(PARTS + 1) + u32::from(self.bees);
        format!("k{:x}{}", packed, if self.queen { "q" } else { "" })
    }
}

/// All combs of a page, each look once.
#[derive(Debug, Default)]
pub(super) struct Combs {
    looks: BTreeSet<Look>,
    full: BTreeMap<String, i64>,
}

impl Combs {
    pub(super) fn of(scenario: &Scenario) -> Self {
        let full = scenario.combs.iter();
        Self {
            looks: BTreeSet::new(),
            full: full
                .map(|comb| (comb.name.clone(), comb.bees.0.saturating_mul(100)))
                .collect(),
        }
    }

    /// The name of the drawing of a comb. Without `bees` it is drawn as if none were on it.
    pub(super) fn name(&mut self, holds: &Holds, bees: i64, queen: bool) -> String {
        let full = self.full.get(&holds.comb).copied().unwrap_or(0);
        let look = Look {
            brood: hundredths(holds.brood_share),
            stores: hundredths(holds.stores_share),
            drawn: hundredths(holds.drawn_share),
            bees: parts(bees, full),
            queen,
        };
        self.looks.insert(look);
        look.name()
    }

    /// The drawings, by name.
    pub(super) fn drawings(&self) -> Vec<(String, String)> {
        let all = self.looks.iter();
        all.map(|look| (look.name(), drawn(*look))).collect()
    }
}

/// A share in hundredths, to the step; what is there at all is seen.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "between 0 and 100"
)]
fn hundredths(share: f64) -> u8 {
    if share <= 0.0 {
        return 0;
    }
    let steps = share.min(1.0) * 100.0 / f64::from(STEP);
    (steps.round() as u8).max(1) * STEP
}

/// Bees in parts of a covered comb; some are seen.
fn parts(bees: i64, full: i64) -> u8 {
    if bees <= 0 || full <= 0 {
        return 0;
    }
    let all = i64::from(PARTS);
    let parts = bees.saturating_mul(all).saturating_add(full / 2) / full;
    u8::try_from(parts.clamp(1, all)).unwrap_or(PARTS)
}

fn drawn(look: Look) -> String {
    let mut out = String::new();
    let share = |hundredths: u8| f64::from(hundredths) / 100.0;
    let (brood, stores) = (share(look.brood), share(look.stores));
    foundation(&mut out, share(look.drawn));
    if stores > 0.0 {
        let reach = Reach::of(stores, brood > 0.0);
        reach.area(&mut out);
        reach.hatch(&mut out);
    }
    let mut centre = TOP + HIGH / 2.0;
    if brood > 0.0 {
        let nest = Nest::of(brood);
        nest.draw(&mut out);
        centre = nest.centre;
    }
    let _ = write!(
        out,
        r#"<path class="wood" d="M4.4 4V49H95.6V4"/><path class="top" d="M.6.8H99.4V5.4H.6Z"/>"#
    );
    bees(&mut out, look.bees);
    if look.queen {
        queen(&mut out, centre);
    }
    out
}

/// Comb from above down as far as it is drawn; wires below, where there is only foundation.
fn foundation(out: &mut String, drawn: f64) {
    let edge = TOP + HIGH * drawn.clamp(0.0, 1.0);
    if drawn > 0.0 {
        let _ = write!(
            out,
            r#"<path class="wax" d="M{LEFT} {TOP}H{RIGHT}V{}H{LEFT}Z"/>"#,
            short(edge)
        );
    }
    if drawn < 1.0 {
        let _ = write!(
            out,
            r#"<path class="fnd" d="M{LEFT} {}H{RIGHT}V{BOTTOM}H{LEFT}Z"/>"#,
            short(edge)
        );
        let wires = [14.0, 23.0, 32.0, 41.0].into_iter().filter(|y| *y > edge);
        let wires: String = wires
            .map(|y| format!("M{LEFT} {}H{RIGHT}", short(y)))
            .collect();
        let _ = write!(out, r#"<path class="wire" d="{wires}"/>"#);
    }
}

/// How far stores reach down: a parabola, lowest at the sides.
struct Reach {
    middle: f64,
    drop: f64,
}

impl Reach {
    /// Its area is the share of the comb.
    fn of(share: f64, brood: bool) -> Self {
        let most = if brood { AROUND } else { FLAT };
        // Not more than leaves something in the middle and ends at the lower edge.
        let drop = most
            .min(HIGH * share * 2.2)
            .min((HIGH * (1.0 - share) * 1.5).max(0.0));
        Self {
            middle: (TOP + HIGH * share - drop / 3.0).max(TOP),
            drop,
        }
    }

    fn at(&self, x: f64) -> f64 {
        let aside = (x - MIDDLE) / (WIDE / 2.0);
        (self.middle + self.drop * aside * aside).min(BOTTOM)
    }

    fn area(&self, out: &mut String) {
        let side = self.at(LEFT);
        let _ = write!(
            out,
            r#"<path class="store" d="M{LEFT} {TOP}H{RIGHT}V{}Q50 {} {LEFT} {}Z"/>"#,
            short(side),
            short(2.0 * self.middle - side),
            short(side)
        );
    }

    /// Slanting lines over it, each ended where the stores end: a pattern would turn grey in print.
    fn hatch(&self, out: &mut String) {
        let mut lines = String::new();
        let mut start = LEFT + 6.0;
        while start < RIGHT + HIGH {
            let from = start.min(RIGHT);
            let first = TOP + (start - from);
            let mut down = 0.0;
            while from - down > LEFT && first + down < self.at(from - down) {
                down += 0.5;
            }
            if down > 1.0 {
                let (x, y) = (short(from - down), short(first + down));
                let _ = write!(lines, "M{} {}L{x} {y}", short(from), short(first));
            }
            start += 9.5;
        }
        let _ = write!(out, r#"<path class="hatch" d="{lines}"/>"#);
    }
}

/// The brood nest: a rounded oval of its true area.
struct Nest {
    across: f64,
    up: f64,
    centre: f64,
    round: f64,
}

impl Nest {
    fn of(share: f64) -> Self {
        let area = WIDE * HIGH * share;
        let mut round = ROUND;
        let mut up = (area / (cover(round) * OVAL)).sqrt().min(HIGH / 2.0 - 0.3);
        let mut across = area / (cover(round) * up);
        if across > WIDE / 2.0 - 0.3 {
            // Too wide for the comb: the rest goes into its corners.
            across = WIDE / 2.0 - 0.3;
            up = (area / (cover(round) * across)).min(HIGH / 2.0 - 0.3);
            while round < 1.0 && cover(round) * across * up < area {
                round += 0.02;
            }
        }
        Self {
            across,
            up,
            centre: (BOTTOM - 0.8 - up).max(TOP + HIGH / 2.0),
            round: round.min(1.0),
        }
    }

    fn draw(&self, out: &mut String) {
        let (c, w, h) = (self.centre, self.across, self.up);
        let (kw, kh) = (w * self.round, h * self.round);
        let point = |x: f64, y: f64| format!("{} {}", short(MIDDLE + x), short(c + y));
        let quarters = [
            [(-w, -kh), (-kw, -h), (0.0, -h)],
            [(kw, -h), (w, -kh), (w, 0.0)],
            [(w, kh), (kw, h), (0.0, h)],
            [(-kw, h), (-w, kh), (-w, 0.0)],
        ];
        let mut path = format!("M{}", point(-w, 0.0));
        for quarter in quarters {
            path += "C";
            path += &quarter.map(|(x, y)| point(x, y)).join(" ");
        }
        let _ = write!(out, r#"<path class="brood" d="{path}Z"/>"#);
    }
}

/// Area of such an oval over the product of its half axes.
fn cover(round: f64) -> f64 {
    (10.0 + 12.0 * round - 3.0 * round * round) / 5.0
}

/// Bees hanging from the lower edge, as wide as they cover the comb.
fn bees(out: &mut String, parts: u8) {
    if parts == 0 {
        return;
    }
    let mut path = String::new();
    let half = 5 * i32::from(parts);
    for (at, x) in (50 - half..=50 + half).step_by(5).enumerate() {
        let deep = [6, 8, 5, 7].get(at % 4).copied().unwrap_or(6);
        let _ = write!(path, "M{x} 50v{deep}");
    }
    let _ = write!(out, r#"<path class="bees" d="{path}"/>"#);
}

/// A ringed crown.
fn queen(out: &mut String, centre: f64) {
    let y = centre.min(BOTTOM - 11.0);
    let _ = write!(
        out,
        r#"<g class="queen" transform="translate(50 {})"><circle r="10.5"/><path d="M-6 4.5V-3L-2.8.2 0-4.8 2.8.2 6-3V4.5Z"/></g>"#,
        short(y)
    );
}

/// A length to a tenth, as short as it can be written.
fn short(value: f64) -> String {
    let value = (value * 10.0).round() / 10.0;
    format!("{value}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn brood_and_stores_have_their_true_areas() {
        for share in [0.1, 0.3, 0.55, 0.7, 0.8, 0.9] {
            let nest = Nest::of(share);
            let area = cover(nest.round) * nest.across * nest.up;
            assert_relative_eq!(area / (WIDE * HIGH), share, epsilon = 0.02);
            assert!(nest.centre + nest.up <= BOTTOM && nest.centre - nest.up >= TOP - 0.1);
        }
        for (share, brood) in [
            (0.15, true),
            (0.4, true),
            (0.4, false),
            (0.85, false),
            (1.0, false),
        ] {
            let reach = Reach::of(share, brood);
            let steps = (0..=870).map(|at| reach.at(LEFT + f64::from(at) / 10.0) - TOP);
            let area: f64 = steps.sum::<f64>() / 871.0;
            assert_relative_eq!(area / HIGH, share, epsilon = 0.02);
        }
    }

    #[test]
    fn what_looks_alike_is_drawn_once() {
        let mut combs = Combs::default();
        combs.full.insert("deep".into(), 2100);
        let holds = |brood| Holds {
            comb: "deep".into(),
            brood_share: brood,
            sealed_share: 0.0,
            stores_share: 0.15,
            drawn_share: 1.0,
            bees: 2100,
        };
        let first = combs.name(&holds(0.55), 2100, false);
        assert_eq!(combs.name(&holds(0.56), 2050, false), first);
        assert_ne!(combs.name(&holds(0.55), 0, false), first);
        assert_eq!(combs.drawings().len(), 2);
    }
}
