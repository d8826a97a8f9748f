//! The first layer: what was typed.

use clap::{ArgGroup, Args as ClapArgs, Parser, Subcommand, ValueEnum, ValueHint};
use spareframe_solver::Worth;
use std::path::PathBuf;
use std::time::Duration;

/// Plans the stocking of mating boxes: which frames and bees leave which colony for which
/// compartment.
#[derive(Debug, Parser)]
#[command(
    name = "spareframe",
    version,
    arg_required_else_help = true,
    after_help = "Exit codes: 0 done; 1 the answer is no (nothing to stock, or a plan breaks a rule); \
                  2 bad input or failure."
)]
pub(super) struct Args {
    /// What to do.
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Find the best plan for a scenario
    Stock(Stock),
    /// Check a plan, also one edited by hand, against its scenario
    Verify(Verify),
    /// Explain what holds the plan back, and what one more would take
    Why(Why),
    /// Try changes without touching the scenario, beside the plan as it is
    Probe(Probe),
    /// Show what each further compartment costs
    Curve(Curve),
    /// List what has changed from an old plan to a new one
    Compare(Compare),
    /// Put a spreadsheet's table of inspections into a scenario, or write one to fill in
    Inspect(Inspect),
    /// List what to do on which day, what to feed, and how many queens to expect
    Calendar(Calendar),
    /// Write a plan to hand on: a page with field sheets, a table, a calendar
    Share(Share),
    /// Write a commented starter scenario to NAME.yaml
    Start(Start),
    /// Print the JSON schema of a scenario, or of a plan
    Schema {
        /// The schema of a plan instead
        #[arg(long)]
        plan: bool,
    },
    /// Print completions for a shell
    Completions {
        /// Which shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page
    Manual,
}

#[derive(Debug, ClapArgs)]
pub(super) struct Stock {
    /// Scenario file in YAML; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) scenario: PathBuf,
    /// Stay near an earlier plan (YAML or JSON): worth as much, changing as few frames as possible at
    /// their price
    #[arg(long, value_name = "PLAN", value_hint = ValueHint::FilePath)]
    pub(super) near: Option<PathBuf>,
    /// Stock at most this many compartments
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..))]
    pub(super) most: Option<u64>,
    /// Stock compartments worth at most this much in all
    #[arg(long, value_name = "W", value_parser = worth)]
    pub(super) worth: Option<Worth>,
    /// Format of the plan [default: from the ending of --out, else table]
    #[arg(long, value_enum)]
    pub(super) format: Option<Format>,
    /// Write the plan to a file instead of stdout
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(super) out: Option<PathBuf>,
    /// Replace the file of --out if it exists
    #[arg(long)]
    pub(super) force: bool,
    /// Stop after this many seconds with the best plan found so far
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub(super) time_limit: Option<Duration>,
    /// Columns of the table, 40 to 120 [default: of the terminal; 80 in a pipe or a file]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(40..=120))]
    pub(super) width: Option<u16>,
    /// No warnings and notes on stderr; errors are still shown
    #[arg(short, long, conflicts_with = "verbose")]
    pub(super) quiet: bool,
    /// Add to the table all that keeps compartments empty, and what the honey estimate assumes
    #[arg(short, long)]
    pub(super) verbose: bool,
}

#[derive(Debug, ClapArgs)]
pub(super) struct Verify {
    /// Scenario file in YAML; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) scenario: PathBuf,
    /// Plan file in YAML or JSON; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) plan: PathBuf,
    /// No warnings and notes on stderr; errors are still shown
    #[arg(short, long)]
    pub(super) quiet: bool,
}

#[derive(Debug, ClapArgs)]
pub(super) struct Why {
    /// Scenario file in YAML; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) scenario: PathBuf,
    /// Format of the reasons [default: from the ending of --out, else table]
    #[arg(long, value_enum)]
    pub(super) format: Option<Format>,
    /// Write the reasons to a file instead of stdout
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(super) out: Option<PathBuf>,
    /// Replace the file of --out if it exists
    #[arg(long)]
    pub(super) force: bool,
    /// Stop the plan, and then its reasons, after so many seconds each; what is not known by then is
    /// left out
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub(super) time_limit: Option<Duration>,
    /// Columns of the table, 40 to 120 [default: of the terminal; 80 in a pipe or a file]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(40..=120))]
    pub(super) width: Option<u16>,
    /// No warnings and notes on stderr; errors are still shown
    #[arg(short, long, conflicts_with = "verbose")]
    pub(super) quiet: bool,
    /// Show every limit, each change as a setting of the file, and what the honey estimate assumes
    #[arg(short, long)]
    pub(super) verbose: bool,
}

#[derive(Debug, ClapArgs)]
pub(super) struct Curve {
    /// Scenario file in YAML; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) scenario: PathBuf,
    /// Format of the curve [default: from the ending of --out, else table]
    #[arg(long, value_enum)]
    pub(super) format: Option<CurveFormat>,
    /// Write the curve to a file instead of stdout
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(super) out: Option<PathBuf>,
    /// Replace the file of --out if it exists
    #[arg(long)]
    pub(super) force: bool,
    /// Stop after this many seconds with the points found so far
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub(super) time_limit: Option<Duration>,
    /// Columns of the table, 40 to 120 [default: of the terminal; 80 in a pipe or a file]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(40..=120))]
    pub(super) width: Option<u16>,
    /// No warnings and notes on stderr; errors are still shown
    #[arg(short, long, conflicts_with = "verbose")]
    pub(super) quiet: bool,
    /// Add to the table what the honey estimate assumes
    #[arg(short, long)]
    pub(super) verbose: bool,
}

#[derive(Debug, ClapArgs)]
#[command(
    group(ArgGroup::new("changes").args(["set", "give", "spare", "postpone", "alternatives"]).required(true).multiple(true)),
    after_help = "PATH is keys and names joined by points, names with a point in quotes, entries of \
                  lists from 1: colonies.Ash.frames[2].count. VALUE is as in the file; several with \
                  commas (8, 12) or a range (4..7 kg by 0.5) are tried in turn, each with each; ~ \
                  removes what is there; PATH[+] adds an entry to a list."
)]
pub(super) struct Probe {
    /// Scenario file in YAML; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) scenario: PathBuf,
    /// Change a value; several --set go together
    #[arg(long, value_name = "PATH=VALUE")]
    pub(super) set: Vec<String>,
    /// Have a colony, or its frame group N, give at least this many frames
    #[arg(long, value_name = "COLONY[N]=FRAMES")]
    pub(super) give: Vec<String>,
    /// Leave a colony untouched
    #[arg(long, value_name = "COLONY")]
    pub(super) spare: Vec<String>,
    /// Put the stocking day off by this many days: which cells to cage, what to feed for the rain, the new plan
    #[arg(long, value_name = "DAYS", value_parser = clap::value_parser!(u32).range(1..=60))]
    pub(super) postpone: Vec<u32>,
    /// Alternatives by name, each a map of PATH to VALUE, in a YAML file; - reads stdin
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(super) alternatives: Option<PathBuf>,
    /// Show the whole plan of one alternative, by its name or number; 0 is the plan as it is
    #[arg(long, value_name = "NAME")]
    pub(super) plan: Option<String>,
    /// Format [default: from the ending of --out, else table]
    #[arg(long, value_enum)]
    pub(super) format: Option<Format>,
    /// Write to a file instead of stdout
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(super) out: Option<PathBuf>,
    /// Replace the file of --out if it exists
    #[arg(long)]
    pub(super) force: bool,
    /// Stop the search for each plan after so many seconds with the best found so far
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub(super) time_limit: Option<Duration>,
    /// Columns of the table, 40 to 120 [default: of the terminal; 80 in a pipe or a file]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(40..=120))]
    pub(super) width: Option<u16>,
    /// No warnings and notes on stderr; errors are still shown
    #[arg(short, long, conflicts_with = "verbose")]
    pub(super) quiet: bool,
    /// Add to the table what the honey estimate assumes, to a plan what keeps compartments empty
    #[arg(short, long)]
    pub(super) verbose: bool,
}

/// A format of a curve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum CurveFormat {
    /// For the terminal
    Table,
    /// To print or keep
    Markdown,
    /// For spreadsheets
    Csv,
    /// For programs
    Json,
    /// For programs
    Yaml,
    /// A picture
    Svg,
}

#[derive(Debug, ClapArgs)]
pub(super) struct Compare {
    /// Plan file in YAML or JSON that the other holds; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) old: PathBuf,
    /// Plan file in YAML or JSON that replaces it; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) new: PathBuf,
    /// Format of what has changed [default: table]
    #[arg(long, value_enum)]
    pub(super) format: Option<CompareFormat>,
    /// Columns of the table, 40 to 120 [default: of the terminal; 80 in a pipe]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(40..=120))]
    pub(super) width: Option<u16>,
    /// No notes on stderr; errors are still shown
    #[arg(short, long)]
    pub(super) quiet: bool,
}

/// A format of what has changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum CompareFormat {
    /// For the terminal
    Table,
    /// To print or send
    Markdown,
    /// For programs
    Json,
}

#[derive(Debug, ClapArgs)]
#[command(group(ArgGroup::new("way").args(["into", "table"]).required(true)))]
pub(super) struct Inspect {
    /// Table in CSV, parted by commas, semicolons or tabs; - reads stdin
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath, required_unless_present = "table")]
    pub(super) file: Option<PathBuf>,
    /// Scenario whose colonies the table updates; comments and order in it stay
    #[arg(long, value_name = "SCENARIO", value_hint = ValueHint::FilePath, requires = "file")]
    pub(super) into: Option<PathBuf>,
    /// Write the colonies of a scenario as such a table instead
    #[arg(long, value_name = "SCENARIO", value_hint = ValueHint::FilePath, conflicts_with_all = ["file", "recount", "dry_run"])]
    pub(super) table: Option<PathBuf>,
    /// What a row stands for [default: by the names of the columns]
    #[arg(long, value_enum)]
    pub(super) by: Option<RowOf>,
    /// Let the table stand in place of quick counts by frames, or of frames by quick counts
    #[arg(long)]
    pub(super) recount: bool,
    /// Show what would change, and write nothing
    #[arg(long, conflicts_with_all = ["out", "force"])]
    pub(super) dry_run: bool,
    /// Write to another file, and leave the scenario as it is
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(super) out: Option<PathBuf>,
    /// Replace the file of --out if it exists
    #[arg(long, requires = "out")]
    pub(super) force: bool,
    /// No warnings and notes on stderr; errors are still shown
    #[arg(short, long)]
    pub(super) quiet: bool,
}

/// What a row of a table stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum RowOf {
    /// A colony, in quick counts
    Colony,
    /// A frame group of a colony
    Frame,
}

#[derive(Debug, ClapArgs)]
pub(super) struct Calendar {
    /// Scenario file in YAML; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) scenario: PathBuf,
    /// Change a value first, without touching the file; several --set go together
    #[arg(long, value_name = "PATH=VALUE")]
    pub(super) set: Vec<String>,
    /// Format of the calendar [default: from the ending of --out, else table]
    #[arg(long, value_enum)]
    pub(super) format: Option<CalendarFormat>,
    /// Write the calendar to a file instead of stdout
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(super) out: Option<PathBuf>,
    /// Replace the file of --out if it exists
    #[arg(long)]
    pub(super) force: bool,
    /// How often this calendar was handed on before, for ics; a higher number updates older entries
    #[arg(long, value_name = "NUMBER", default_value_t = 0)]
    pub(super) revision: u32,
    /// Stop the plan after so many seconds with the best found so far
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub(super) time_limit: Option<Duration>,
    /// Columns of the table, 40 to 120 [default: of the terminal; 80 in a pipe or a file]
    #[arg(long, value_name = "COLUMNS", value_parser = clap::value_parser!(u16).range(40..=120))]
    pub(super) width: Option<u16>,
    /// No warnings and notes on stderr; errors are still shown
    #[arg(short, long, conflicts_with = "verbose")]
    pub(super) quiet: bool,
    /// Add to the table where the days are from, and what the feed assumes
    #[arg(short, long)]
    pub(super) verbose: bool,
}

/// A format of a calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum CalendarFormat {
    /// For the terminal
    Table,
    /// To print or keep
    Markdown,
    /// For calendars
    Ics,
    /// For programs
    Json,
    /// For programs
    Yaml,
}

#[derive(Debug, ClapArgs)]
#[command(group(ArgGroup::new("where").args(["to", "format", "out"]).required(true).multiple(true)))]
pub(super) struct Share {
    /// Scenario file in YAML; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) scenario: PathBuf,
    /// Stock at most this many compartments
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..))]
    pub(super) most: Option<u64>,
    /// Stock compartments worth at most this much in all
    #[arg(long, value_name = "W", value_parser = worth)]
    pub(super) worth: Option<Worth>,
    /// Write all formats to a new folder
    #[arg(long, value_name = "FOLDER", value_hint = ValueHint::DirPath, conflicts_with_all = ["format", "out"])]
    pub(super) to: Option<PathBuf>,
    /// One format alone [default: from the ending of --out, else html]
    #[arg(long, value_enum)]
    pub(super) format: Option<ShareFormat>,
    /// Write one format to a file; without it, to stdout
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(super) out: Option<PathBuf>,
    /// Replace the files that share writes if they exist, and no others
    #[arg(long)]
    pub(super) force: bool,
    /// How often this calendar was handed on before; a higher number updates older entries
    #[arg(long, value_name = "NUMBER", default_value_t = 0)]
    pub(super) revision: u32,
    /// Stop the plan, and then curve and reasons, after so many seconds each with what is found by then
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    pub(super) time_limit: Option<Duration>,
    /// No warnings and notes on stderr; errors are still shown
    #[arg(short, long)]
    pub(super) quiet: bool,
}

/// A format to hand on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum ShareFormat {
    /// A page with everything in it, to read and to print
    Html,
    /// To print or keep
    Markdown,
    /// For spreadsheets
    Csv,
    /// For calendars
    Ics,
    /// For programs
    Json,
    /// For programs and hand edits
    Yaml,
}

#[derive(Debug, ClapArgs)]
pub(super) struct Start {
    /// Name of the file, with or without .yaml
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) name: PathBuf,
    /// Replace the file if it exists
    #[arg(long)]
    pub(super) force: bool,
}

/// A format of a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(super) enum Format {
    /// For the terminal
    Table,
    /// To print or keep
    Markdown,
    /// For programs
    Json,
    /// For programs and hand edits
    Yaml,
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
