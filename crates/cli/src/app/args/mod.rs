//! The first layer: what was typed.

mod shared;

pub(super) use shared::*;

use crate::output::compare::CompareReport;
use crate::output::curve::CurveReport;
use crate::output::probe::ProbeReport;
use crate::output::reasons::WhyReport;
use crate::output::season::SeasonReport;
use crate::output::share::Shared;
use crate::output::standing::StandingReport;
use crate::output::when::WhenReport;
use crate::output::{Dates, Stocked};
use clap::{ArgGroup, Args as ClapArgs, Parser, Subcommand, ValueEnum, ValueHint};
use std::path::PathBuf;

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
    /// Show how many compartments could be stocked on each of the next days
    When(When),
    /// Plan a season: how many to stock today, and what it leads to
    Season(Season),
    /// List what has changed from an old plan to a new one
    Compare(Compare),
    /// Put a spreadsheet's table of inspections into a scenario, or write one to fill in
    Inspect(Inspect),
    /// Close the day: what was done becomes what is there, and the scenario goes on to a later day
    Onward(Onward),
    /// Show what stands in boxes: how each queen is, success so far, and what is next
    Standing(Standing),
    /// List what to do on which day, what to feed, and how many queens to expect
    Calendar(Calendar),
    /// Write a plan to hand on: a page with field sheets, a table, a calendar
    Share(Share),
    /// Put a scenario on the desk: its page, live in the browser, to try changes, work by and save
    Desk(Desk),
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
#[command(mut_arg("verbose", |arg| arg.help("Add to the table all that keeps compartments empty, and what the honey estimate assumes")))]
pub(super) struct Stock {
    #[command(flatten)]
    pub(super) of: Scenario,
    /// Stay near an earlier plan (YAML or JSON): worth as much, changing as few frames as possible at
    /// their price
    #[arg(long, value_name = "PLAN", value_hint = ValueHint::FilePath)]
    pub(super) near: Option<PathBuf>,
    #[command(flatten)]
    pub(super) ceiling: Most,
    #[command(flatten)]
    pub(super) writing: Writing<Stocked<'static>>,
    #[command(flatten)]
    pub(super) time: Time,
    #[command(flatten)]
    pub(super) table: Table,
    #[command(flatten)]
    pub(super) said: Said,
}

#[derive(Debug, ClapArgs)]
pub(super) struct Verify {
    #[command(flatten)]
    pub(super) of: Scenario,
    /// Plan file in YAML or JSON; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) plan: PathBuf,
    #[command(flatten)]
    pub(super) quiet: Quiet,
}

#[derive(Debug, ClapArgs)]
#[command(mut_arg("verbose", |arg| arg.help("Show every limit, each change as a setting of the file, and what the honey estimate assumes")))]
pub(super) struct Why {
    #[command(flatten)]
    pub(super) of: Scenario,
    #[command(flatten)]
    pub(super) about: About,
    #[command(flatten)]
    pub(super) writing: Writing<WhyReport>,
    #[command(flatten)]
    pub(super) time: Time,
    #[command(flatten)]
    pub(super) table: Table,
    #[command(flatten)]
    pub(super) said: Said,
}

#[derive(Debug, ClapArgs)]
#[command(mut_arg("verbose", |arg| arg.help("Add to the table what the honey estimate assumes")))]
pub(super) struct When {
    #[command(flatten)]
    pub(super) of: Scenario,
    /// Last day to look at, as 2031-06-17
    #[arg(long, value_name = "DATE")]
    pub(super) until: jiff::civil::Date,
    /// Look at every N-th day only, and at the last
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..))]
    pub(super) every: u32,
    #[command(flatten)]
    pub(super) writing: Writing<WhenReport>,
    #[command(flatten)]
    pub(super) time: Time,
    #[command(flatten)]
    pub(super) table: Table,
    #[command(flatten)]
    pub(super) said: Said,
    #[command(flatten)]
    pub(super) mark: Mark,
}

#[derive(Debug, ClapArgs)]
#[command(mut_arg("verbose", |arg| arg.help("Add to the table what the honey estimate assumes")))]
pub(super) struct Season {
    #[command(flatten)]
    pub(super) of: Scenario,
    /// Set the season beside itself with other numbers of boxes, as 6..40 or 6..40 by 2; of several kinds, as
    /// `mating box=6..40`
    #[arg(long, value_name = "NUMBERS")]
    pub(super) boxes: Option<String>,
    /// Stay near a season that was shared (YAML or JSON, as written here): wants met as far, and as little otherwise than people
    /// were told as its price says
    #[arg(long, value_name = "SEASON", value_hint = ValueHint::FilePath)]
    pub(super) near: Option<PathBuf>,
    /// Write today's plan too, as `stock` does, in the format of the file's ending (yaml, json, md, txt, svg)
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(super) plan: Option<PathBuf>,
    #[command(flatten)]
    pub(super) writing: Writing<SeasonReport>,
    #[command(flatten)]
    pub(super) time: Time,
    #[command(flatten)]
    pub(super) table: Table,
    #[command(flatten)]
    pub(super) said: Said,
    #[command(flatten)]
    pub(super) mark: Mark,
}

#[derive(Debug, ClapArgs)]
#[command(mut_arg("verbose", |arg| arg.help("Add to the table what the honey estimate assumes")))]
pub(super) struct Curve {
    #[command(flatten)]
    pub(super) of: Scenario,
    #[command(flatten)]
    pub(super) writing: Writing<CurveReport>,
    #[command(flatten)]
    pub(super) time: Time,
    #[command(flatten)]
    pub(super) table: Table,
    #[command(flatten)]
    pub(super) said: Said,
    #[command(flatten)]
    pub(super) mark: Mark,
}

#[derive(Debug, ClapArgs)]
#[command(
    group(ArgGroup::new("changes").args(["set", "give", "spare", "postpone", "alternatives"]).required(true).multiple(true)),
    mut_arg("verbose", |arg| arg.help("Add to the table what the honey estimate assumes, to a plan what keeps compartments empty")),
    after_help = "PATH is keys and names joined by points, names with a point in quotes, entries of \
                  lists from 1: colonies.Ash.frames[2].count. VALUE is as in the file; several with \
                  commas (8, 12) or a range (4..7 kg by 0.5) are tried in turn, each with each; ~ \
                  removes what is there; PATH[+] adds an entry to a list."
)]
pub(super) struct Probe {
    #[command(flatten)]
    pub(super) of: Scenario,
    #[command(flatten)]
    pub(super) about: About,
    #[command(flatten)]
    pub(super) sets: Sets,
    /// Have a colony, or its frame group N, give at least this many frames
    #[arg(long, value_name = "COLONY[N]=FRAMES")]
    pub(super) give: Vec<String>,
    /// Leave a colony untouched
    #[arg(long, value_name = "COLONY")]
    pub(super) spare: Vec<String>,
    /// Put the stocking day off by this many days: which cells to cage, what to feed for the rain, the new plan
    #[arg(long, value_name = "DAYS", conflicts_with = "of_season", value_parser = clap::value_parser!(u32).range(1..=60))]
    pub(super) postpone: Vec<u32>,
    /// Alternatives by name, each a map of PATH to VALUE, in a YAML file; - reads stdin
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(super) alternatives: Option<PathBuf>,
    /// Show the whole plan of one alternative, by its name or number; 0 is the plan as it is
    #[arg(long, value_name = "NAME")]
    pub(super) plan: Option<String>,
    #[command(flatten)]
    pub(super) writing: Writing<ProbeReport>,
    #[command(flatten)]
    pub(super) time: Time,
    #[command(flatten)]
    pub(super) table: Table,
    #[command(flatten)]
    pub(super) said: Said,
}

#[derive(Debug, ClapArgs)]
pub(super) struct Compare {
    /// Plan file in YAML or JSON that the other holds; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) old: PathBuf,
    /// Plan file in YAML or JSON that replaces it; - reads stdin
    #[arg(value_hint = ValueHint::FilePath)]
    pub(super) new: PathBuf,
    #[command(flatten)]
    pub(super) writing: Writing<CompareReport>,
    #[command(flatten)]
    pub(super) table: Table,
    #[command(flatten)]
    pub(super) quiet: Quiet,
}

#[derive(Debug, ClapArgs)]
#[command(group(ArgGroup::new("way").args(["into", "table"]).required(true)))]
pub(super) struct Inspect {
    /// Table in CSV, parted by commas, semicolons or tabs; - reads stdin
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath, required_unless_present_any = ["table", "see"])]
    pub(super) file: Option<PathBuf>,
    /// Scenario that is updated; comments and order in it stay
    #[arg(long, value_name = "SCENARIO", value_hint = ValueHint::FilePath)]
    pub(super) into: Option<PathBuf>,
    /// What was seen in a compartment that stands, as `mating box 1.1=eggs`, also with `, bees 3 frames, brood 1 comb`
    #[arg(long, value_name = "COMPARTMENT=SEEN", requires = "into")]
    pub(super) see: Vec<String>,
    /// Write the colonies of a scenario as such a table instead
    #[arg(long, value_name = "SCENARIO", value_hint = ValueHint::FilePath, conflicts_with_all = ["file", "see", "recount", "dry_run"])]
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
    #[command(flatten)]
    pub(super) other: Other,
    #[command(flatten)]
    pub(super) quiet: Quiet,
    #[command(flatten)]
    pub(super) mark: Mark,
}

/// Another file that is written instead.
#[derive(Debug, ClapArgs)]
pub(super) struct Other {
    /// Write to another file, and leave the scenario as it is
    #[arg(long, value_name = "FILE", value_hint = ValueHint::FilePath)]
    pub(super) out: Option<PathBuf>,
    /// Replace the file of --out if it exists
    #[arg(long, requires = "out")]
    pub(super) force: bool,
}

#[derive(Debug, ClapArgs)]
pub(super) struct Onward {
    #[command(flatten)]
    pub(super) of: Scenario,
    /// Plan (YAML, JSON or page) whose rest was carried out; without it, what `done` records
    #[arg(long, value_name = "PLAN", value_hint = ValueHint::FilePath)]
    pub(super) plan: Option<PathBuf>,
    /// What was done, as the table of the plan (frames.csv of `share`) with its numbers corrected: 0 or no row for what was not done
    #[arg(long, value_name = "TABLE", value_hint = ValueHint::FilePath, conflicts_with = "plan")]
    pub(super) done: Option<PathBuf>,
    /// The day to go on to, as 2031-06-03 [default: the same day, which is just closed]
    #[arg(long, value_name = "DATE")]
    pub(super) to: Option<jiff::civil::Date>,
    /// Ripe cells at hand for the next round [default: those that are left]
    #[arg(long, value_name = "N")]
    pub(super) cells: Option<u32>,
    /// The day on which they were grafted
    #[arg(long, value_name = "DATE")]
    pub(super) grafted: Option<jiff::civil::Date>,
    #[command(flatten)]
    pub(super) other: Other,
    #[command(flatten)]
    pub(super) quiet: Quiet,
}

#[derive(Debug, ClapArgs)]
pub(super) struct Standing {
    #[command(flatten)]
    pub(super) of: Scenario,
    #[command(flatten)]
    pub(super) writing: Writing<StandingReport>,
    #[command(flatten)]
    pub(super) table: Table,
    #[command(flatten)]
    pub(super) quiet: Quiet,
    #[command(flatten)]
    pub(super) mark: Mark,
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
#[command(mut_arg("verbose", |arg| arg.help("Add to the table where the days are from, and what the feed assumes")))]
pub(super) struct Calendar {
    #[command(flatten)]
    pub(super) of: Scenario,
    #[command(flatten)]
    pub(super) sets: Sets,
    #[command(flatten)]
    pub(super) writing: Writing<Dates<'static>>,
    #[command(flatten)]
    pub(super) handed_on: Revision,
    #[command(flatten)]
    pub(super) time: Time,
    #[command(flatten)]
    pub(super) table: Table,
    #[command(flatten)]
    pub(super) said: Said,
}

#[derive(Debug, ClapArgs)]
#[command(group(ArgGroup::new("where").args(["to", "format", "out"]).required(true).multiple(true)))]
pub(super) struct Share {
    #[command(flatten)]
    pub(super) of: Scenario,
    #[command(flatten)]
    pub(super) ceiling: Most,
    /// Write all formats to a new folder
    #[arg(long, value_name = "FOLDER", value_hint = ValueHint::DirPath, conflicts_with_all = ["format", "out"])]
    pub(super) to: Option<PathBuf>,
    #[command(flatten)]
    pub(super) writing: Writing<Shared<'static>>,
    #[command(flatten)]
    pub(super) handed_on: Revision,
    #[command(flatten)]
    pub(super) time: Time,
    #[command(flatten)]
    pub(super) quiet: Quiet,
    #[command(flatten)]
    pub(super) mark: Mark,
}

#[derive(Debug, ClapArgs)]
pub(super) struct Desk {
    #[command(flatten)]
    pub(super) of: Scenario,
    /// Stay near a plan that is loaded already (YAML, JSON or page)
    #[arg(long, value_name = "PLAN", value_hint = ValueHint::FilePath)]
    pub(super) near: Option<PathBuf>,
    /// Port of this machine to serve at [default: 47817, or any that is free]
    #[arg(long, value_name = "PORT")]
    pub(super) port: Option<u16>,
    /// Do not open the browser
    #[arg(long)]
    pub(super) no_open: bool,
    /// Let telephones of the same network in: shows a code to scan. Whoever has it can change and save the file
    #[arg(long)]
    pub(super) phone: bool,
    #[command(flatten)]
    pub(super) quiet: Quiet,
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
