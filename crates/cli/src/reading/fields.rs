//! Formats as tables: which keys a section has, and what each holds.

/// What a value must be. Quantities are held in the unit that is named here.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A whole number.
    Count,
    /// A number without a unit.
    Number,
    /// dm2.
    Area,
    /// 0..=1.
    Share,
    /// Frame equivalents.
    Frames,
    /// Combs as they hang, or as if they were full.
    Combs,
    /// Bees, as a number or as frames covered.
    Bees,
    Grams,
    Metres,
    /// Whole days.
    Days,
    /// Whole hours.
    Hours,
    /// One quantity, or from one to another.
    Range(&'static Kind),
    /// One of these words.
    OneOf(&'static [&'static str]),
    Text,
    Name,
    Names,
    Date,
    TwoDates,
    /// A date, or a list of them.
    Dates,
    /// A list of dates, or the words that make one.
    Rounds,
    Coordinates,
    Flag,
    /// A reason, or yes or no.
    Hold,
    /// A number, a map or a list of batches.
    Cells,
    /// The section `draw`, or the word `all`.
    DrawOrAll,
    /// A whole number, or a list of them, one for each round.
    PerRound,
    /// A whole number, or `most`.
    CountOrMost,
    /// A cap: the kind named, or `none`.
    Cap(&'static Kind),
    /// One section.
    Section(&'static str),
    /// Sections by name.
    MapOf(&'static str),
    /// Bees by name.
    MapOfBees,
    /// A list of sections.
    ListOf(&'static str),
    /// Not read.
    Unread,
}

impl Kind {
    /// How the reference names the kind.
    pub(crate) fn title(self) -> String {
        match self {
            Self::Count => "whole number".into(),
            Self::Number => "number".into(),
            Self::Area => "area".into(),
            Self::Share => "share".into(),
            Self::Frames => "frames".into(),
            Self::Combs => "combs or full frames".into(),
            Self::Bees => "bees".into(),
            Self::Grams => "weight".into(),
            Self::Metres => "distance".into(),
            Self::Days => "days".into(),
            Self::Hours => "hours".into(),
            Self::Range(of) => format!("{}, or from one to another", of.title()),
            Self::OneOf(words) => format!("`{}`", words.join("` or `")),
            Self::Text => "text".into(),
            Self::Name => "name".into(),
            Self::Names => "list of names".into(),
            Self::Date => "date".into(),
            Self::TwoDates => "two dates".into(),
            Self::Dates => "date, or a list of them".into(),
            Self::Rounds => "list of dates, or `every 14 days from … to …`".into(),
            Self::Coordinates => "latitude and longitude".into(),
            Self::Flag => "yes or no".into(),
            Self::Hold => "text, yes or no".into(),
            Self::Cells => "number, map or list of batch".into(),
            Self::DrawOrAll => "draw, or `all`".into(),
            Self::PerRound => "whole number, or a list of them".into(),
            Self::CountOrMost => "whole number, or `most`".into(),
            Self::Cap(of) => format!("{}, or `none`", of.title()),
            Self::Section(of) => of.into(),
            Self::MapOf(of) => format!("map of {of}"),
            Self::MapOfBees => "map of bees".into(),
            Self::ListOf(of) => format!("list of {of}"),
            Self::Unread => "not read".into(),
        }
    }
}

/// One key of a section.
pub(crate) struct Field {
    pub key: &'static str,
    pub kind: Kind,
    /// Least and most, in the unit of the kind, both inclusive.
    pub range: Option<(f64, f64)>,
    /// What holds without the key; `required` where there is no such thing.
    pub default: &'static str,
    pub meaning: &'static str,
    /// The version of the format that the key came with.
    pub since: u32,
}

impl Field {
    pub(crate) fn required(&self) -> bool {
        self.default == "required"
    }
}

/// A map with known keys.
pub(crate) struct Section {
    pub name: &'static str,
    pub fields: &'static [Field],
}

/// Rows of `"key": kind, [least, most], "default", "meaning";`, the range only for quantities; `since 2`
/// behind the meaning of a key that came with version 2 of the format.
macro_rules! section {
    (@range) => { None };
    (@range $least:expr, $most:expr) => { Some(($least, $most)) };
    (@since) => { 1 };
    (@since $version:literal) => { $version };
    ($id:ident = $name:literal {
        $($key:literal: $kind:expr $(, [$least:expr, $most:expr])?, $default:literal, $meaning:literal
            $(, since $version:literal)?;)*
    }) => {
        pub(crate) static $id: $crate::reading::Section = $crate::reading::Section {
            name: $name,
            fields: &[$($crate::reading::Field {
                key: $key,
                kind: $kind,
                range: $crate::reading::section!(@range $($least, $most)?),
                default: $default,
                meaning: $meaning,
                since: $crate::reading::section!(@since $($version)?),
            },)*],
        };
    };
}
pub(crate) use section;
