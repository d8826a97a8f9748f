//! One function for each command that needs no plan; the others have their own files.

use super::args::Args;
use super::ended::{Exit, Stop, note};
use super::files::{label, may_write, print, write};
use super::task::Task;
use super::{
    calendar, compare, curve, desk, inspect, onward, probe, season, share, standing, stock, verify,
    when, why,
};
use crate::output::plan_schema;
use crate::scenario;
use clap::CommandFactory;
use std::path::Path;

/// Does what is to be done.
pub(super) fn perform(task: &Task) -> Result<Exit, Stop> {
    match task {
        Task::Stock(task) => stock::stock(task),
        Task::Why(task) => why::perform(task),
        Task::Curve(task) => curve::perform(task),
        Task::Probe(task) => probe::perform(task),
        Task::When(task) => when::perform(task),
        Task::Season(task) => season::perform(task),
        Task::Compare(task) => compare::perform(task),
        Task::Inspect(task) => inspect::perform(task),
        Task::Onward(task) => onward::perform(task),
        Task::Standing(task) => standing::perform(task),
        Task::Calendar(task) => calendar::perform(task),
        Task::Share(task) => share::perform(task),
        Task::Desk(task) => desk::perform(task),
        Task::Verify(task) => verify::perform(task),
        Task::Start { file, force } => start(file, *force),
        Task::Schema { plan } => schema(*plan),
        Task::Completions(shell) => {
            let mut script = Vec::new();
            clap_complete::generate(*shell, &mut Args::command(), "spareframe", &mut script);
            print(&String::from_utf8_lossy(&script))?;
            Ok(Exit::Done)
        }
        Task::Manual => manual(),
    }
}

fn start(file: &Path, force: bool) -> Result<Exit, Stop> {
    may_write(file, force)?;
    write(file, scenario::starter(), force)?;
    note(&format!(
        "wrote {0}; next: spareframe stock {0}",
        label(file)
    ));
    Ok(Exit::Done)
}

fn schema(plan: bool) -> Result<Exit, Stop> {
    let value = if plan {
        plan_schema()
    } else {
        scenario::schema()
    };
    let text = serde_json::to_string_pretty(&value)
        .map_err(|e| Stop::Said(format!("cannot write the schema: {e}")))?;
    print(&(text + "\n"))?;
    Ok(Exit::Done)
}

fn manual() -> Result<Exit, Stop> {
    let failed = |e: std::io::Error| Stop::Said(format!("cannot write the manual: {e}"));
    let mut page = Vec::new();
    let mut whole = Args::command();
    whole.build();
    clap_mangen::Man::new(whole.clone())
        .render(&mut page)
        .map_err(failed)?;
    for command in whole.get_subcommands().filter(|c| c.get_name() != "help") {
        let man = clap_mangen::Man::new(command.clone());
        let name = command.get_name().to_uppercase();
        page.extend_from_slice(format!(".SH \"COMMAND {name}\"\n").as_bytes());
        man.render_synopsis_section(&mut page).map_err(failed)?;
        man.render_description_section(&mut page).map_err(failed)?;
        man.render_options_section(&mut page).map_err(failed)?;
    }
    print(&String::from_utf8_lossy(&page))?;
    Ok(Exit::Done)
}
