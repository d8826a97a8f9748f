//! What several commands take, each once.

use crate::output::{Format, Written};
use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use clap::{Args as ClapArgs, ValueHint};
use spareframe_solver::Worth;
use std::marker::PhantomData;
use std::path::PathBuf;
use std::time::Duration;

/// The scenario that a command is about.
#[derive(Debug, ClapArgs)]
pub(in crate::app) struct Scenario {
    /// Scenario file in YAML; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(in crate::app) scenario: PathBuf,
}

/// In which format, and where to.
#[derive(Debug, ClapArgs)]
pub(in crate::app) struct Writing<W: Written + Send + Sync + 'static> {
    /// Format [default: from the ending of --out, else the first of these]
    #[arg(long, value_parser = formats::<W>())]
    pub(in crate::app) format: Option<Format>,
    /// Write to a file instead of stdout
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(in crate::app) out: Option<PathBuf>,
    /// Replace files that exist, and no others than are written
    #[arg(long)]
    pub(in crate::app) force: bool,
    #[arg(skip)]
    pub(in crate::app) of: PhantomData<W>,
}

/// What is asked about.
#[derive(Debug, ClapArgs)]
pub(in crate::app) struct About {
    /// Ask about the season of the scenario, all rounds, instead of its one day
    #[arg(long = "season")]
    pub(in crate::app) of_season: bool,
}

/// How wide a table is.
#[derive(Debug, ClapArgs)]
pub(in crate::app) struct Table {
    /// Columns of the table, 40 to 120 [default: of the terminal; 80 in a pipe or a file]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(40..=120))]
    pub(in crate::app) width: Option<u16>,
}

/// Marks that others need in a file.
#[derive(Debug, ClapArgs)]
pub(in crate::app) struct Mark {
    /// Begin CSV with a byte-order mark, so that spreadsheets read umlauts
    #[arg(long)]
    pub(in crate::app) bom: bool,
}

/// How long a search may take.
#[derive(Debug, ClapArgs)]
pub(in crate::app) struct Time {
    /// Stop after this many seconds with the best found so far; what is not known by then is left out
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub(in crate::app) time_limit: Option<Duration>,
}

/// The most that is to be stocked.
#[derive(Debug, ClapArgs)]
pub(in crate::app) struct Most {
    /// Stock at most this many compartments
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..))]
    pub(in crate::app) most: Option<u64>,
    /// Stock compartments worth at most this much in all
    #[arg(long, value_name = "W", value_parser = worth)]
    pub(in crate::app) worth: Option<Worth>,
}

/// Changes of single values.
#[derive(Debug, ClapArgs)]
pub(in crate::app) struct Sets {
    /// Change a value, without touching the file; several --set go together
    #[arg(long, value_name = "PATH=VALUE")]
    pub(in crate::app) set: Vec<String>,
}

/// Which version of a calendar this is.
#[derive(Debug, ClapArgs)]
pub(in crate::app) struct Revision {
    /// How often this calendar was handed on before, for ics; a higher number updates older entries
    #[arg(long, value_name = "NUMBER", default_value_t = 0)]
    pub(in crate::app) revision: u32,
}

/// What is said beside the answer.
#[derive(Debug, ClapArgs)]
pub(in crate::app) struct Quiet {
    /// No warnings and notes on stderr; errors are still shown
    #[arg(short, long)]
    pub(in crate::app) quiet: bool,
}

/// The same, and what is said in it.
#[derive(Debug, ClapArgs)]
pub(in crate::app) struct Said {
    #[command(flatten)]
    pub(in crate::app) quiet: Quiet,
    /// Say more
    #[arg(short, long, conflicts_with = "quiet")]
    pub(in crate::app) verbose: bool,
}

/// The formats that something has, by name.
fn formats<W: Written>() -> impl TypedValueParser<Value = Format> {
    let values = W::FORMATS.iter();
    let named = values.map(|f| PossibleValue::new(f.name()).help(f.purpose()));
    PossibleValuesParser::new(named).try_map(|name| {
        let known = W::FORMATS.iter().find(|format| format.name() == name);
        known.copied().ok_or("no such format")
    })
}

fn worth(text: &str) -> Result<Worth, String> {
    let wrong = || "expected a worth above 0, such as 7.5".to_owned();
    let value: f64 = text.parse().map_err(|_| wrong())?;
    let thousandths = (value * 1000.0).round();
    if !(1.0..1e15).contains(&thousandths) {
        return Err(wrong());
    }
    #[expect(clippy::cast_possible_truncation, reason = "in range")]
    Ok(Worth(thousandths as i64))
}

fn seconds(text: &str) -> Result<Duration, String> {
    let wrong = || "expected seconds above 0, such as 2.5".to_owned();
    let value: f64 = text.parse().map_err(|_| wrong())?;
    if value <= 0.0 {
        return Err(wrong());
    }
    Duration::try_from_secs_f64(value).map_err(|_| wrong())
}
