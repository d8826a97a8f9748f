//! What all pictures share: what they say to a screen reader, their colours in the dark, letters and lines of text.

use plotters::coord::Shift;
use plotters::prelude::*;

pub(super) type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;
pub(super) type Drawn<T> = Result<T, DrawingAreaErrorKind<std::io::Error>>;

/// A colour by day, and by night.
pub(super) type Shades = (RGBColor, RGBColor);

/// What is said of a picture, and its ids, which in a page must be its own.
pub(super) struct About<'a> {
    pub prefix: &'a str,
    pub title: &'a str,
    pub text: &'a str,
    /// Colours that are others in the dark.
    pub shades: &'a [Shades],
}

impl About<'_> {
    /// A drawn picture with its title and description.
    pub fn put_into(&self, drawn: &str) -> String {
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
            self.style()
        )
    }

    /// No wider than its place, and in other colours where it is dark; of this picture alone.
    fn style(&self) -> String {
        if self.shades.is_empty() {
            return String::new();
        }
        let prefix = self.prefix;
        let own = format!("svg[aria-labelledby=\"{prefix}title {prefix}description\"]");
        let hex = |RGBColor(r, g, b): &RGBColor| format!("#{r:02X}{g:02X}{b:02X}");
        let night = self.shades.iter().map(|(day, night)| {
            let (day, night) = (hex(day), hex(night));
            let set = |key: &str| format!("{own} [{key}=\"{day}\"]{{{key}:{night}}}");
            set("fill") + &set("stroke")
        });
        let night = night.collect::<String>();
        format!(
            "<style>{own}{{max-width:100%;height:auto}}@media (prefers-color-scheme:dark){{{night}}}</style>\n"
        )
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
pub(super) fn drawable(text: &str) -> String {
    let known = |c: char| !c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}');
    text.chars().filter(|&c| known(c)).collect()
}

pub(super) fn letters(size: i32, colour: &RGBColor) -> TextStyle<'static> {
    ("sans-serif", size).into_font().color(colour)
}

/// Text in whole words, so many letters to a line.
pub(super) fn lines(text: &str, letters: usize) -> Vec<String> {
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
pub(super) fn tick(value: f64) -> String {
    let text = format!("{value:.3}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0" } else { text }.to_owned()
}
