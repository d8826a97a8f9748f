//! Whether a picture is legible: on a telephone, by day and by night, and read aloud.

/// Luminance as WCAG 2 has it, of `#RRGGBB`.
fn luminance(colour: &str) -> f64 {
    let part = |at: usize| {
        let value = u8::from_str_radix(&colour[at..at + 2], 16).unwrap();
        let share = f64::from(value) / 255.0;
        match share <= 0.040_45 {
            true => share / 12.92,
            false => ((share + 0.055) / 1.055).powf(2.4),
        }
    };
    0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5)
}

pub fn contrast(one: &str, other: &str) -> f64 {
    let [a, b] = [one, other].map(luminance);
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// What a picture says.
pub struct Shown {
    pub title: String,
    pub description: String,
    pub texts: Vec<String>,
}

/// What a picture says, once it is found to be legible.
pub fn legible(picture: &str) -> Shown {
    let document = roxmltree::Document::parse(picture).unwrap();
    let root = document.root_element();
    assert_eq!(root.attribute("width"), Some("390"));
    let text = |tag: &str| {
        let node = document.descendants().find(|n| n.has_tag_name(tag));
        node.unwrap().text().unwrap().to_owned()
    };
    let texts = document.descendants().filter(|n| n.has_tag_name("text"));
    for node in texts.clone() {
        let number = |key| node.attribute(key).unwrap().parse::<f64>().unwrap();
        let (size, x) = (number("font-size"), number("x"));
        assert!(size >= 12.0, "{size}: {:?}", node.text());
        // All of it is in the picture, at six tenths of its size a letter.
        let letters = node.text().unwrap_or_default().trim().chars().count() as f64;
        let from = match node.attribute("text-anchor").unwrap() {
            "start" => x,
            "middle" => x - letters * size * 0.3,
            _ => x - letters * size * 0.6,
        };
        let to = from + letters * size * 0.6;
        assert!(
            from >= 0.0 && to <= 390.0,
            "{from} to {to}: {:?}",
            node.text()
        );
    }
    by_day_and_by_night(&document, &text("style"));
    let texts = texts.filter_map(|n| n.text().map(|text| text.trim().to_owned()));
    Shown {
        title: text("title"),
        description: text("desc"),
        texts: texts.collect(),
    }
}

/// Each colour that is drawn has one for the dark; letters and bars stand out on both cards.
fn by_day_and_by_night(document: &roxmltree::Document, style: &str) {
    let night = |day: &str| {
        let at = style
            .find(&format!("fill=\"{day}\"]{{fill:"))
            .unwrap_or_else(|| panic!("{day}"));
        style[at..].split("fill:").nth(1).unwrap()[..7].to_owned()
    };
    let card = "#FFFDF9";
    // Lines behind bars, what lies behind a hatch, and the ground of a comb.
    let faint = [card, "#D9E8E6", "#E5C890", "#F0E4CD", "#FDFAF4"];
    for node in document.descendants().filter(|n| n.is_element()) {
        let colours = ["fill", "stroke"].map(|key| node.attribute(key));
        for day in colours.into_iter().flatten().filter(|c| c.starts_with('#')) {
            let dark = night(day);
            let faint = faint.contains(&day);
            let least = if node.has_tag_name("text") { 4.5 } else { 3.0 };
            assert!(faint || contrast(day, card) >= least, "{day}");
            assert!(faint || contrast(&dark, &night(card)) >= least, "{dark}");
        }
    }
}
