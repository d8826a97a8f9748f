//! What is drawn: for each day a bar of compartments, below it the honey they cost, and whether cells fit.

use super::super::svg::{ACCENT, Drawn, HEADING, INK, LINE, MUTED, Page, ROW, SMALL, TEXT, WOOD};
use super::report::{DayReport, WhenReport};
use super::words;
use jiff::civil::Date;
use plotters::prelude::*;

/// Heights of the rows of compartments and of honey, below room for the number over a bar.
const TALL: (i32, i32) = (LINE, 150);
const LOW: (i32, i32) = (LINE, 84);
/// Widest bar, and least width of a day whose number stands above its bar.
const BAR: f64 = 40.0;
const NUMBERED: f64 = 17.0;

/// Draws the days.
pub(super) fn draw(page: &mut Page, report: &WhenReport) -> Drawn<()> {
    page.text(&words::heading(report), (HEADING, &INK))?;
    page.y += 4;
    for sentence in words::sentences(report) {
        page.text(&sentence, (TEXT, &INK))?;
    }
    let scale = Scale::of(report);
    let Some(scale) = scale.filter(|_| report.best_day.is_some()) else {
        return Ok(());
    };
    compartments(page, report, &scale)?;
    honey(page, report, &scale)?;
    cells(page, report, &scale)?;
    page.labels(report.days.iter().map(|day| (scale.x(day), date(day))))?;
    key(page, report)
}

fn date(day: &DayReport) -> String {
    let date = day.day.parse::<Date>();
    date.map_or_else(
        |_| day.day.clone(),
        |date| date.strftime("%-d %b").to_string(),
    )
}

fn compartments(page: &mut Page, report: &WhenReport, scale: &Scale) -> Drawn<()> {
    let place = page.row(
        "Compartments that could be stocked",
        (scale.most, 1.0),
        TALL,
    )?;
    for day in &report.days {
        let x = scale.x(day);
        let best = report.best_day.as_ref() == Some(&day.day);
        let colour = if best { &ACCENT } else { &WOOD };
        let count = f64::from(day.compartments_stocked);
        let other = day.compartments_with_fewer_losses.map_or(count, f64::from);
        if count > 0.0 {
            page.bar((x, scale.bar), (place(count), place(0.0)), colour.filled())?;
        }
        if (other - count).abs() > 0.5 {
            let outline = INK.stroke_width(1);
            page.bar((x, scale.bar), (place(other), place(0.0)), outline)?;
        }
        if scale.numbered || best {
            let figure = figure(day, scale.day >= 2.4 * NUMBERED);
            let colour = if best { &ACCENT } else { &INK };
            page.number(figure, (x, place(count.max(other))), colour)?;
        }
    }
    Ok(())
}

fn honey(page: &mut Page, report: &WhenReport, scale: &Scale) -> Drawn<()> {
    let honey = |day: &DayReport| -> Option<f64> { words::honey(day).parse().ok() };
    let all = report.days.iter().filter_map(honey);
    let Some(most) = all.reduce(f64::max) else {
        page.y += 8;
        return page.text(
            "Honey is not estimated: no colony states a crop.",
            (SMALL, &MUTED),
        );
    };
    if most < 0.05 {
        page.y += 8;
        return page.text(
            "No honey is given up on any of these days (estimate).",
            (SMALL, &MUTED),
        );
    }
    let place = page.row("Honey given up for it, kg (estimate)", (most, 0.0), LOW)?;
    for (day, kg) in report
        .days
        .iter()
        .filter_map(|day| Some((day, honey(day)?)))
    {
        let x = scale.x(day);
        let best = report.best_day.as_ref() == Some(&day.day);
        let colour = if best { &ACCENT } else { &WOOD };
        page.bar(
            (x, scale.bar * 0.6),
            (place(kg), place(0.0)),
            colour.filled(),
        )?;
        if scale.day >= 2.0 * NUMBERED || best {
            page.number(words::honey(day), (x, place(kg)), &INK)?;
        }
    }
    Ok(())
}

/// A mark for each day: full where cells fit.
fn cells(page: &mut Page, report: &WhenReport, scale: &Scale) -> Drawn<()> {
    if !words::dated(report) {
        return Ok(());
    }
    page.y += 8;
    page.text("Cells: full where they fit that day", (SMALL, &MUTED))?;
    let (top, foot) = (page.y + 2, page.y + 12);
    for day in report.days.iter().filter(|day| day.cells.is_some()) {
        let style = match words::cells(day).as_str() {
            "fit" => INK.filled(),
            _ => INK.stroke_width(1),
        };
        page.bar((scale.x(day), scale.bar.min(10.0)), (top, foot), style)?;
    }
    page.y = foot + 4;
    Ok(())
}

fn key(page: &mut Page, report: &WhenReport) -> Drawn<()> {
    let said = |sign: char| {
        report
            .days
            .iter()
            .any(|day| words::stocked(day).contains(sign))
    };
    if said('(') {
        let outline = "Outline: if the colonies lose 10 % of their foragers a day.";
        page.text(outline, (SMALL, &MUTED))?;
    }
    if said('?') {
        page.text(
            "?: not proved; there may be a better plan.",
            (SMALL, &MUTED),
        )?;
    }
    page.text("An outlook, not a count.", (SMALL, &MUTED))
}

/// The number over a bar; both where they differ and there is room.
fn figure(day: &DayReport, room: bool) -> String {
    let known = words::stocked(day);
    let count = known.split(' ').next().unwrap_or_default();
    let other = day.compartments_with_fewer_losses;
    match other.filter(|_| room && known.contains('(')) {
        _ if !count.starts_with(|c: char| c.is_ascii_digit()) => "?".to_owned(),
        Some(other) => format!("{count}\u{2013}{other}"),
        None => count.to_owned(),
    }
}

/// Where days stand, and how wide their bars are.
struct Scale {
    /// Width of a day with a bar, and of the bar.
    day: f64,
    bar: f64,
    /// Whether there is room for a number over each bar.
    numbered: bool,
    /// Days from the first to the last.
    span: f64,
    /// Most compartments.
    most: f64,
}

impl Scale {
    fn of(report: &WhenReport) -> Option<Self> {
        let later = |day: &DayReport| f64::from(day.days_later);
        let pairs = report.days.windows(2);
        let gaps =
            pairs.map(|pair| pair.last().map_or(0.0, later) - pair.first().map_or(0.0, later));
        let gap = gaps.fold(f64::MAX, f64::min).max(1.0);
        let span = report.days.last().map(later)?;
        let wide = f64::from(ROW.1 - ROW.0);
        let day = if span > 0.0 {
            wide * gap / (span + gap)
        } else {
            wide
        };
        let all = report.days.iter();
        let most = all.map(|day| {
            day.compartments_stocked
                .max(day.compartments_with_fewer_losses.unwrap_or(0))
        });
        Some(Self {
            day,
            bar: (day * 0.72).clamp(1.0, BAR),
            numbered: day >= NUMBERED,
            span,
            most: f64::from(most.max()?),
        })
    }

    fn x(&self, day: &DayReport) -> f64 {
        let room = f64::from(ROW.1 - ROW.0) - self.day;
        let along = f64::from(day.days_later) / self.span.max(1.0);
        f64::from(ROW.0) + self.day / 2.0 + room * along
    }
}
