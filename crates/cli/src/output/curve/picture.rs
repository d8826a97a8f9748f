//! What is drawn: axes, the curves of cost and of honey, the points of cost and the dear step.

use super::super::svg::{Area, Drawn, letters, lines, tick};
use super::report::{CountedIn, CurveReport, PointReport};
use super::words::{self, estimated, kg, proved};
use plotters::coord::types::RangedCoordf64;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

/// Width and height in pixels (a choice: readable on a page and on a telephone held across).
const SIZE: (u32, u32) = (800, 500);
const INK: RGBColor = RGBColor(40, 40, 40);
const GRID: RGBColor = RGBColor(222, 222, 222);
const CURVE: RGBColor = RGBColor(140, 90, 0);
const HONEY: RGBColor = RGBColor(0, 80, 150);
/// Letters to a line of the heading, and its most lines.
const LETTERS: usize = 72;
const LINES: usize = 4;
/// Height of a line of text, pixels.
const LINE: i32 = 20;
/// Room for the name of the dear step, pixels.
const WIDE: i32 = 250;

type Axes<'a, 'b> = ChartContext<'a, SVGBackend<'b>, Cartesian2d<RangedCoordf64, RangedCoordf64>>;

/// Draws the curve.
pub(super) fn draw(report: &CurveReport, out: &mut String) -> Drawn<()> {
    let area = SVGBackend::with_string(out, SIZE).into_drawing_area();
    area.fill(&WHITE)?;
    let top = head(&area, report)?;
    let mut axes = axes(&area, report, top)?;
    honey(&mut axes, report)?;
    curve(&mut axes, report)?;
    points(&mut axes, report)?;
    dear(&area, &mut axes, report)?;
    area.present()
}

/// Heading and key; returns where the chart may begin.
fn head(area: &Area, report: &CurveReport) -> Drawn<i32> {
    let mut y = 12;
    for line in lines(&words::heading(report), LETTERS)
        .into_iter()
        .take(LINES)
    {
        area.draw(&Text::new(line, (16, y), letters(20, &INK)))?;
        y += LINE + 4;
    }
    let open = report.points.iter().any(|point| !proved(point));
    let mut key = Vec::new();
    if estimated(report) {
        key.push("line with points: cost; dashed line: of it honey given up (estimate)");
    }
    if open {
        key.push("question mark: not proved");
    }
    if !key.is_empty() {
        area.draw(&Text::new(key.join("; "), (16, y), letters(14, &INK)))?;
        y += LINE;
    }
    Ok(y)
}

fn along(report: &CurveReport, point: &PointReport) -> f64 {
    match report.counted_in {
        CountedIn::Compartments => f64::from(point.compartments),
        CountedIn::Worth => point.worth,
    }
}

fn place(report: &CurveReport, point: &PointReport) -> (f64, f64) {
    (along(report, point), kg(point.cost_g))
}

fn axes<'a, 'b>(area: &Area<'b>, report: &CurveReport, top: i32) -> Drawn<Axes<'a, 'b>> {
    let along = report.points.iter().map(|point| along(report, point));
    let most = along.clone().fold(0.0, f64::max);
    let least = match report.counted_in {
        CountedIn::Compartments => 0.0,
        CountedIn::Worth => along.fold(most, f64::min),
    };
    let room = ((most - least) * 0.03).max(0.2);
    let up = report.points.iter().map(|point| kg(point.cost_g));
    let up = up.fold(0.0, f64::max);
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
        .y_desc("cost in all, kg of honey")
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
        axes.draw_series([Circle::new(at, size, CURVE.filled())])?;
    }
    let open = report.points.iter().filter(|point| !proved(point));
    let marks = open.map(|point| {
        let style = letters(14, &INK).pos(Pos::new(HPos::Center, VPos::Bottom));
        EmptyElement::at(place(report, point)) + Text::new("?", (0, -6), style)
    });
    axes.draw_series(marks)?;
    Ok(())
}

/// Of the cost, honey given up: a dashed line.
fn honey(axes: &mut Axes, report: &CurveReport) -> Drawn<()> {
    let honey = report.points.iter().filter_map(|point| {
        let honey = point.honey_given_up_g?;
        Some((along(report, point), kg(honey)))
    });
    let line = DashedLineSeries::new(honey, 8, 5, HONEY.stroke_width(2));
    axes.draw_series(line)?;
    Ok(())
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
    area.draw(&Polygon::new(diamond, INK.filled()))?;
    let (x, y, side) = beside(axes, (x, y));
    let style = letters(14, &INK).pos(Pos::new(side, VPos::Top));
    for (number, text) in (0..).zip(words::dear_label(report, before, point)) {
        area.draw(&Text::new(text, (x, y + number * LINE), style.clone()))?;
    }
    Ok(())
}

/// Where two lines of text stand beside a point: above a curve that bends upwards there is room
/// on the left, below it on the right.
fn beside(axes: &Axes, (x, y): (i32, i32)) -> (i32, i32, HPos) {
    let (across, down) = axes.plotting_area().get_pixel_range();
    let (above, below) = (y - 2 * LINE - 6, y + 6);
    if x - WIDE >= across.start && above >= down.start {
        return (x - 18, above, HPos::Right);
    }
    let lowest = (down.end - 2 * LINE).max(down.start);
    match x + WIDE <= across.end {
        true => (x + 18, below.min(lowest), HPos::Left),
        false => (x - 18, below.min(lowest), HPos::Right),
    }
}
