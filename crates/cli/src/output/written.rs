//! One way of writing things out: which formats there are, and what each record is in them.

use super::calendar::{self, Calendar};
use super::compare::{self, CompareReport};
use super::curve::{self, CurveReport};
use super::probe::{self, ProbeReport};
use super::reasons::{self, WhyReport};
use super::season::probe::ProbeSeason;
use super::season::{self, SeasonReport, WhySeason};
use super::share::{self, Shared};
use super::standing::{self, StandingReport};
use super::when::{self, WhenReport};
use super::{Notes, Report, TableOptions, json, markdown, table, yaml};
use serde::Serialize;
use spareframe_solver::Scenario;
use std::path::Path;

/// A format that something is written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// For the terminal.
    Table,
    /// Markdown.
    Markdown,
    /// Comma-separated values.
    Csv,
    /// JSON.
    Json,
    /// YAML.
    Yaml,
    /// A page.
    Html,
    /// iCalendar.
    Ics,
    /// A picture.
    Svg,
}

impl Format {
    /// How it is named on the command line.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Table => "table",
            Self::Markdown => "markdown",
            Self::Csv => "csv",
            Self::Json => "json",
            Self::Yaml => "yaml",
            Self::Html => "html",
            Self::Ics => "ics",
            Self::Svg => "svg",
        }
    }

    /// What it is for.
    #[must_use]
    pub fn purpose(self) -> &'static str {
        match self {
            Self::Table => "For the terminal",
            Self::Markdown => "To print or keep",
            Self::Csv => "For spreadsheets",
            Self::Json => "For programs",
            Self::Yaml => "For programs and hand edits",
            Self::Html => "A page with everything in it, to read and to print",
            Self::Ics => "For calendars",
            Self::Svg => "A picture",
        }
    }

    /// The ending of a file's name that stands for it.
    #[must_use]
    pub fn ending(self) -> &'static str {
        match self {
            Self::Table => "txt",
            Self::Markdown => "md",
            other => other.name(),
        }
    }

    /// The format that the ending of a file's name stands for.
    ///
    /// ```
    /// use spareframe::output::Format;
    /// assert_eq!(Format::of_ending("plan.YML".as_ref()), Some(Format::Yaml));
    /// assert_eq!(Format::of_ending("plan.xyz".as_ref()), None);
    /// ```
    #[must_use]
    pub fn of_ending(path: &Path) -> Option<Self> {
        match path.extension()?.to_str()?.to_ascii_lowercase().as_str() {
            "txt" => Some(Self::Table),
            "md" | "markdown" => Some(Self::Markdown),
            "csv" => Some(Self::Csv),
            "json" => Some(Self::Json),
            "yaml" | "yml" => Some(Self::Yaml),
            "html" | "htm" => Some(Self::Html),
            "ics" => Some(Self::Ics),
            "svg" => Some(Self::Svg),
            _ => None,
        }
    }
}

/// Why something is not written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unwritten {
    /// A calendar of a plan without a day.
    #[error("a calendar needs the stocking day; add `day` to the scenario")]
    NoDay,
    /// A format that it does not have.
    #[error("there is no such format of it")]
    Format,
    /// The writer of the format refuses; a bug if it ever happens.
    #[error("{0}")]
    Failed(String),
}

fn failed(error: impl std::fmt::Display) -> Unwritten {
    Unwritten::Failed(error.to_string())
}

/// What can be written in several formats.
pub trait Written {
    /// What it is called in messages.
    const WHAT: &'static str;
    /// Its formats; the first holds where no other is asked for.
    const FORMATS: &'static [Format];

    /// It in one of its formats; `layout` is for tables.
    ///
    /// # Errors
    /// Where it is not one of its formats, or a calendar lacks its day.
    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten>;
}

/// A record as data.
fn data(record: &impl Serialize, format: Format) -> Result<String, Unwritten> {
    match format {
        Format::Json => json(record).map_err(failed),
        Format::Yaml => yaml(record).map_err(failed),
        _ => Err(Unwritten::Format),
    }
}

use Format::{Csv, Html, Ics, Json, Markdown, Svg, Table, Yaml};

impl Written for Report {
    const WHAT: &'static str = "the plan";
    const FORMATS: &'static [Format] = &[Table, Markdown, Json, Yaml];

    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten> {
        match format {
            Table => Ok(table(self, layout)),
            Markdown => Ok(markdown(self)),
            _ => data(self, format),
        }
    }
}

/// A plan, with the scenario that it is of.
#[derive(Debug, Clone, Copy)]
pub struct Stocked<'a> {
    /// The plan.
    pub report: &'a Report,
    /// The scenario.
    pub scenario: &'a Scenario,
    /// What its file says beside what the solver takes.
    pub notes: &'a Notes,
}

impl Written for Stocked<'_> {
    const WHAT: &'static str = Report::WHAT;
    const FORMATS: &'static [Format] = &[Table, Markdown, Json, Yaml, Svg];

    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten> {
        match format {
            Svg => {
                let plan = Shared::of(self.scenario, self.notes, self.report);
                Ok(share::svg(&plan))
            }
            _ => self.report.written(format, layout),
        }
    }
}

impl Written for WhyReport {
    const WHAT: &'static str = "the reasons";
    const FORMATS: &'static [Format] = &[Table, Markdown, Json, Yaml];

    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten> {
        match format {
            Table => Ok(reasons::table(self, layout)),
            Markdown => Ok(reasons::markdown(self)),
            _ => data(self, format),
        }
    }
}

impl Written for ProbeReport {
    const WHAT: &'static str = "the answer";
    const FORMATS: &'static [Format] = &[Table, Markdown, Json, Yaml];

    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten> {
        match format {
            Table => Ok(probe::table(self, layout)),
            Markdown => Ok(probe::markdown(self)),
            _ => data(self, format),
        }
    }
}

impl Written for WhenReport {
    const WHAT: &'static str = "the days";
    const FORMATS: &'static [Format] = &[Table, Markdown, Csv, Json, Yaml, Svg];

    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten> {
        match format {
            Table => Ok(when::table(self, layout)),
            Markdown => Ok(when::markdown(self)),
            Csv => when::csv(self).map_err(failed),
            Svg => when::svg(self).map_err(failed),
            _ => data(self, format),
        }
    }
}

impl Written for SeasonReport {
    const WHAT: &'static str = "the season";
    const FORMATS: &'static [Format] = &[Table, Markdown, Csv, Ics, Json, Yaml, Svg];

    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten> {
        match format {
            Table => Ok(season::table(self, layout)),
            Markdown => Ok(season::markdown(self)),
            Csv => season::csv(self).map_err(failed),
            Ics => season::ics(self).ok_or(Unwritten::NoDay),
            Svg => Ok(season::svg(self)),
            _ => data(self, format),
        }
    }
}

impl Written for WhySeason {
    const WHAT: &'static str = WhyReport::WHAT;
    const FORMATS: &'static [Format] = WhyReport::FORMATS;

    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten> {
        match format {
            Table => Ok(season::why::table(self, layout)),
            Markdown => Ok(season::why::markdown(self)),
            _ => data(self, format),
        }
    }
}

impl Written for ProbeSeason {
    const WHAT: &'static str = ProbeReport::WHAT;
    const FORMATS: &'static [Format] = ProbeReport::FORMATS;

    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten> {
        match format {
            Table => Ok(season::probe::table(self, layout)),
            Markdown => Ok(season::probe::markdown(self)),
            _ => data(self, format),
        }
    }
}

impl Written for StandingReport {
    const WHAT: &'static str = "what stands";
    const FORMATS: &'static [Format] = &[Table, Markdown, Csv, Json, Yaml];

    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten> {
        match format {
            Table => Ok(standing::table(self, layout)),
            Markdown => Ok(standing::markdown(self)),
            Csv => standing::csv(self).map_err(failed),
            _ => data(self, format),
        }
    }
}

impl Written for CompareReport {
    const WHAT: &'static str = "the changes";
    const FORMATS: &'static [Format] = &[Table, Markdown, Json, Yaml];

    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten> {
        match format {
            Table => Ok(compare::table(self, layout.width)),
            Markdown => Ok(compare::markdown(self)),
            _ => data(self, format),
        }
    }
}

impl Written for CurveReport {
    const WHAT: &'static str = "the curve";
    const FORMATS: &'static [Format] = &[Table, Markdown, Csv, Json, Yaml, Svg];

    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten> {
        match format {
            Table => Ok(curve::table(self, layout)),
            Markdown => Ok(curve::markdown(self)),
            Csv => curve::csv(self).map_err(failed),
            Svg => curve::svg(self).map_err(failed),
            _ => data(self, format),
        }
    }
}

/// A calendar, with the plan that it is of.
#[derive(Debug, Clone, Copy)]
pub struct Dates<'a> {
    /// The plan.
    pub report: &'a Report,
    /// Its calendar.
    pub calendar: &'a Calendar,
    /// How often it was handed on before.
    pub revision: u32,
}

impl Written for Dates<'_> {
    const WHAT: &'static str = "the calendar";
    const FORMATS: &'static [Format] = &[Table, Markdown, Ics, Json, Yaml];

    fn written(&self, format: Format, layout: TableOptions) -> Result<String, Unwritten> {
        let dates = || share::ics(self.report, Some(self.calendar), None, self.revision);
        match format {
            Table => Ok(calendar::table(self.calendar, layout)),
            Markdown => Ok(calendar::markdown(self.calendar)),
            Ics => dates().ok_or(Unwritten::NoDay),
            _ => data(self.calendar, format),
        }
    }
}

impl Written for Shared<'_> {
    const WHAT: &'static str = "the plan";
    const FORMATS: &'static [Format] = &[Html, Markdown, Csv, Ics, Json, Yaml];

    fn written(&self, format: Format, _: TableOptions) -> Result<String, Unwritten> {
        let report = self.report;
        match format {
            Html => share::html(self).map_err(failed),
            Markdown => Ok(markdown(report)),
            Csv => share::csv(report).map_err(failed),
            Ics => share::ics(report, self.calendar, self.season, self.revision)
                .ok_or(Unwritten::NoDay),
            _ => data(report, format),
        }
    }
}
