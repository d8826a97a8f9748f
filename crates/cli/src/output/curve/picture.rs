//! What is drawn: axes, the curve, its points, the cap and the dear step.

use super::super::figures::kilos;
use super::report::{CountedIn, CurveReport, PointReport};
use super::svg::drawable;
use super::words::{self, honey, proved};
use plotters::coord::Shift;
use plotters::coord::types::RangedCoordf64;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

/// Width and height in pixels (a choice: readable on a page and on a telephone held across).
const SIZE: (u32, u32) = (800, 500);
const INK: RGBColor = RGBColor(40, 40, 40);
const GRID: RGBColor = RGBColor(222, 222, 222);
const CURVE: RGBColor = RGBColor(140, 90, 0);
const CAP: RGBColor = RGBColor(0, 80, 150);
/// Letters to a line of the heading, and its most lines.
const LETTERS: usize = 72;
const LINES: usize = 4;
/// Height of a line of text, pixels.
const LINE: i32 = 20;
/// Room for the name of the dear step, pixels.
const WIDE: i32 = 250;
/// A cap beyond so many times the greatest honey is not drawn, or the curve would lie flat.
const FAR: f64 = 2.0;

type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;
type Axes<'a, 'b> = ChartContext<'a, SVGBackend<'b>, Cartesian2d<RangedCoordf64, RangedCoordf64>>;
type Drawn<T> = Result<T, DrawingAreaErrorKind<std::io::Error>>;

/// Draws the curve.
pub(super) fn draw(report: &CurveReport, out: &mut String) -> Drawn<()> {
    let area = SVGBackend::with_string(out, SIZE).into_drawing_area();
    area.fill(&WHITE)?;
    let top = head(&area, report)?;
    let mut axes = axes(&area, report, top)?;
    cap(&area, &mut axes, report)?;
    curve(&mut axes, report)?;
    points(&mut axes, report)?;
    dear(&area, &mut axes, report)?;
    area.present()
}

fn letters(size: i32, colour: &RGBColor) -> TextStyle<'static> {
    ("sans-serif", size).into_font().color(colour)
}

/// Heading and key; returns where the chart may begin.
fn head(area: &Area, report: &CurveReport) -> Drawn<i32> {
    let heading = drawable(&words::heading(report));
    let mut y = 12;
    let whole_words = textwrap::Options::new(LETTERS)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    for line in textwrap::wrap(&heading, whole_words).iter().take(LINES) {
        area.draw(&Text::new(line.clone(), (16, y), letters(20, &INK)))?;
        y += LINE + 4;
    }
    let over = report.points.iter().any(|point| !point.allowed_today);
    let open = report.points.iter().any(|point| !proved(point));
    let mut key = Vec::new();
    if over {
        key.push("full point: allowed today; hollow point: over the honey cap of today".to_owned());
    }
    if let (Some(cap), None) = (report.honey_cap_kg, near_cap(report)) {
        key.push(format!("honey cap of today: {}, far above", kilos(cap)));
    }
    if open {
        key.push("question mark: not proved".to_owned());
    }
    if !key.is_empty() {
        area.draw(&Text::new(key.join("; "), (16, y), letters(14, &INK)))?;
        y += LINE;
    }
    Ok(y)
}

fn place(report: &CurveReport, point: &PointReport) -> (f64, f64) {
    let along = match report.counted_in {
        CountedIn::Compartments => f64::from(point.compartments),
        CountedIn::Worth => point.worth,
    };
    (along, honey(point))
}

/// The cap, where it is near enough to be drawn.
fn near_cap(report: &CurveReport) -> Option<f64> {
    let most = report.points.last().map_or(0.0, honey);
    report.honey_cap_kg.filter(|&cap| cap <= most * FAR)
}

fn axes<'a, 'b>(area: &Area<'b>, report: &CurveReport, top: i32) -> Drawn<Axes<'a, 'b>> {
    let along = report.points.iter().map(|point| place(report, point).0);
    let most = along.clone().fold(0.0, f64::max);
    let least = match report.counted_in {
        CountedIn::Compartments => 0.0,
        CountedIn::Worth => along.fold(most, f64::min),
    };
    let room = ((most - least) * 0.03).max(0.2);
    let up = report.points.last().map_or(0.0, honey);
    let up = up.max(near_cap(report).unwrap_or(0.0));
    let up = if up > 0.0 { up * 1.08 } else { 1.0 };
    let mut axes = ChartBuilder::on(area)
        .margin(16)
        .margin_top(top + 10)
        .x_label_area_size(54)
        .y_label_area_size(70)
        .build_cartesian_2d(least - room..most + room, 0.0..up)?;
    let title = match report.counted_in {
        CountedIn::Compartments => "compartments stocked",
        CountedIn::Worth => "worth stocked (1 is one ordinary compartment)",
    };
    let whole = report.counted_in == CountedIn::Compartments;
    axes.configure_mesh()
        .disable_x_mesh()
        .bold_line_style(GRID)
        .light_line_style(TRANSPARENT)
        .axis_style(INK)
        .x_desc(title)
        .y_desc("honey given up in all, kg (estimate)")
        .axis_desc_style(letters(16, &INK))
        .label_style(letters(14, &INK))
        .x_labels(14)
        .y_labels(8)
        .x_label_formatter(&|value| match whole && value.fract().abs() > 1e-6 {
            true => String::new(),
            false => tick(*value),
        })
        .y_label_formatter(&|value| tick(*value))
        .draw()?;
    Ok(axes)
}

/// A figure on an axis, without zeros at its end.
fn tick(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

fn curve(axes: &mut Axes, report: &CurveReport) -> Drawn<()> {
    let line = report.points.iter().map(|point| place(report, point));
    axes.draw_series(LineSeries::new(line, CURVE.stroke_width(2)))?;
    Ok(())
}

fn points(axes: &mut Axes, report: &CurveReport) -> Drawn<()> {
    let size = if report.points.len() > 60 { 3 } else { 4 };
    for point in &report.points {
        let at = place(report, point);
        if point.dear_step {
            continue;
        }
        let inside = if point.allowed_today { &CURVE } else { &WHITE };
        axes.draw_series([Circle::new(at, size, inside.filled())])?;
        axes.draw_series([Circle::new(at, size, CURVE.stroke_width(2))])?;
    }
    let open = report.points.iter().filter(|point| !proved(point));
    let marks = open.map(|point| {
        let style = letters(14, &INK).pos(Pos::new(HPos::Center, VPos::Bottom));
        EmptyElement::at(place(report, point)) + Text::new("?", (0, -6), style)
    });
    axes.draw_series(marks)?;
    Ok(())
}

/// The cap: a dashed line with its name.
fn cap(area: &Area, axes: &mut Axes, report: &CurveReport) -> Drawn<()> {
    let Some(cap) = near_cap(report) else {
        return Ok(());
    };
    let range = axes.x_range();
    let ends = [(range.start, cap), (range.end, cap)];
    axes.draw_series(DashedLineSeries::new(ends, 8, 5, CAP.stroke_width(2)))?;
    let (across, _) = axes.plotting_area().get_pixel_range();
    let (_, y) = axes.plotting_area().map_coordinate(&ends[0]);
    let name = format!("honey cap of today: {}", kilos(cap));
    let style = letters(14, &CAP).pos(Pos::new(HPos::Left, VPos::Bottom));
    area.draw(&Text::new(name, (across.start + 10, y - 5), style))
}

/// The dear step: a thick stroke to a diamond, with its name.
fn dear(area: &Area, axes: &mut Axes, report: &CurveReport) -> Drawn<()> {
    let to = report.points.iter().position(|point| point.dear_step);
    let step = to.and_then(|to| report.points.get(to.checked_sub(1)?..=to));
    let Some([before, point]) = step else {
        return Ok(());
    };
    let ends = [before, point].map(|point| place(report, point));
    axes.draw_series([PathElement::new(ends, CURVE.stroke_width(6))])?;
    let (x, y) = axes.plotting_area().map_coordinate(&ends[1]);
    let diamond = [(x - 9, y), (x, y - 9), (x + 9, y), (x, y + 9)];
    let inside = if point.allowed_today { &INK } else { &WHITE };
    area.draw(&Polygon::new(diamond, inside.filled()))?;
    let outline = diamond.into_iter().chain([diamond[0], diamond[1]]);
    area.draw(&PathElement::new(
        outline.collect::<Vec<_>>(),
        INK.stroke_width(2),
    ))?;
    let (x, y, side) = beside(axes, report, (x, y));
    let style = letters(14, &INK).pos(Pos::new(side, VPos::Top));
    for (number, text) in (0..).zip(words::dear_label(report, before, point)) {
        area.draw(&Text::new(text, (x, y + number * LINE), style.clone()))?;
    }
    Ok(())
}

/// Where two lines of text stand beside a point: above a curve that bends upwards there is room
/// on the left, below it on the right; neither may cover the cap. Else above the cap.
fn beside(axes: &Axes, report: &CurveReport, (x, y): (i32, i32)) -> (i32, i32, HPos) {
    let (across, down) = axes.plotting_area().get_pixel_range();
    let line = near_cap(report).map(|cap| axes.plotting_area().map_coordinate(&(0.0, cap)).1);
    let clear = |top: i32| {
        let apart = |line: i32| top > line + 4 || top + 2 * LINE < line - LINE - 4;
        top >= down.start && top + 2 * LINE <= down.end && line.is_none_or(apart)
    };
    let (above, below) = (y - 2 * LINE - 6, y + 6);
    if x - WIDE >= across.start && clear(above) {
        return (x - 18, above, HPos::Right);
    }
    if x + WIDE <= across.end && clear(below) {
        return (x + 18, below, HPos::Left);
    }
    let top = line.unwrap_or(y) - 3 * LINE - 10;
    let top = top.clamp(down.start, (down.end - 2 * LINE).max(down.start));
    match x - WIDE >= across.start {
        true => (x - 18, top, HPos::Right),
        false => (x + 18, top, HPos::Left),
    }
}
