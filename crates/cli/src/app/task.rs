//! The second layer: what is to be done, with every default filled in and every clash found.

use super::args::{Args, Command};
use super::calendar::CalendarTask;
use super::compare::CompareTask;
use super::curve::CurveTask;
use super::desk::DeskTask;
use super::ended::Stop;
use super::files::label;
use super::inspect::InspectTask;
use super::onward::OnwardTask;
use super::probe::ProbeTask;
use super::season::SeasonTask;
use super::share::ShareTask;
use super::standing::StandingTask;
use super::stock::StockTask;
use super::verify::VerifyTask;
use super::when::WhenTask;
use super::why::WhyTask;
use std::path::PathBuf;

/// What is to be done.
#[derive(Debug)]
pub(super) enum Task {
    Stock(StockTask),
    Why(WhyTask),
    Curve(CurveTask),
    Probe(ProbeTask),
    When(WhenTask),
    Season(SeasonTask),
    Compare(CompareTask),
    Inspect(InspectTask),
    Onward(OnwardTask),
    Standing(StandingTask),
    Calendar(CalendarTask),
    Share(ShareTask),
    Desk(DeskTask),
    Verify(VerifyTask),
    Start { file: PathBuf, force: bool },
    Schema { plan: bool },
    Completions(clap_complete::Shell),
    Manual,
}

impl Task {
    pub(super) fn from_args(args: Args) -> Result<Self, Stop> {
        Ok(match args.command {
            Command::Stock(a) => Self::Stock(StockTask::from_args(a)?),
            Command::Why(a) => Self::Why(WhyTask::from_args(a)?),
            Command::Curve(a) => Self::Curve(CurveTask::from_args(a)?),
            Command::When(a) => Self::When(WhenTask::from_args(a)?),
            Command::Season(a) => Self::Season(SeasonTask::from_args(a)?),
            Command::Probe(a) => Self::Probe(ProbeTask::from_args(a)?),
            Command::Inspect(a) => Self::Inspect(InspectTask::from_args(a)?),
            Command::Onward(a) => Self::Onward(OnwardTask::from_args(a)?),
            Command::Standing(a) => Self::Standing(StandingTask::from_args(a)?),
            Command::Calendar(a) => Self::Calendar(CalendarTask::from_args(a)?),
            Command::Share(a) => Self::Share(ShareTask::from_args(a)?),
            Command::Desk(a) => Self::Desk(DeskTask::from_args(a)?),
            Command::Compare(a) => Self::Compare(CompareTask::from_args(a)?),
            Command::Verify(a) => Self::Verify(VerifyTask::from_args(a)?),
            Command::Start(a) => Self::Start {
                file: with_ending(a.name)?,
                force: a.force,
            },
            Command::Schema { plan } => Self::Schema { plan },
            Command::Completions { shell } => Self::Completions(shell),
            Command::Manual => Self::Manual,
        })
    }
}

fn with_ending(name: PathBuf) -> Result<PathBuf, Stop> {
    let Some(file) = name.file_name().filter(|f| !f.is_empty()) else {
        return Err(Stop::Said(format!(
            "\"{}\" is not a file name",
            label(&name)
        )));
    };
    if matches!(
        name.extension().and_then(|e| e.to_str()),
        Some("yaml" | "yml")
    ) {
        return Ok(name);
    }
    let mut file = file.to_owned();
    file.push(".yaml");
    Ok(name.with_file_name(file))
}
