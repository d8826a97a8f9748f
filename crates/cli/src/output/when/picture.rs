//! What is drawn: for each day a bar of compartments, below it the honey they cost, and whether cells fit.

use super::super::svg::{Area, Drawn, Shades, letters, lines, tick};
use super::report::{DayReport, WhenReport};
use super::words;
use jiff::civil::Date;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

/// Width in pixels, that of a telephone, and where the days begin and end.
const WIDTH: u32 = 390;
const DAYS: (i32, i32) = (42, 376);
/// Heights of the rows of compartments and of honey.
const TALL: i32 = 150;
const LOW: i32 = 84;
/// Widest bar, and least width of a day whose number stands above its bar.
const BAR: f64 = 40.0;
const NUMBERED: f64 = 17.0;
/// Room for a date, pixels.
const DATE: f64 = 52.0;
/// Sizes of letters; a quarter more than what they are in pixels.
const HEADING: i32 = 21;
const TEXT: i32 = 18;
const SMALL: i32 = 16;
/// Letters to a line of the heading and of text, and most lines of each.
const LETTERS: (usize, usize) = (38, 46);
const LINES: usize = 6;

const CARD: RGBColor = RGBColor(0xFF, 0xFD, 0xF9);
const INK: RGBColor = RGBColor(0x26, 0x21, 0x1C);
const MUTED: RGBColor = RGBColor(0x62, 0x59, 0x4E);
const ACCENT: RGBColor = RGBColor(0x0E, 0x5A, 0x66);
const TINT: RGBColor = RGBColor(0xD9, 0xE8, 0xE6);
const WOOD: RGBColor = RGBColor(0x77, 0x6A, 0x59);

/// The same by night; each keeps its contrast.
pub(super) const SHADES: [Shades; 6] = [
    (CARD, RGBColor(0x25, 0x21, 0x1C)),
    (INK, RGBColor(0xF0, 0xE9, 0xDD)),
    (MUTED, RGBColor(0xBB, 0xB0, 0xA1)),
    (ACCENT, RGBColor(0x7C, 0xCB, 0xD0)),
    (TINT, RGBColor(0x17, 0x3A, 0x3E)),
    (WOOD, RGBColor(0xA4, 0x96, 0x7F)),
];

/// Draws the days.
pub(super) fn draw(report: &WhenReport, out: &mut String) -> Drawn<()> {
    // How high it is shows when all is laid out.
    let mut high = 0;
    let mut nowhere = String::new();
    for out in [&mut nowhere, out] {
        let size = (WIDTH, u32::try_from(high).unwrap_or(0).max(1));
        let area = SVGBackend::with_string(out, size).into_drawing_area();
        area.fill(&CARD)?;
        high = Page { area, y: 14 }.fill(report)?;
    }
    Ok(())
}

/// A page that is filled from above.
struct Page<'a> {
    area: Area<'a>,
    y: i32,
}

impl Page<'_> {
    /// Draws all of it; its height.
    fn fill(mut self, report: &WhenReport) -> Drawn<i32> {
        self.text(&words::heading(report), (HEADING, &INK))?;
        self.y += 4;
        for sentence in words::sentences(report) {
            self.text(&sentence, (TEXT, &INK))?;
        }
        let scale = Scale::of(report);
        if let Some(scale) = scale.filter(|_| report.best_day.is_some()) {
            self.compartments(report, &scale)?;
            self.honey(report, &scale)?;
            self.cells(report, &scale)?;
            self.dates(report, &scale)?;
            self.key(report)?;
        }
        self.area.present()?;
        Ok(self.y + 12)
    }

    fn text(&mut self, text: &str, (size, colour): (i32, &RGBColor)) -> Drawn<()> {
        let most = if size == HEADING {
            LETTERS.0
        } else {
            LETTERS.1
        };
        for line in lines(text, most).into_iter().take(LINES) {
            let style = letters(size, colour);
            self.area.draw(&Text::new(line, (14, self.y), style))?;
            self.y += size + 3;
        }
        Ok(())
    }

    fn bar(&self, (x, wide): (f64, f64), (top, foot): (i32, i32), style: ShapeStyle) -> Drawn<()> {
        let (left, right) = (whole(x - wide / 2.0), whole(x + wide / 2.0));
        let corners = [(left, top), (right.max(left + 1), foot)];
        self.area.draw(&Rectangle::new(corners, style))
    }

    /// A row of bars up to `most`, in steps of at least so much, below its title; returns how high a figure stands, from
    /// above.
    fn row(
        &mut self,
        title: &str,
        (most, least): (f64, f64),
        high: i32,
    ) -> Drawn<impl Fn(f64) -> i32 + use<>> {
        self.y += 8;
        self.text(title, (SMALL, &MUTED))?;
        // Room for the number over the tallest bar.
        let top = self.y + 18;
        let foot = top + high;
        let place = move |figure: f64| foot - whole(f64::from(high) * figure / most.max(1e-9));
        let step = step(most).max(least);
        let mut figure = 0.0;
        while figure <= most + 1e-9 {
            let y = place(figure);
            let style = WOOD.stroke_width(1);
            let colour = if figure == 0.0 {
                style
            } else {
                TINT.stroke_width(1)
            };
            self.area
                .draw(&PathElement::new([(DAYS.0, y), (DAYS.1, y)], colour))?;
            let style = letters(SMALL, &MUTED).pos(Pos::new(HPos::Right, VPos::Center));
            self.area
                .draw(&Text::new(tick(figure), (DAYS.0 - 6, y), style))?;
            figure += step;
        }
        self.y = foot + 4;
        Ok(place)
    }

    fn number(&self, text: String, (x, y): (f64, i32), colour: &RGBColor) -> Drawn<()> {
        let style = letters(SMALL, colour).pos(Pos::new(HPos::Center, VPos::Bottom));
        self.area.draw(&Text::new(text, (whole(x), y - 2), style))
    }

    fn compartments(&mut self, report: &WhenReport, scale: &Scale) -> Drawn<()> {
        let place = self.row(
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
                self.bar((x, scale.bar), (place(count), place(0.0)), colour.filled())?;
            }
            if (other - count).abs() > 0.5 {
                let outline = INK.stroke_width(1);
                self.bar((x, scale.bar), (place(other), place(0.0)), outline)?;
            }
            if scale.numbered || best {
                let figure = figure(day, scale.day >= 2.4 * NUMBERED);
                let colour = if best { &ACCENT } else { &INK };
                self.number(figure, (x, place(count.max(other))), colour)?;
            }
        }
        Ok(())
    }

    fn honey(&mut self, report: &WhenReport, scale: &Scale) -> Drawn<()> {
        let honey = |day: &DayReport| -> Option<f64> { words::honey(day).parse().ok() };
        let all = report.days.iter().filter_map(honey);
        let Some(most) = all.reduce(f64::max) else {
            self.y += 8;
            return self.text(
                "Honey is not estimated: no colony states a crop.",
                (SMALL, &MUTED),
            );
        };
        if most < 0.05 {
            self.y += 8;
            return self.text(
                "No honey is given up on any of these days (estimate).",
                (SMALL, &MUTED),
            );
        }
        let place = self.row("Honey given up for it, kg (estimate)", (most, 0.0), LOW)?;
        for (day, kg) in report
            .days
            .iter()
            .filter_map(|day| Some((day, honey(day)?)))
        {
            let x = scale.x(day);
            let best = report.best_day.as_ref() == Some(&day.day);
            let colour = if best { &ACCENT } else { &WOOD };
            self.bar(
                (x, scale.bar * 0.6),
                (place(kg), place(0.0)),
                colour.filled(),
            )?;
            if scale.day >= 2.0 * NUMBERED || best {
                self.number(words::honey(day), (x, place(kg)), &INK)?;
            }
        }
        Ok(())
    }

    /// A mark for each day: full where cells fit.
    fn cells(&mut self, report: &WhenReport, scale: &Scale) -> Drawn<()> {
        if !words::dated(report) {
            return Ok(());
        }
        self.y += 8;
        self.text("Cells: full where they fit that day", (SMALL, &MUTED))?;
        let (top, foot) = (self.y + 2, self.y + 12);
        for day in report.days.iter().filter(|day| day.cells.is_some()) {
            let style = match words::cells(day).as_str() {
                "fit" => INK.filled(),
                _ => INK.stroke_width(1),
            };
            self.bar((scale.x(day), scale.bar.min(10.0)), (top, foot), style)?;
        }
        self.y = foot + 4;
        Ok(())
    }

    /// The first day, and as many after it as there is room for.
    fn dates(&mut self, report: &WhenReport, scale: &Scale) -> Drawn<()> {
        let mut from = f64::MIN;
        for day in &report.days {
            let x = scale
                .x(day)
                .clamp(DATE / 2.0, f64::from(WIDTH) - DATE / 2.0);
            if x - from < DATE {
                continue;
            }
            from = x;
            let date = day.day.parse::<Date>();
            let date = date.map_or_else(
                |_| day.day.clone(),
                |date| date.strftime("%-d %b").to_string(),
            );
            let style = letters(SMALL, &INK).pos(Pos::new(HPos::Center, VPos::Top));
            self.area
                .draw(&Text::new(date, (whole(x), self.y + 2), style))?;
        }
        self.y += 24;
        Ok(())
    }

    fn key(&mut self, report: &WhenReport) -> Drawn<()> {
        let said = |sign: char| {
            report
                .days
                .iter()
                .any(|day| words::stocked(day).contains(sign))
        };
        if said('(') {
            let outline = "Outline: if the colonies lose 10 % of their foragers a day.";
            self.text(outline, (SMALL, &MUTED))?;
        }
        if said('?') {
            self.text(
                "?: not proved; there may be a better plan.",
                (SMALL, &MUTED),
            )?;
        }
        self.text("An outlook, not a count.", (SMALL, &MUTED))
    }
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
        let wide = f64::from(DAYS.1 - DAYS.0);
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
        let room = f64::from(DAYS.1 - DAYS.0) - self.day;
        let along = f64::from(day.days_later) / self.span.max(1.0);
        f64::from(DAYS.0) + self.day / 2.0 + room * along
    }
}

/// A round step, of which two to four make the most.
fn step(most: f64) -> f64 {
    let mut step = 0.001;
    for factor in [2.0, 2.5, 2.0].into_iter().cycle().take(30) {
        if most / step <= 4.0 {
            break;
        }
        step *= factor;
    }
    step
}

#[expect(clippy::cast_possible_truncation, reason = "pixels")]
fn whole(pixels: f64) -> i32 {
    pixels.round() as i32
}
