//! What is drawn in a lane: shapes, each of a class that page and picture give its look.

use super::boxes::Cell;
use super::{Axis, BoxLane, ColonyLane, QueensLane};
use std::fmt::Write;

/// Shapes of one class as a path of SVG.
#[derive(Debug)]
pub(in super::super::super) struct Part {
    pub class: &'static str,
    pub path: String,
}

/// Where a lane is drawn.
#[derive(Debug, Clone, Copy)]
pub(in super::super::super) struct Place {
    /// Where the axis begins, and how long a day is.
    pub left: f64,
    pub day: f64,
    /// Upper end, and height.
    pub top: f64,
    pub high: f64,
}

/// How each class looks in a picture that stands alone, by the colours of all pictures; the page has the same in its style.
pub(in super::super::super) const LOOKS: [(&str, &str); 15] = [
    ("wa", r##"fill="#F0E4CD" fill-opacity="0.7""##),
    ("br", r##"fill="none" stroke="#8A4326" stroke-width="1.8""##),
    (
        "un",
        r##"fill="none" stroke="#776A59" stroke-width="1.2" stroke-dasharray="3 2.5""##,
    ),
    (
        "fl",
        r##"fill="none" stroke="#0E5A66" stroke-width="1.4" stroke-dasharray="1.4 3""##,
    ),
    (
        "rc",
        r##"fill="#E5C890" stroke="#85601F" stroke-width="0.9""##,
    ),
    (
        "rp",
        r##"fill="none" stroke="#85601F" stroke-width="0.9" stroke-dasharray="2 1.6""##,
    ),
    ("ce", r##"fill="none" stroke="#776A59" stroke-width="1""##),
    (
        "cd",
        r##"fill="none" stroke="#776A59" stroke-width="1" stroke-dasharray="3 2""##,
    ),
    ("la", r##"fill="#8A4326""##),
    ("lo", r##"fill="none" stroke="#8A4326" stroke-width="1.4""##),
    (
        "ld",
        r##"fill="none" stroke="#8A4326" stroke-width="1" stroke-dasharray="3 2""##,
    ),
    (
        "kp",
        r##"fill="#F0E4CD" stroke="#8A4326" stroke-width="1.2""##,
    ),
    (
        "nu",
        r##"fill="#F0E4CD" stroke="#776A59" stroke-width="1.2""##,
    ),
    (
        "qr",
        r##"fill="#F0E4CD" stroke="#776A59" stroke-width="1""##,
    ),
    ("qc", r##"fill="none" stroke="#26211C" stroke-width="2.2""##),
];

/// A length to a tenth, as short as it can be written.
fn short(value: f64) -> String {
    let text = format!("{value:.1}");
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if text == "-0" { "0" } else { text }.to_owned()
}

impl Place {
    pub fn x(&self, at: f64) -> f64 {
        self.left + at * self.day
    }

    fn point(&self, at: f64, y: f64) -> String {
        format!("{} {}", short(self.x(at)), short(y))
    }

    /// Lines from point to point.
    fn line(&self, points: impl Iterator<Item = (f64, f64)>) -> String {
        let mut out = String::new();
        for (nth, (at, y)) in points.enumerate() {
            out.push(if nth == 0 { 'M' } else { 'L' });
            out += &self.point(at, y);
        }
        out
    }

    /// A rectangle over some days, between parts of the height.
    fn bar(&self, (from, to): (f64, f64), (upper, lower): (f64, f64)) -> String {
        let y = |part: f64| self.top + part * self.high;
        format!(
            "M{}H{}V{}H{}Z",
            self.point(from, y(upper)),
            short(self.x(to)),
            short(y(lower)),
            short(self.x(from))
        )
    }
}

fn push(parts: &mut Vec<Part>, class: &'static str, path: String) {
    if !path.is_empty() {
        parts.push(Part { class, path });
    }
}

/// Of a lane of a colony: where its brood stands, and where the bar of its recovery begins and ends, as parts of the height.
const FOOT: f64 = 0.82;
const HEAD: f64 = 0.06;
const BAR: (f64, f64) = (0.88, 0.99);

impl ColonyLane {
    /// Its brood up to `most` frames, and until when it recovers.
    pub fn parts(&self, axis: &Axis, most: f64, place: Place) -> Vec<Part> {
        let foot = place.top + FOOT * place.high;
        let y = |frames: f64| foot - (FOOT - HEAD) * place.high * frames / most.max(0.1);
        let mut parts = Vec::new();
        let line = |points: &[(f64, f64)]| {
            let points = points.iter().map(|(at, frames)| (*at, y(*frames)));
            place.line(points)
        };
        let brood = line(&self.brood);
        if let (Some((first, _)), Some((last, _))) = (self.brood.first(), self.brood.last()) {
            let (from, to) = (place.point(*first, foot), short(place.x(*last)));
            let over = brood.replacen('M', "L", 1);
            push(
                &mut parts,
                "wa",
                format!("M{from}{over}L{to} {}Z", short(foot)),
            );
        }
        push(&mut parts, "un", line(&self.undrawn));
        if let Some(keeps) = self.keeps {
            let last = self.gives.last().map_or(axis.last, |gives| gives.at);
            let ends = [
                (axis.today, y(keeps)),
                (last.max(axis.today + 7.0), y(keeps)),
            ];
            push(&mut parts, "fl", place.line(ends.into_iter()));
        }
        push(&mut parts, "br", brood);
        let (mut sure, mut perhaps) = (String::new(), String::new());
        for (from, sooner, later) in &self.recovers {
            let end = sooner.unwrap_or(axis.last);
            sure += &place.bar((*from, end.max(from + 0.5)), BAR);
            if let Some(later) = later.filter(|later| *later > end + 0.5) {
                perhaps += &place.bar((end, later), BAR);
            }
        }
        push(&mut parts, "rp", perhaps);
        push(&mut parts, "rc", sure);
        parts
    }
}

/// Bars of compartments, as parts of the height.
const BOX: (f64, f64) = (0.2, 0.8);

impl BoxLane {
    /// Of compartments that get cells: shut with the cell, then laying; what is kept for winter.
    pub fn parts(&self, place: Place) -> Vec<Part> {
        let [
            mut shut,
            mut later,
            mut ticks,
            mut laying,
            mut strokes,
            mut edges,
        ] = [const { String::new() }; 6];
        let (upper, lower) = (
            place.top + BOX.0 * place.high,
            place.top + BOX.1 * place.high,
        );
        for cell in &self.rounds {
            let (dark, light) = ((cell.cells_in, cell.laying), (cell.laying, cell.usable));
            match cell.outlook {
                true => later += &place.bar(dark, BOX),
                false => shut += &place.bar(dark, BOX),
            }
            // A line for every second day that it is left in peace.
            let mut at = cell.cells_in + 2.0;
            while at < cell.laying {
                let _ = write!(ticks, "M{}V{}", place.point(at, upper), short(lower));
                at += 2.0;
            }
            if cell.outlook {
                strokes += &slanted(cell, place, (upper, lower));
                edges += &place.bar(light, BOX);
            } else {
                laying += &place.bar(light, BOX);
            }
        }
        let mut parts = Vec::new();
        if let Some((unite, each, winter)) = self.kept {
            let from = self.rounds.last().map_or(unite, |last| last.usable);
            push(&mut parts, "kp", kept(place, (from, unite, winter), each));
        }
        push(&mut parts, "ce", shut + &ticks);
        push(&mut parts, "cd", later);
        push(&mut parts, "la", laying);
        push(&mut parts, "lo", strokes);
        push(&mut parts, "ld", edges);
        parts
    }

    /// Of nuclei: from the day on which they are made.
    pub fn nuclei(&self, axis: &Axis, place: Place) -> Vec<Part> {
        let bars = self.rounds.iter().map(|cell| {
            let from = cell.made();
            place.bar((from, axis.last), BOX)
        });
        let mut parts = Vec::new();
        push(&mut parts, "nu", bars.collect());
        parts
    }
}

/// Slanted lines over the days on which a young queen lays, where that is an outlook.
fn slanted(cell: &Cell, place: Place, (upper, lower): (f64, f64)) -> String {
    let mut out = String::new();
    let mut at = cell.laying;
    while at + 2.0 <= cell.usable {
        let _ = write!(
            out,
            "M{}L{}",
            place.point(at, lower),
            place.point(at + 2.0, upper)
        );
        at += 2.0;
    }
    out
}

/// What keeps its queen over winter; where several make one, it narrows on the day of uniting.
fn kept(place: Place, (from, unite, winter): (f64, f64, f64), each: i64) -> String {
    if each <= 1 {
        return place.bar((from, winter), BOX);
    }
    let y = |part: f64| place.top + part * place.high;
    let (upper, lower, inner, outer) = (y(BOX.0), y(BOX.1), y(0.38), y(0.62));
    let corners = [
        (from, upper),
        (unite - 2.0, upper),
        (unite + 1.0, inner),
        (winter, inner),
        (winter, outer),
        (unite + 1.0, outer),
        (unite - 2.0, lower),
        (from, lower),
    ];
    place.line(corners.into_iter()) + "Z"
}

impl QueensLane {
    /// Queens counted on, in the range of eight of ten seasons.
    pub fn parts(&self, axis: &Axis, place: Place) -> Vec<Part> {
        let mut parts = Vec::new();
        let mut band = String::new();
        let mut counted: Vec<(f64, f64)> = Vec::new();
        for (nth, step) in self.steps.iter().enumerate() {
            let until = self.steps.get(nth + 1);
            let until = until.map_or(axis.last.max(step.at + 2.0), |next| next.at);
            let part = |of: i64| 1.0 - self.share(of);
            band += &place.bar((step.at, until), (part(step.most), part(step.least)));
            let y = place.top + part(step.queens) * place.high;
            let none = place.top + part(0) * place.high;
            let before = counted.last().map_or(none, |(_, y)| *y);
            counted.extend([(step.at, before), (step.at, y), (until, y)]);
        }
        push(&mut parts, "qr", band);
        push(&mut parts, "qc", place.line(counted.into_iter()));
        parts
    }

    /// So many queens as a part of the height, with room for a number above the most and for a range below the least.
    pub fn share(&self, queens: i64) -> f64 {
        0.15 + 0.67 * queens as f64 / self.most.max(1.0)
    }
}
