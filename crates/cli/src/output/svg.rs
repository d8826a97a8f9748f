//! What all pictures share: their width, colours by day and by night, what they say to a screen reader, and a page that is
//! filled from above with text, bars and labels.

use plotters::coord::Shift;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;
pub(super) type Drawn<T> = Result<T, DrawingAreaErrorKind<std::io::Error>>;

/// Width in pixels, that of a telephone, where text begins, and where a row of bars begins and ends.
pub(super) const WIDTH: u32 = 390;
pub(super) const MARGIN: i32 = 14;
pub(super) const ROW: (i32, i32) = (42, 376);
/// Sizes of letters; a quarter more than what they are in pixels.
pub(super) const HEADING: i32 = 21;
pub(super) const TEXT: i32 = 18;
pub(super) const SMALL: i32 = 16;
/// Letters to a line, times their size, and most lines of a text.
const LETTERS: i32 = 777;
const LINES: usize = 6;
/// Room for a small letter, and for a line of them, pixels.
const LETTER: f64 = 7.5;
pub(super) const LINE: i32 = 18;

pub(super) const CARD: RGBColor = RGBColor(0xFF, 0xFD, 0xF9);
pub(super) const INK: RGBColor = RGBColor(0x26, 0x21, 0x1C);
pub(super) const MUTED: RGBColor = RGBColor(0x62, 0x59, 0x4E);
pub(super) const ACCENT: RGBColor = RGBColor(0x0E, 0x5A, 0x66);
const TINT: RGBColor = RGBColor(0xD9, 0xE8, 0xE6);
pub(super) const WOOD: RGBColor = RGBColor(0x77, 0x6A, 0x59);
pub(super) const WARN: RGBColor = RGBColor(0x8C, 0x2F, 0x1B);
pub(super) const STORES: RGBColor = RGBColor(0xE5, 0xC8, 0x90);
pub(super) const HATCH: RGBColor = RGBColor(0x85, 0x60, 0x1F);

/// Each colour by day, and by night; each keeps its contrast.
const SHADES: [(RGBColor, RGBColor); 14] = [
    (CARD, RGBColor(0x25, 0x21, 0x1C)),
    (INK, RGBColor(0xF0, 0xE9, 0xDD)),
    (MUTED, RGBColor(0xBB, 0xB0, 0xA1)),
    (ACCENT, RGBColor(0x7C, 0xCB, 0xD0)),
    (TINT, RGBColor(0x17, 0x3A, 0x3E)),
    (WOOD, RGBColor(0xA4, 0x96, 0x7F)),
    (WARN, RGBColor(0xF0, 0xA0, 0x8A)),
    (STORES, RGBColor(0x54, 0x45, 0x2D)),
    (HATCH, RGBColor(0xCD, 0xAA, 0x6B)),
    // Wax, foundation, its wires, brood, bees.
    (RGBColor(0xF0, 0xE4, 0xCD), RGBColor(0x3A, 0x32, 0x2A)),
    (RGBColor(0xFD, 0xFA, 0xF4), RGBColor(0x21, 0x1D, 0x19)),
    (RGBColor(0x8A, 0x7C, 0x66), RGBColor(0x8F, 0x82, 0x6E)),
    (RGBColor(0x8A, 0x43, 0x26), RGBColor(0xD5, 0x8F, 0x6C)),
    (RGBColor(0x24, 0x1C, 0x15), RGBColor(0xF0, 0xE6, 0xD6)),
];

/// What is said of a picture, and its ids, which in a page must be its own.
pub(super) struct About<'a> {
    pub prefix: &'a str,
    pub title: &'a str,
    pub text: &'a str,
}

impl About<'_> {
    /// The picture, as high as what fills it.
    ///
    /// # Errors
    /// If the drawing library refuses; a bug if it ever happens.
    pub fn draw(&self, fill: impl Fn(&mut Page) -> Drawn<()>) -> Result<String, String> {
        // How high it is shows when all is laid out.
        let (mut high, mut drawn) = (0, String::new());
        for _ in 0..2 {
            drawn.clear();
            let size = (WIDTH, u32::try_from(high).unwrap_or(0).max(1));
            let area = SVGBackend::with_string(&mut drawn, size).into_drawing_area();
            let mut page = Page { area, y: MARGIN };
            high = page.filled(&fill).map_err(|error| error.to_string())?;
        }
        Ok(self.put_into(&drawn, &(self.own() + " ")))
    }

    /// What is drawn on a sheet, in a picture of its height.
    pub fn around(&self, sheet: &Sheet, defined: &str) -> String {
        let high = (sheet.y + f64::from(MARGIN)).ceil();
        let drawn = format!(
            "<svg width=\"{WIDTH}\" height=\"{high}\" viewBox=\"0 0 {WIDTH} {high}\" \
             xmlns=\"http://www.w3.org/2000/svg\">\n{defined}\n\
             <rect fill=\"{}\" width=\"{WIDTH}\" height=\"{high}\"/>\n{}</svg>\n",
            hex(&CARD),
            sheet.drawn
        );
        // What is used in several places is styled where it stands alone.
        self.put_into(&drawn, "")
    }

    /// A drawn picture with its title and description.
    fn put_into(&self, drawn: &str, scope: &str) -> String {
        let prefix = self.prefix;
        let named =
            format!("<svg role=\"img\" aria-labelledby=\"{prefix}title {prefix}description\" ");
        let drawn = drawn.replacen("<svg ", &named, 1);
        let (start, rest) = drawn.split_once('\n').unwrap_or((&drawn, ""));
        format!(
            "{start}\n<title id=\"{prefix}title\">{}</title>\n\
             <desc id=\"{prefix}description\">{}</desc>\n{}{rest}",
            escaped(self.title),
            escaped(self.text),
            self.style(scope)
        )
    }

    /// What names this picture alone, in a page of several.
    fn own(&self) -> String {
        let prefix = self.prefix;
        format!("svg[aria-labelledby=\"{prefix}title {prefix}description\"]")
    }

    /// No wider than its place, and in other colours where it is dark, within a scope.
    fn style(&self, scope: &str) -> String {
        let own = self.own();
        let night = SHADES.iter().map(|(day, night)| {
            let (day, night) = (hex(day), hex(night));
            let set = |key: &str| format!("{scope}[{key}=\"{day}\"]{{{key}:{night}}}");
            set("fill") + &set("stroke")
        });
        let night = night.collect::<String>();
        format!(
            "<style>{own}{{max-width:100%;height:auto}}@media (prefers-color-scheme:dark){{{night}}}</style>\n"
        )
    }
}

pub(super) fn hex(RGBColor(r, g, b): &RGBColor) -> String {
    format!("#{r:02X}{g:02X}{b:02X}")
}

/// How something is filled, where it is, and its edge.
pub(super) fn attributes(fill: Option<&RGBColor>, stroke: &RGBColor) -> String {
    let fill = fill.map_or_else(|| "none".to_owned(), hex);
    format!("fill=\"{fill}\" stroke=\"{}\"", hex(stroke))
}

/// Which end of a text stands on its place.
#[derive(Debug, Clone, Copy)]
pub(super) enum Anchor {
    Start,
    Middle,
}

/// A sheet of drawings that the plotting library has no shapes for, filled from above.
pub(super) struct Sheet {
    /// How far down it is filled, pixels.
    pub y: f64,
    drawn: String,
}

impl Default for Sheet {
    fn default() -> Self {
        Self {
            y: f64::from(MARGIN),
            drawn: String::new(),
        }
    }
}

impl Sheet {
    pub fn draw(&mut self, element: &str) {
        self.drawn += element;
        self.drawn.push('\n');
    }

    /// How much is drawn so far.
    pub fn mark(&self) -> usize {
        self.drawn.len()
    }

    /// Draws behind all that was drawn since a mark.
    pub fn behind(&mut self, mark: usize, element: &str) {
        if self.drawn.is_char_boundary(mark) {
            self.drawn.insert_str(mark, &format!("{element}\n"));
        }
    }

    /// Text from the margin on, in as many lines as it takes.
    pub fn text(&mut self, text: &str, size: f64, colour: &RGBColor) {
        let room = f64::from(WIDTH) - 2.0 * f64::from(MARGIN);
        let most = whole(room / (0.6 * size));
        for line in lines(text, usize::try_from(most).unwrap_or(1)) {
            self.y += size;
            let at = (f64::from(MARGIN), self.y);
            self.letters(&line, at, (size, Anchor::Start), colour);
            self.y += size * 0.3;
        }
    }

    pub fn small(&mut self, text: &str, at: (f64, f64), anchor: Anchor, colour: &RGBColor) {
        self.letters(text, at, (12.0, anchor), colour);
    }

    pub fn letters(
        &mut self,
        text: &str,
        (x, y): (f64, f64),
        (size, anchor): (f64, Anchor),
        colour: &RGBColor,
    ) {
        if text.is_empty() {
            return;
        }
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
        };
        let text = escaped(text);
        let fill = hex(colour);
        self.draw(&format!(
            "<text x=\"{x:.1}\" y=\"{y:.1}\" text-anchor=\"{anchor}\" font-family=\"sans-serif\" \
             font-size=\"{size}\" fill=\"{fill}\">{text}</text>"
        ));
    }
}

/// Text as XML takes it.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for c in drawable(text).chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            c => out.push(c),
        }
    }
    out
}

/// Text without the characters that XML knows no way to write.
fn drawable(text: &str) -> String {
    let known = |c: char| !c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}');
    text.chars().filter(|&c| known(c)).collect()
}

fn letters(size: i32, colour: &RGBColor) -> TextStyle<'static> {
    ("sans-serif", size).into_font().color(colour)
}

/// Text in whole words, so many letters to a line.
fn lines(text: &str, letters: usize) -> Vec<String> {
    let whole_words = textwrap::Options::new(letters)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation);
    let text = drawable(text);
    let lines = textwrap::wrap(&text, whole_words);
    lines
        .into_iter()
        .map(std::borrow::Cow::into_owned)
        .collect()
}

/// A figure on an axis, without zeros at its end.
fn tick(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}

/// A page that is filled from above.
pub(super) struct Page<'a> {
    pub area: Area<'a>,
    pub y: i32,
}

impl Page<'_> {
    /// Draws all of it; its height.
    fn filled(&mut self, fill: impl Fn(&mut Self) -> Drawn<()>) -> Drawn<i32> {
        self.area.fill(&CARD)?;
        fill(self)?;
        self.area.present()?;
        Ok(self.y + 12)
    }

    pub fn text(&mut self, text: &str, (size, colour): (i32, &RGBColor)) -> Drawn<()> {
        let most = usize::try_from(LETTERS / size).unwrap_or(1);
        for line in lines(text, most).into_iter().take(LINES) {
            let style = letters(size, colour);
            self.area.draw(&Text::new(line, (MARGIN, self.y), style))?;
            self.y += size + 3;
        }
        Ok(())
    }

    pub fn bar(
        &self,
        (x, wide): (f64, f64),
        (top, foot): (i32, i32),
        style: ShapeStyle,
    ) -> Drawn<()> {
        let (left, right) = (whole(x - wide / 2.0), whole(x + wide / 2.0));
        let corners = [(left, top), (right.max(left + 1), foot)];
        self.area.draw(&Rectangle::new(corners, style))
    }

    /// A row of bars up to `most`, in steps of at least so much, below its title and room for what
    /// stands over the bars; returns how high a figure stands, from above.
    pub fn row(
        &mut self,
        title: &str,
        (most, least): (f64, f64),
        (room, high): (i32, i32),
    ) -> Drawn<impl Fn(f64) -> i32 + use<>> {
        self.y += 8;
        self.text(title, (SMALL, &MUTED))?;
        let foot = self.y + room + high;
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
                .draw(&PathElement::new([(ROW.0, y), (ROW.1, y)], colour))?;
            let style = letters(SMALL, &MUTED).pos(Pos::new(HPos::Right, VPos::Center));
            self.area
                .draw(&Text::new(tick(figure), (ROW.0 - 6, y), style))?;
            figure += step;
        }
        self.y = foot + 4;
        Ok(place)
    }

    /// A number over a bar.
    pub fn number(&self, text: String, (x, y): (f64, i32), colour: &RGBColor) -> Drawn<()> {
        let x = x.min(f64::from(WIDTH) - room(&text) / 2.0);
        self.small(&text, (whole(x), y - 2), HPos::Center, colour)
    }

    /// A small text that stands on a place.
    pub fn small(&self, text: &str, at: (i32, i32), side: HPos, colour: &RGBColor) -> Drawn<()> {
        let style = letters(SMALL, colour).pos(Pos::new(side, VPos::Bottom));
        self.area.draw(&Text::new(drawable(text), at, style))
    }

    /// Labels below a row at their places: the first, and of the others those that there is room for.
    pub fn labels(&mut self, labels: impl IntoIterator<Item = (f64, String)>) -> Drawn<()> {
        let mut taken: Vec<(f64, f64)> = Vec::new();
        for (x, text) in labels {
            let half = room(&text) / 2.0;
            let x = x.clamp(half, f64::from(WIDTH) - half);
            let (from, to) = (x - half, x + half);
            if taken.iter().any(|&(left, right)| from < right && left < to) {
                continue;
            }
            taken.push((from, to));
            let style = letters(SMALL, &INK).pos(Pos::new(HPos::Center, VPos::Top));
            self.area
                .draw(&Text::new(text, (whole(x), self.y + 2), style))?;
        }
        self.y += 24;
        Ok(())
    }
}

/// Room for small letters, and some beside them, pixels.
pub(super) fn room(text: &str) -> f64 {
    text.chars().map(|_| LETTER).sum::<f64>() + 6.0
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
pub(super) fn whole(pixels: f64) -> i32 {
    pixels.round() as i32
}
