//! The whole day in one picture, as wide as a telephone: colonies with what leaves lifted out, boxes with the donor
//! under each frame.

use super::comb::Combs;
use super::hive::{Body, Slot};
use super::mating::{Frame, Half, MatingBox, stands};
use super::names::Names;
use super::page::Shared;
use super::sheet::{ColonySheet, colonies, day};
use crate::output::figures::counted;
use crate::output::headline;
use crate::output::svg::{
    ACCENT, About, Anchor, CARD, INK, MARGIN, MUTED, Sheet, WARN, WIDTH, WOOD, attributes,
};
use crate::output::words::{Words, clean};
use itertools::Itertools;
use std::fmt::Write;

/// Widest and smallest comb, the gap beside it, and its height as a part of its width.
const COMB: f64 = 34.0;
const SMALLEST: f64 = 22.0;
const GAP: f64 = 3.0;
const HIGH: f64 = 0.6;
/// Sizes of letters, and what a letter takes of its size.
const HEADING: f64 = 17.0;
const TEXT: f64 = 14.0;
const SMALL: f64 = 12.0;
const LETTER: f64 = 0.54;
/// Room around the frames of a compartment, between boxes, and above what begins anew.
const SIDE: f64 = 7.0;
const APART: f64 = 10.0;
const ABOVE: f64 = 16.0;
/// Room for names and places.
const LEFT: f64 = MARGIN as f64;
const WIDE: f64 = WIDTH as f64 - 2.0 * LEFT;

/// What each part of a comb is drawn with.
const PARTS: [(&str, &str); 9] = [
    (
        "wood",
        r##"fill="none" stroke="#776A59" stroke-width="2.6""##,
    ),
    ("top", r##"fill="#776A59""##),
    ("wax", r##"fill="#F0E4CD""##),
    ("fnd", r##"fill="#FDFAF4""##),
    (
        "wire",
        r##"fill="none" stroke="#8A7C66" stroke-width="1.5""##,
    ),
    ("store", r##"fill="#E5C890""##),
    (
        "hatch",
        r##"fill="none" stroke="#85601F" stroke-width="1.6""##,
    ),
    ("brood", r##"fill="#8A4326""##),
    (
        "bees",
        r##"fill="none" stroke="#241C15" stroke-width="3.4" stroke-linecap="round""##,
    ),
];

/// The picture of a plan.
pub fn svg(shared: &Shared) -> String {
    let report = shared.report;
    let words = Words::of_whole_colonies(report, shared.scenario);
    let mut combs = Combs::of(shared.scenario);
    let touched = report.compartments.iter().chain(&report.begun);
    let names = Names::of(&report.headline, touched, &words);
    let hives = colonies(shared, &words, &names, &mut combs);
    let boxes = stands(report, &words, &names, &mut combs);
    let title = report
        .title
        .as_deref()
        .map_or_else(|| "Stocking plan".to_owned(), clean);
    let title = match report.day.as_deref() {
        Some(of) => format!("{title}, {}", day(of)),
        None => title,
    };
    let answer = headline::answer(&report.headline);
    let mut sheet = Sheet::default();
    sheet.text(&title, HEADING, &INK);
    sheet.text(&answer, TEXT, &INK);
    for (site, hives) in &hives.iter().chunk_by(|hive| &hive.site) {
        heading(&mut sheet, &format!("At {site}"), "what leaves, what stays");
        for hive in hives {
            colony(&mut sheet, hive);
        }
    }
    for stand in &boxes {
        let place = format!("{}, at {}", stand.kind, stand.heading);
        heading(&mut sheet, &place, "donor under each frame");
        row_by_row(&mut sheet, &stand.boxes);
        if !stand.more.is_empty() {
            sheet.text(&stand.more, SMALL, &MUTED);
        }
    }
    let halves = boxes.iter().flat_map(|stand| &stand.boxes);
    let halves = halves.flat_map(|of| &of.halves).map(|half| &half.says);
    let said = hives.iter().map(|hive| &hive.says).chain(halves);
    let about = About {
        prefix: "plan-",
        title: &title,
        text: &[answer.clone()]
            .iter()
            .chain(said)
            .filter(|text| !text.is_empty())
            .join(" "),
    };
    about.around(&sheet, &symbols(&combs))
}

/// Every comb that is drawn, once.
fn symbols(combs: &Combs) -> String {
    let mut out = "<defs>".to_owned();
    for (name, drawing) in combs.drawings() {
        let mut drawing = drawing;
        for (part, drawn) in PARTS {
            drawing = drawing.replace(&format!(r#"class="{part}""#), drawn);
        }
        let queen = format!(r#"<g {} "#, attributes(Some(&INK), &INK));
        drawing = drawing.replace(r#"<g class="queen" "#, &queen);
        let ring = format!(
            "<circle {} stroke-width=\"2\" ",
            attributes(Some(&CARD), &INK)
        );
        let crown = drawing.replace("<circle ", &ring);
        let _ = write!(out, r#"<g id="{name}">{crown}</g>"#);
    }
    out + "</defs>"
}

fn heading(sheet: &mut Sheet, text: &str, beside: &str) {
    sheet.y += ABOVE;
    sheet.text(text, HEADING, &INK);
    sheet.text(beside, SMALL, &MUTED);
}

fn colony(sheet: &mut Sheet, hive: &ColonySheet) {
    sheet.y += ABOVE / 2.0;
    let left = match (hive.leaves, hive.done) {
        (0, taken @ 1..) => format!("{taken} taken"),
        (leaves, _) => format!(
            "{} of {} {}",
            leaves,
            counted(i64::from(hive.before), "frame", "frames"),
            if leaves == 1 { "leaves" } else { "leave" }
        ),
    };
    sheet.text(
        &format!("Colony {}, {}: {left}", hive.name, hive.role),
        TEXT,
        &INK,
    );
    for body in &hive.bodies {
        row(sheet, body);
    }
    if !hive.gaps.is_empty() {
        sheet.text(&hive.gaps, SMALL, &MUTED);
    }
}

/// The frames of one box, what leaves above, what stays below.
fn row(sheet: &mut Sheet, body: &Body) {
    let comb = fitting(body.slots.len(), WIDE - 2.0 * GAP);
    let lifted = body.slots.iter().any(|slot| !slot.leaves.is_empty());
    let high = comb * HIGH;
    let top = sheet.y + if lifted { SMALL + high + 13.0 } else { 6.0 };
    for (nth, slot) in (0_u32..).zip(&body.slots) {
        let x = LEFT + GAP + f64::from(nth) * (comb + GAP);
        place(sheet, slot, (x, top), comb);
    }
    let right = LEFT + 2.0 * GAP + many(body.slots.len()) * (comb + GAP) - GAP;
    let dashes = if body.off {
        r#" stroke-dasharray="4 3""#
    } else {
        ""
    };
    sheet.draw(&format!(
        r#"<path {} stroke-width="1.5"{dashes} d="M{LEFT} {y:.1}V{foot:.1}H{right:.1}V{y:.1}"/>"#,
        attributes(None, &WOOD),
        y = top - 3.0,
        foot = top + high + 3.0,
    ));
    sheet.y = top + high + 9.0;
    if !body.name.is_empty() {
        let off = if body.off { ", comes off empty" } else { "" };
        sheet.text(&format!("{}{off}", body.name), SMALL, &MUTED);
    }
}

/// One place of a hive.
fn place(sheet: &mut Sheet, slot: &Slot, (x, top): (f64, f64), comb: f64) {
    let high = comb * HIGH;
    if !slot.leaves.is_empty() {
        let up = top - high - 7.0;
        drawing(sheet, &slot.leaves, (x, up), comb);
        let to = shortened(&slot.to, comb + GAP);
        sheet.small(&to, (x + comb / 2.0, up - 3.0), Anchor::Middle, &ACCENT);
    }
    if !slot.stays.is_empty() {
        drawing(sheet, &slot.stays, (x, top), comb);
    }
    if slot.stays.is_empty() || slot.state == "ghost" {
        outline(sheet, (x, top), comb);
    }
}

/// A gap, or what fills it.
fn outline(sheet: &mut Sheet, (x, y): (f64, f64), comb: f64) {
    sheet.draw(&format!(
        r#"<rect {} stroke-width="1" stroke-dasharray="3 2" x="{x:.1}" y="{y:.1}" width="{comb:.1}" height="{:.1}"/>"#,
        attributes(None, &WOOD),
        comb * HIGH * 0.8,
    ));
}

fn drawing(sheet: &mut Sheet, name: &str, (x, y): (f64, f64), comb: f64) {
    sheet.draw(&format!(
        r##"<use href="#{name}" transform="translate({x:.1} {y:.1}) scale({:.3})"/>"##,
        comb / 100.0
    ));
}

/// Boxes side by side, as many as there is room for.
fn row_by_row(sheet: &mut Sheet, boxes: &[MatingBox]) {
    let (mut x, mut lowest) = (0.0, sheet.y);
    for of in boxes {
        let comb = comb_of(of);
        let all: f64 = of.halves.iter().map(|half| wide(half, comb)).sum();
        if x > 0.0 && x + all > WIDE {
            (x, sheet.y) = (0.0, lowest + APART);
        }
        let (right, foot) = mating_box(sheet, &of.halves, (x, sheet.y), comb);
        lowest = lowest.max(foot);
        x = right + APART;
    }
    sheet.y = lowest + APART;
}

/// One box; its right and lower end. What has no room beside the others goes on below.
fn mating_box(sheet: &mut Sheet, halves: &[Half], (x, top): (f64, f64), comb: f64) -> (f64, f64) {
    let (mut at, mut y) = (x, top);
    let (mut right, mut foot) = (x, top);
    let mut partitions = Vec::new();
    for half in halves {
        let wide = wide(half, comb);
        if at > x && at + wide > WIDE {
            walls(sheet, &mut partitions, (x, at), (y, foot));
            (at, y) = (x, foot + 4.0);
        }
        if at > x {
            partitions.push(at);
        }
        foot = foot.max(compartment(sheet, half, (LEFT + at, y), comb));
        at += wide;
        right = right.max(at);
    }
    walls(sheet, &mut partitions, (x, at), (y, foot));
    (right, foot)
}

/// The walls of a box, and what parts it.
fn walls(
    sheet: &mut Sheet,
    partitions: &mut Vec<f64>,
    (from, to): (f64, f64),
    (top, foot): (f64, f64),
) {
    let (wood, y) = (attributes(None, &WOOD), top + 4.0);
    sheet.draw(&format!(
        r#"<path {wood} stroke-width="1.5" d="M{l:.1} {y:.1}V{foot:.1}H{r:.1}V{y:.1}"/>"#,
        l = LEFT + from,
        r = LEFT + to,
    ));
    for at in partitions.drain(..) {
        let x = LEFT + at;
        sheet.draw(&format!(
            r#"<path {wood} stroke-width="3" d="M{x:.1} {y:.1}V{foot:.1}"/>"#
        ));
    }
}

/// How wide the combs of a box are drawn: so that it stands in one row, if they are not too small then.
fn comb_of(of: &MatingBox) -> f64 {
    let all = of.halves.iter().map(places).sum();
    let together = fitting(all, WIDE - many(of.halves.len()) * (2.0 * SIDE + GAP));
    let most = of.halves.iter().map(places).max().unwrap_or(1);
    if together < SMALLEST {
        fitting(most, WIDE - 2.0 * SIDE)
    } else {
        together
    }
}

fn places(half: &Half) -> usize {
    half.frames.len().max(half.empty.len())
}

/// How wide a compartment is drawn.
fn wide(half: &Half, comb: f64) -> f64 {
    let frames = many(places(half)) * (comb + GAP) - GAP;
    let name = letters(&half.name, TEXT) + letters(&half.note, SMALL) + 8.0;
    let bees = half.bees.iter().map(|bees| letters(&added(bees), SMALL));
    let inside = if half.frames.is_empty() {
        frames.max(name).max(letters(&half.lacks, SMALL))
    } else {
        bees.fold(frames.max(name), f64::max)
    };
    (inside + 2.0 * SIDE).min(WIDE)
}

/// One compartment; how far down it reaches.
fn compartment(sheet: &mut Sheet, half: &Half, (left, top): (f64, f64), comb: f64) -> f64 {
    let x = left + SIDE;
    let mut y = top + TEXT + 4.0;
    let colour = if half.id.is_some() { &INK } else { &MUTED };
    sheet.letters(&half.name, (x, y), (TEXT, Anchor::Start), colour);
    let beside = x + letters(&half.name, TEXT) + 8.0;
    let note = shortened(&half.note, left + wide(half, comb) - beside);
    sheet.small(&note, (beside, y), Anchor::Start, &MUTED);
    y += 6.0;
    let at = (0_u32..).map(|nth| x + f64::from(nth) * (comb + GAP));
    for (frame, x) in half.frames.iter().zip(at.clone()) {
        filled(sheet, frame, (x, y), comb);
    }
    for ((), x) in half.empty.iter().zip(at) {
        outline(sheet, (x, y), comb);
    }
    y += comb * HIGH + 4.0;
    if !half.frames.is_empty() {
        y += SMALL;
    }
    for bees in &half.bees {
        y += SMALL + 2.0;
        sheet.small(&added(bees), (x, y), Anchor::Start, &INK);
    }
    if !half.lacks.is_empty() {
        y += SMALL;
        sheet.small(&half.lacks, (x, y), Anchor::Start, &WARN);
    }
    y + 5.0
}

fn filled(sheet: &mut Sheet, frame: &Frame, (x, y): (f64, f64), comb: f64) {
    drawing(sheet, &frame.comb, (x, y), comb);
    let colour = if frame.is_in { &MUTED } else { &ACCENT };
    let from = shortened(&frame.from, comb + GAP);
    let at = (x + comb / 2.0, y + comb * HIGH + SMALL + 2.0);
    sheet.small(&from, at, Anchor::Middle, colour);
}

fn added(bees: &str) -> String {
    format!("and {bees}")
}

/// A comb so wide that all fit into the room.
fn fitting(count: usize, room: f64) -> f64 {
    ((room + GAP) / many(count.max(1)) - GAP).clamp(6.0, COMB)
}

#[expect(clippy::cast_precision_loss, reason = "frames of a hive")]
fn many(count: usize) -> f64 {
    count as f64
}

fn letters(text: &str, size: f64) -> f64 {
    many(text.chars().count()) * size * LETTER
}

/// As much of a small text as there is room for.
fn shortened(text: &str, room: f64) -> String {
    if letters(text, SMALL) <= room {
        return text.to_owned();
    }
    let kept = text.chars().count().saturating_sub(1);
    (1..=kept)
        .rev()
        .map(|kept| text.chars().take(kept).collect::<String>() + "\u{2026}")
        .find(|text| letters(text, SMALL) <= room)
        .unwrap_or_default()
}
