//! What is drawn: a bar for each number that can be stocked, as high as its cost, its honey hatched, with today's plan,
//! the dear step and the honey cap.

use super::super::svg::{
    ACCENT, CARD, Drawn, HATCH, HEADING, INK, LINE, MARGIN, MUTED, Page, ROW, SMALL, STORES, TEXT,
    WARN, WOOD, room, whole,
};
use super::report::{CountedIn, CurveReport, PointReport};
use super::rows::figure;
use super::words::{self, amount, costs_honey, estimated, kg, proved};
use plotters::prelude::*;
use plotters::style::text_anchor::HPos;

/// Height of the greatest cost, pixels.
const HIGH: i32 = 190;
/// Most bars that stand one by one, where most of them cost no honey.
const MANY: usize = 10;
/// Widest bar, least width of a place whose cost stands above its bar, and of one with a gap and a frame, pixels.
const BAR: f64 = 48.0;
const NUMBERED: f64 = 32.0;
const GAP: f64 = 6.0;
/// Between lines of a hatch, pixels.
const APART: i32 = 6;
/// A cap is drawn that is no higher than so many times the greatest cost.
const REACH: f64 = 1.5;

/// Draws the curve; alone, with what a page says above it.
pub(super) fn draw(page: &mut Page, report: &CurveReport, alone: bool) -> Drawn<()> {
    let bars = bars(report);
    let most = bars.iter().map(|bar| kg(bar.point.cost_g));
    let most = most.fold(0.0, f64::max);
    if alone {
        page.text(&words::heading(report), (HEADING, &INK))?;
        page.y += 4;
    }
    if alone || most <= 0.0 {
        for sentence in words::findings(report) {
            page.text(&sentence, (TEXT, &INK))?;
        }
    }
    if most <= 0.0 {
        return Ok(());
    }
    let cap = report.honey_cap_g.filter(|_| estimated(report)).map(kg);
    let drawn = cap.filter(|cap| *cap <= most * REACH);
    let marks = marks(report, &bars);
    let names = i32::try_from(marks.len()).unwrap_or(0);
    let top = most.max(drawn.unwrap_or(0.0));
    let over = page.y + 8 + SMALL + 3;
    let title = "Cost in all, kg of honey";
    let place = page.row(title, (top, 0.0), (LINE * (names + 1), HIGH))?;
    for bar in &bars {
        bar.draw(page, &place)?;
    }
    if let Some(cap) = drawn {
        dashes(page, ROW, place(cap))?;
    }
    for bar in &bars {
        bar.name(page, &place)?;
    }
    for (number, mark) in (1..).zip(&marks) {
        mark.draw(page, over + number * LINE, &place)?;
    }
    page.labels(labels(report, &bars))?;
    page.text(along(report), (SMALL, &MUTED))?;
    key(page, report, cap, drawn.is_some())
}

fn along(report: &CurveReport) -> &'static str {
    match report.counted_in {
        CountedIn::Compartments => "Compartments stocked",
        CountedIn::Worth => "Worth stocked (1 is one ordinary compartment)",
    }
}

/// A point in its place.
struct Bar<'a> {
    point: &'a PointReport,
    /// The middle of it, and how wide its place and the bar are.
    x: f64,
    place: f64,
    wide: f64,
    /// One of many that cost no honey and stand as one tread.
    joined: bool,
    last: bool,
}

/// The bars side by side. Of many, those free of honey stand close, half as wide as the others.
fn bars(report: &CurveReport) -> Vec<Bar<'_>> {
    let points = report.points.iter().filter(|point| point.compartments > 0);
    let points: Vec<_> = points.collect();
    let free = points
        .iter()
        .take_while(|point| !costs_honey(point))
        .count();
    let many = points.len() > MANY && free < points.len() && 2 * free >= points.len();
    let joined = if many { free } else { 0 };
    let share = |index: usize| if index < joined { 1.0 } else { 2.0 };
    let shares: f64 = (0..points.len()).map(share).sum();
    let mut x = f64::from(ROW.0);
    let mut bars = Vec::new();
    for (index, &point) in points.iter().enumerate() {
        let place = f64::from(ROW.1 - ROW.0) * share(index) / shares.max(1.0);
        let joined = index < joined;
        bars.push(Bar {
            point,
            x: x + place / 2.0,
            place,
            wide: match joined || place < GAP {
                true => place,
                false => (place * 0.72).min(BAR),
            },
            joined,
            last: index + 1 == points.len(),
        });
        x += place;
    }
    bars
}

impl Bar<'_> {
    /// Its cost; from below the honey in it, hatched.
    fn draw(&self, page: &Page, place: &impl Fn(f64) -> i32) -> Drawn<()> {
        let (at, foot) = ((self.x, self.wide), place(0.0));
        let top = place(kg(self.point.cost_g)).min(foot - 2);
        page.bar(at, (top, foot), WOOD.filled())?;
        if costs_honey(self.point) {
            let honey = place(kg(self.point.honey_given_up_g.unwrap_or(0)));
            page.bar(at, (honey, foot), STORES.filled())?;
            hatch(page, at, (honey, foot))?;
        }
        Ok(())
    }

    /// Whether its cost stands above it.
    fn numbered(&self) -> bool {
        !self.joined && (self.place >= NUMBERED || self.last || self.point.today)
    }

    /// Today's plan in a frame, and the cost in figures, clear of the line of a cap.
    fn name(&self, page: &Page, place: &impl Fn(f64) -> i32) -> Drawn<()> {
        let top = place(kg(self.point.cost_g));
        if self.point.today {
            let frame = (self.x, self.wide + 4.0);
            page.bar(frame, (top - 2, place(0.0)), ACCENT.stroke_width(2))?;
        }
        if !self.numbered() {
            return Ok(());
        }
        let number = figure(kg(self.point.cost_g));
        let clear = (self.x, room(&number) - 8.0);
        page.bar(clear, (top - SMALL, top - 3), CARD.filled())?;
        page.number(number, (self.x, top), &INK)
    }
}

/// Lines that rise to the right, from one bar into the next; framed where there is room.
fn hatch(page: &Page, (x, wide): (f64, f64), (top, foot): (i32, i32)) -> Drawn<()> {
    let (left, right) = (whole(x - wide / 2.0), whole(x + wide / 2.0));
    for sum in (left + top..right + foot).filter(|sum| sum % APART == 0) {
        let (from, to) = (left.max(sum - foot), right.min(sum - top));
        let line = [(from, sum - from), (to, sum - to)];
        page.area
            .draw(&PathElement::new(line, HATCH.stroke_width(1)))?;
    }
    if wide < GAP {
        return Ok(());
    }
    page.bar((x, wide), (top, foot), HATCH.stroke_width(1))
}

fn dashes(page: &Page, (from, to): (i32, i32), y: i32) -> Drawn<()> {
    for x in (from..to).step_by(9) {
        let dash = [(x, y), ((x + 6).min(to), y)];
        page.area
            .draw(&PathElement::new(dash, WARN.stroke_width(2)))?;
    }
    Ok(())
}

/// A name above the bars, with a line down to what it names.
struct Mark {
    name: String,
    x: f64,
    colour: RGBColor,
    /// Cost at the upper and the lower end of what it names, kg.
    step: (f64, f64),
    /// Room for a number at the end of the line, pixels.
    above: i32,
}

/// Today's plan and the dear step, the one further to the right first.
fn marks(report: &CurveReport, bars: &[Bar]) -> Vec<Mark> {
    let mut marks = Vec::new();
    for bar in bars {
        let cost = kg(bar.point.cost_g);
        let before = report
            .points
            .iter()
            .take_while(|point| !point.dear_step)
            .last();
        if let Some(before) = before.filter(|_| bar.point.dear_step) {
            let [from, to] = [before, bar.point].map(|point| amount(report, point));
            marks.push(Mark {
                name: format!("dear step: {from} to {to}"),
                x: bar.x - bar.wide / 2.0 - if bar.joined { 0.0 } else { 3.0 },
                colour: INK,
                step: (cost, kg(before.cost_g)),
                above: 0,
            });
        }
        if bar.point.today {
            marks.push(Mark {
                name: format!("today's plan: {}", amount(report, bar.point)),
                x: bar.x,
                colour: ACCENT,
                step: (cost, cost),
                above: if bar.numbered() { LINE } else { 0 },
            });
        }
    }
    marks.reverse();
    marks
}

impl Mark {
    fn draw(&self, page: &Page, y: i32, place: &impl Fn(f64) -> i32) -> Drawn<()> {
        let x = whole(self.x);
        let (side, text) = match self.x - room(&self.name) < f64::from(MARGIN) {
            true => (HPos::Left, x + 5),
            false => (HPos::Right, x - 5),
        };
        page.small(&self.name, (text, y), side, &self.colour)?;
        let (top, foot) = (place(self.step.0) - self.above, place(self.step.1));
        let line = |from, to, wide| {
            let ends = [(x, from), (x, to)];
            PathElement::new(ends, self.colour.stroke_width(wide))
        };
        page.area.draw(&line(y - LINE + 4, top, 1))?;
        if self.step.0 > self.step.1 {
            page.area.draw(&line(top, foot, 4))?;
        }
        Ok(())
    }
}

/// What stands below the bars; what must not be missing first.
fn labels(report: &CurveReport, bars: &[Bar]) -> Vec<(f64, String)> {
    let name = |bar: &Bar| {
        let mark = if proved(bar.point) { "" } else { "?" };
        format!("{}{mark}", amount(report, bar.point))
    };
    let (joined, mut alone): (Vec<&Bar>, Vec<&Bar>) = bars.iter().partition(|bar| bar.joined);
    alone.sort_by_key(|bar| !(bar.last || bar.point.today || bar.point.dear_step));
    let mut labels: Vec<_> = alone.iter().map(|bar| (bar.x, name(bar))).collect();
    if let [first, .., last] = joined[..] {
        let name = format!("{} to {}: no honey", name(first), name(last));
        labels.insert(0, ((first.x + last.x) / 2.0, name));
    }
    labels
}

/// What hatch, line and signs mean.
fn key(page: &mut Page, report: &CurveReport, cap: Option<f64>, drawn: bool) -> Drawn<()> {
    let at = (f64::from(MARGIN) + 10.0, 20.0);
    let text = MARGIN + 28;
    if report.points.iter().any(costs_honey) {
        hatch(page, at, (page.y, page.y + 12))?;
        let honey = "of it honey given up (estimate)";
        page.small(honey, (text, page.y + 14), HPos::Left, &MUTED)?;
        page.y += LINE + 2;
    }
    if let Some(cap) = cap.map(super::super::figures::kilos) {
        match drawn {
            true => {
                dashes(page, (MARGIN, MARGIN + 20), page.y + 6)?;
                let cap = format!("honey cap of {cap}, for the hatched part");
                page.small(&cap, (text, page.y + 14), HPos::Left, &MUTED)?;
                page.y += LINE + 2;
            }
            false => page.text(
                &format!("The honey cap of {cap} lies higher."),
                (SMALL, &MUTED),
            )?,
        }
    }
    if !report.points.iter().all(proved) {
        page.text(
            "?: not proved; there may be a cheaper plan.",
            (SMALL, &MUTED),
        )?;
    }
    Ok(())
}
