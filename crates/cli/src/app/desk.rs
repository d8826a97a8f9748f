//! `desk`: the page of a plan, live, served on one's own machine.

use super::args;
use super::detail::Detail;
use super::ended::{Exit, Stop, note};
use super::files::{is_stdin, label, read};
use super::load::{load_bytes, plan_bytes};
use super::table::Table;
use spareframe_desk::{Options, code, open, serve};
use std::path::PathBuf;
use std::sync::Arc;

/// What `desk` is to do.
#[derive(Debug)]
pub(super) struct DeskTask {
    scenario: PathBuf,
    /// The plan that is loaded already.
    near: Option<PathBuf>,
    options: Options,
    open: bool,
    detail: Detail,
}

impl DeskTask {
    pub(super) fn from_args(a: args::Desk) -> Result<Self, Stop> {
        let scenario = a.of.scenario;
        if is_stdin(&scenario) || a.near.as_deref().is_some_and(is_stdin) {
            return Err(Stop::Said(
                "the desk needs files with names, to read them again and to save; it reads none from stdin (-)"
                    .to_owned(),
            ));
        }
        Ok(Self {
            scenario,
            near: a.near,
            options: Options {
                port: a.port,
                phone: a.phone,
            },
            open: !a.no_open && !a.phone,
            detail: (&a.quiet).into(),
        })
    }
}

/// Serves the page until Ctrl-C.
pub(super) fn perform(task: &DeskTask) -> Result<Exit, Stop> {
    let bytes = read(&task.scenario)?;
    load_bytes(&task.scenario, &bytes, task.detail)?;
    let near = task.near.as_deref();
    let near = near.map(|near| plan_bytes(near, task.detail)).transpose()?;
    let near = near.map(|plan| String::from_utf8_lossy(&plan).into_owned());
    let table = Table::new(task.scenario.clone(), bytes, near);
    serve(Arc::new(table), task.options, |address| {
        note(&format!("{} is on the desk: {}", label(&task.scenario), address.link()));
        if task.options.phone {
            note("Scan this with a telephone in the same network. Whoever has the address can change and save the file:");
            note(&code(address).unwrap_or_default());
        }
        note("Ctrl-C ends it.");
        if task.open
            && let Err(why) = open(address)
        {
            note(&format!("note: no browser could be opened ({why}); open the address yourself"));
        }
    })
    .map_err(|failure| Stop::Said(failure.0))?;
    Ok(Exit::Done)
}
