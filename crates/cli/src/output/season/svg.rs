//! The season as a picture in SVG: a lane for each colony that gives, one for each lot of compartments, and the queens, over
//! the weeks; as wide as a telephone, readable without colour, and described for a screen reader.

use super::super::svg::{
    ACCENT, About, Anchor, CARD, INK, MARGIN, MUTED, Sheet, WIDTH, WOOD, attributes,
};
use super::lanes::{Axis, BoxLane, ColonyLane, Gives, KindLanes, LOOKS, Lanes, Part, Place};
use super::page::{self, captions};
use super::report::SeasonReport;
use super::words;

/// Sizes of letters, and what a letter takes of its size.
const HEADING: f64 = 17.0;
const TEXT: f64 = 14.0;
const SMALL: f64 = 12.0;
const LETTER: f64 = 0.6;
/// Heights of lanes.
const COLONY: f64 = 38.0;
const BOX: f64 = 24.0;
const QUEENS: f64 = 92.0;
/// Room for names, at least and at most, and the end of the axis.
const NAMES: (f64, f64) = (22.0, 78.0);
const RIGHT: f64 = WIDTH as f64 - MARGIN as f64;
const LEFT: f64 = MARGIN as f64;

/// The season as an SVG document; its answer alone where it has no day.
pub fn svg(report: &SeasonReport) -> String {
    let mut sheet = Sheet::default();
    let title = words::heading(report);
    sheet.text(&title, HEADING, &INK);
    sheet.text(&words::today(&report.headline), TEXT, &INK);
    for sentence in page::lead(report) {
        sheet.text(&sentence, TEXT, &INK);
    }
    let lanes = Lanes::of(report);
    if let Some(lanes) = &lanes {
        draw(&mut sheet, report, lanes);
    }
    let about = About {
        prefix: "season-",
        title: &title,
        text: &page::description(report, lanes.as_ref()),
    };
    about.around(&sheet, "")
}

/// The lanes, with the days that stand out behind them.
struct Drawing<'a> {
    sheet: &'a mut Sheet,
    axis: &'a Axis,
    /// Where the axis begins, and how long a day is.
    left: f64,
    day: f64,
}

fn draw(sheet: &mut Sheet, report: &SeasonReport, lanes: &Lanes) {
    let names = lanes.colonies.iter().map(|lane| wide(&lane.name) + 8.0);
    let counts = lanes.kinds.iter().flat_map(|kind| &kind.lanes);
    let counts = counts.map(|lane| wide(&page::many(lane)) + 8.0);
    let left = LEFT + names.chain(counts).fold(NAMES.0, f64::max).min(NAMES.1);
    let axis = &lanes.axis;
    let mut drawing = Drawing {
        sheet,
        axis,
        left,
        day: (RIGHT - left) / axis.days.max(1.0),
    };
    let mark = drawing.head();
    let top = drawing.sheet.y;
    if !lanes.colonies.is_empty() {
        drawing.caption("Colonies", &captions::colonies(lanes));
    }
    for lane in &lanes.colonies {
        drawing.colony(lane, lanes.most_brood);
    }
    if let Some(line) = super::courses::left_alone(report) {
        drawing.note(&line);
    }
    for kind in &lanes.kinds {
        drawing.kind(kind);
    }
    drawing.queens(lanes);
    drawing.days(mark, (top, drawing.sheet.y));
    drawing.wants(report);
}

fn wide(text: &str) -> f64 {
    text.chars().count() as f64 * SMALL * LETTER
}

/// As much of a name as there is room for.
fn shortened(name: &str, room: f64) -> String {
    if wide(name) <= room {
        return name.to_owned();
    }
    let fits = |kept: &usize| (*kept as f64 + 1.0) * SMALL * LETTER <= room;
    let kept = (0..name.chars().count()).rev().find(fits).unwrap_or(0);
    name.chars().take(kept).collect::<String>() + "\u{2026}"
}

impl Drawing<'_> {
    fn x(&self, at: f64) -> f64 {
        self.left + at * self.day
    }

    fn place(&self, top: f64, high: f64) -> Place {
        Place {
            left: self.left,
            day: self.day,
            top,
            high,
        }
    }

    fn parts(&mut self, parts: &[Part]) {
        for part in parts {
            let look = LOOKS.iter().find(|(class, _)| *class == part.class);
            let look = look.map_or("", |(_, look)| look);
            self.sheet
                .draw(&format!(r#"<path {look} d="{}"/>"#, part.path));
        }
    }

    /// A small text in the middle of a place, moved as far as it must be to stay in the picture.
    fn middle(&mut self, text: &str, (at, y): (f64, f64), colour: &plotters::style::RGBColor) {
        let half = wide(text) / 2.0;
        let x = self.x(at).clamp(half, f64::from(WIDTH) - half);
        self.sheet.small(text, (x, y), Anchor::Middle, colour);
    }

    /// Months, weeks and rounds; where what is behind the lanes is drawn.
    fn head(&mut self) -> usize {
        self.sheet.y += 20.0;
        let y = self.sheet.y;
        let (wood, mut ticks) = (attributes(None, &WOOD), String::new());
        for (at, _) in &self.axis.weeks {
            ticks += &format!("M{:.1} {:.1}v4", self.x(*at), y + 4.0);
        }
        for (at, name) in &self.axis.months {
            let x = self.x(*at);
            if *at > 0.0 {
                ticks += &format!("M{x:.1} {:.1}v16", y - 8.0);
            }
            self.sheet.small(name, (x + 3.0, y), Anchor::Start, &MUTED);
        }
        let line = format!("M{:.1} {:.1}H{RIGHT:.1}", self.left, y + 8.0);
        self.sheet.draw(&format!(
            r#"<path {wood} stroke-width="1" d="{line}{ticks}"/>"#
        ));
        self.sheet.y += 22.0;
        let y = self.sheet.y;
        let axis = self.axis;
        for (nth, (at, name)) in axis.rounds.iter().enumerate() {
            // Today's name begins before it, so that it leaves room for the next.
            let back = if nth == 0 {
                wide(name) / 2.0 - 6.0
            } else {
                0.0
            };
            self.middle(name, (*at - back / self.day, y), &ACCENT);
        }
        self.sheet.y += 4.0;
        self.sheet.mark()
    }

    /// Today, rounds, days by which something is wanted, and the winter's day, behind all lanes.
    fn days(&mut self, mark: usize, (top, foot): (f64, f64)) {
        let line = |at: f64, style: &str, colour| {
            let x = self.x(at);
            format!(
                r#"<path {} {style} d="M{x:.1} {top:.1}V{foot:.1}"/>"#,
                attributes(None, colour)
            )
        };
        let mut out = String::new();
        for (nth, (at, _)) in self.axis.rounds.iter().enumerate() {
            let style = match nth {
                0 => r#"stroke-width="1.8""#,
                _ => r#"stroke-width="1.4" stroke-dasharray="5 4""#,
            };
            out += &line(*at, style, &ACCENT);
        }
        let dots = r#"stroke-width="1.2" stroke-dasharray="1.2 3""#;
        let wants = self.axis.wants.iter().map(|(at, _)| *at);
        for at in wants.chain(self.axis.winter) {
            out += &line(at, dots, &INK);
        }
        self.sheet.behind(mark, &out);
    }

    fn caption(&mut self, heading: &str, text: &str) {
        self.sheet.y += 10.0;
        self.block(heading, TEXT, &INK);
        self.block(text, SMALL, &MUTED);
        self.sheet.y += 4.0;
    }

    fn note(&mut self, text: &str) {
        self.sheet.y += 4.0;
        self.block(text, SMALL, &MUTED);
    }

    /// Text on a ground that hides what is behind it.
    fn block(&mut self, text: &str, size: f64, colour: &plotters::style::RGBColor) {
        let (mark, top) = (self.sheet.mark(), self.sheet.y);
        self.sheet.text(text, size, colour);
        let high = self.sheet.y - top + size * 0.2;
        let ground = format!(
            r#"<rect fill="{}" x="0" y="{:.1}" width="{WIDTH}" height="{high:.1}"/>"#,
            super::super::svg::hex(&CARD),
            top,
        );
        self.sheet.behind(mark, &ground);
    }

    fn name(&mut self, name: &str, y: f64) {
        let name = shortened(name, self.left - LEFT - 4.0);
        self.sheet.small(&name, (LEFT, y), Anchor::Start, &INK);
    }

    fn colony(&mut self, lane: &ColonyLane, most: f64) {
        let top = self.sheet.y;
        self.name(&lane.name, top + COLONY * 0.6);
        self.parts(&lane.parts(self.axis, most, self.place(top, COLONY)));
        for gives in &lane.gives {
            self.comb(gives, top + 7.0);
        }
        self.sheet.y += COLONY + 4.0;
    }

    /// What a colony gives: a comb with the number of them on it.
    fn comb(&mut self, gives: &Gives, top: f64) {
        let (wide, high, x) = (19.0, 17.0, self.x(gives.at));
        let left = x - wide / 2.0;
        let dashes = match gives.outlook {
            true => r#" stroke-dasharray="3 2""#,
            false => "",
        };
        let wood = attributes(Some(&CARD), &WOOD);
        self.sheet.draw(&format!(
            r#"<path {wood} stroke-width="1.3"{dashes} d="M{left:.1} {top:.1}h{wide}v{high}h-{wide}Z"/>"#
        ));
        self.sheet.draw(&format!(
            r#"<path {} stroke-width="3" d="M{:.1} {top:.1}h{:.1}"/>"#,
            attributes(None, &WOOD),
            left - 2.5,
            wide + 5.0
        ));
        let y = top + 13.5;
        match gives.combs {
            0 => self.sheet.draw(&tuft(x, top + 3.0)),
            combs => {
                self.sheet
                    .letters(&combs.to_string(), (x, y), (13.0, Anchor::Middle), &ACCENT)
            }
        }
    }

    fn kind(&mut self, kind: &KindLanes) {
        self.caption(&kind.name, &captions::kind(kind));
        for lane in &kind.lanes {
            let top = self.sheet.y;
            self.name(&page::many(lane), top + BOX * 0.68);
            let place = self.place(top, BOX);
            let parts = match kind.nuclei {
                true => lane.nuclei(self.axis, place),
                false => lane.parts(place),
            };
            self.parts(&parts);
            if !kind.nuclei {
                self.crowns(lane, top + BOX / 2.0);
            }
            self.sheet.y += BOX;
        }
    }

    /// A ringed crown on each day from which queens may be taken.
    fn crowns(&mut self, lane: &BoxLane, y: f64) {
        for cell in &lane.rounds {
            let x = self.x(cell.usable);
            self.sheet.draw(&format!(
                r#"<circle {} stroke-width="1.2" cx="{x:.1}" cy="{y:.1}" r="7.5"/><path fill="{}" d="M{:.1} {:.1}{}"/>"#,
                attributes(Some(&CARD), &INK),
                super::super::svg::hex(&INK),
                x - 4.3,
                y + 3.2,
                "v-5.3l2.3 2.3 2-3.6 2 3.6 2.3-2.3v5.3Z",
            ));
        }
    }

    fn queens(&mut self, lanes: &Lanes) {
        if lanes.queens.steps.is_empty() {
            return;
        }
        self.caption("Mated queens", captions::QUEENS);
        let top = self.sheet.y;
        let place = self.place(top, QUEENS);
        self.parts(&lanes.queens.parts(self.axis, place));
        for step in &lanes.queens.steps {
            let level = |queens| top + (1.0 - lanes.queens.share(queens)) * QUEENS;
            let over = level(step.most) - 4.0;
            if step.number {
                let bold = step.queens.to_string();
                let x = self.x(step.at) + 3.0;
                let most = f64::from(WIDTH) - bold.len() as f64 * 14.0 * LETTER;
                self.sheet
                    .letters(&bold, (x.min(most), over), (14.0, Anchor::Start), &INK);
                if step.range {
                    let range = words::between(step.least, step.most);
                    let x = x.min(f64::from(WIDTH) - wide(&range));
                    let under = level(step.least) + SMALL;
                    self.sheet.small(&range, (x, under), Anchor::Start, &MUTED);
                }
            }
        }
        self.sheet.y += QUEENS;
    }

    /// What is wanted, by the numbers at the foot of its days.
    fn wants(&mut self, report: &SeasonReport) {
        self.sheet.y += 12.0;
        let y = self.sheet.y;
        let mut taken = f64::MIN;
        let axis = self.axis;
        let winter = axis.winter.map(|at| (at, "winter".to_owned()));
        for (at, numbers) in axis.wants.iter().chain(&winter) {
            let (x, half) = (self.x(*at), wide(numbers) / 2.0);
            if x - half > taken {
                self.middle(numbers, (*at, y), &INK);
                taken = x + half + 3.0;
            }
        }
        self.sheet.y += 4.0;
        for (nth, want) in report.wants.iter().enumerate() {
            let line = format!("{}. {}: {}", nth + 1, words::title(want), words::met(want));
            self.sheet.text(&line, SMALL, &INK);
        }
        self.sheet.text(captions::OUTLOOK, SMALL, &MUTED);
    }
}

/// Bees: a tuft.
fn tuft(x: f64, y: f64) -> String {
    let dots = [
        (-5.0, 2.0),
        (0.0, 1.0),
        (5.0, 2.5),
        (-3.0, 6.0),
        (2.5, 6.5),
        (0.0, 10.0),
    ];
    let dots = dots.map(|(right, down)| format!("M{:.1} {:.1}h.1", x + right, y + down));
    format!(
        r##"<path fill="none" stroke="#241C15" stroke-width="2.6" stroke-linecap="round" d="{}"/>"##,
        dots.concat()
    )
}
