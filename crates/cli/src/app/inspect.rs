//! `inspect`: a spreadsheet's table into a scenario, or a scenario's colonies as a table.

use super::args::{self, RowOf};
use super::delivery::{MARK, out_file};
use super::detail::Detail;
use super::ended::{Exit, Stop, note};
use super::files::{deliver, is_stdin, label, may_write, print, read, write};
use super::held::held;
use super::load::show;
use crate::inspect::{By, Inspected, inspect, look, table};
use crate::reading::plain;
use similar::{Algorithm, TextDiff};
use std::path::{Path, PathBuf};

/// What `inspect` is to do.
#[derive(Debug)]
pub(super) struct InspectTask {
    way: Way,
    by: Option<By>,
    out: Option<PathBuf>,
    force: bool,
    /// The table begins with a byte-order mark.
    bom: bool,
    detail: Detail,
}

#[derive(Debug)]
enum Way {
    Into {
        table: Option<PathBuf>,
        sees: Vec<String>,
        scenario: PathBuf,
        recount: bool,
        dry_run: bool,
    },
    Table(PathBuf),
}

impl InspectTask {
    pub(super) fn from_args(a: args::Inspect) -> Result<Self, Stop> {
        let to_stdout = a.other.out.as_deref().is_some_and(is_stdin);
        let way = match (a.file, a.into, a.table) {
            (table, Some(scenario), _) => {
                if table.as_deref().is_some_and(is_stdin) && is_stdin(&scenario) {
                    return Err(Stop::Said(
                        "table and scenario cannot both come from stdin (-)".to_owned(),
                    ));
                }
                if is_stdin(&scenario) && a.other.out.is_none() && !a.dry_run {
                    return Err(Stop::Said(
                        "a scenario from stdin (-) needs --out FILE or --dry-run".to_owned(),
                    ));
                }
                Way::Into {
                    table,
                    sees: a.see,
                    scenario,
                    recount: a.recount,
                    dry_run: a.dry_run,
                }
            }
            (.., Some(scenario)) => Way::Table(scenario),
            _ => return Err(Stop::Said("name a table and --into SCENARIO".to_owned())),
        };
        let source = match &way {
            Way::Into { scenario, .. } | Way::Table(scenario) => scenario,
        };
        let out = match to_stdout {
            true => a.other.out,
            false => out_file(a.other.out, source)?,
        };
        Ok(Self {
            by: a.by.map(|by| match by {
                RowOf::Colony => By::Colony,
                RowOf::Frame => By::Frame,
            }),
            out,
            force: a.other.force,
            bom: a.mark.bom,
            detail: (&a.quiet).into(),
            way,
        })
    }
}

/// Does it.
pub(super) fn perform(task: &InspectTask) -> Result<Exit, Stop> {
    if let Some(out) = task.out.as_deref().filter(|out| !is_stdin(out)) {
        may_write(out, task.force)?;
    }
    match &task.way {
        Way::Table(scenario) => as_table(task, scenario),
        Way::Into {
            table,
            sees,
            scenario,
            recount,
            dry_run,
        } => into(task, (table.as_deref(), sees, scenario), *recount, *dry_run),
    }
}

fn as_table(task: &InspectTask, scenario: &Path) -> Result<Exit, Stop> {
    let bytes = read(scenario)?;
    let written = table(&label(scenario), &bytes, task.by).map_err(|findings| {
        show(&findings, &bytes, task.detail);
        Stop::Reported
    })?;
    if task.detail != Detail::Quiet && !written.left_out.is_empty() {
        let names: Vec<_> = written.left_out.iter().map(|name| plain(name)).collect();
        note(&format!(
            "note: counted in the other way and left out, see --by: {}",
            names.join(", ")
        ));
    }
    let out = task.out.as_deref().filter(|out| !is_stdin(out));
    let mut text = written.table;
    if task.bom {
        text.insert(0, MARK);
    }
    deliver(&text, out, task.force, task.detail)?;
    Ok(Exit::Done)
}

fn into(
    task: &InspectTask,
    (table, sees, scenario): (Option<&Path>, &[String], &Path),
    recount: bool,
    dry_run: bool,
) -> Result<Exit, Stop> {
    // Whoever else changes the scenario waits, so that no change is lost.
    let in_place = !dry_run && task.out.is_none();
    let _held = in_place.then(|| held(scenario)).transpose()?;
    let before = read(scenario)?;
    let mut found = Inspected::default();
    if let Some(table) = table {
        let rows = read(table)?;
        found = inspect(
            (&label(table), &rows),
            (&label(scenario), &before),
            task.by,
            recount,
        );
        say(task, &found, (&rows, &before))?;
    }
    if !sees.is_empty() {
        let text = found.text.take();
        let text = text.as_deref().map_or(&*before, str::as_bytes);
        let seen = look(sees, (&label(scenario), text));
        say(task, &seen, (sees.join("\n").as_bytes(), text))?;
        found.changed.extend(seen.changed);
        found.gone.extend(seen.gone);
        found.text = seen.text;
    }
    let new = found.text.as_deref().ok_or(Stop::Reported)?;
    if dry_run {
        print(&difference(&label(scenario), &before, new))?;
    } else {
        match task.out.as_deref() {
            Some(out) if is_stdin(out) => print(new)?,
            Some(out) => write(out, new, task.force)?,
            None if read(scenario)? != before => {
                return Err(Stop::Said(format!(
                    "{} has changed since it was read, and is left as it is; run the command again",
                    label(scenario)
                )));
            }
            None if new.as_bytes() != before => write(scenario, new, true)?,
            None => {}
        }
    }
    if task.detail != Detail::Quiet {
        note(&summary(&found, scenario, task.out.as_deref(), dry_run));
    }
    Ok(Exit::Done)
}

/// Says what was found, in what was read and in the scenario, and stops where that is wrong.
fn say(task: &InspectTask, found: &Inspected, (read, before): (&[u8], &[u8])) -> Result<(), Stop> {
    show(&found.findings, read, task.detail);
    // Places in the scenario are those of the new text, where there is one.
    let new = found.changed_text.as_deref();
    show(
        &found.in_scenario,
        new.map_or(before, str::as_bytes),
        task.detail,
    );
    match found.text {
        Some(_) => Ok(()),
        None => Err(Stop::Reported),
    }
}

/// What changes, line by line, in the unified format.
fn difference(label: &str, before: &[u8], new: &str) -> String {
    let before = String::from_utf8_lossy(before);
    // By lines that stand once in both, as the names of colonies do: else a large table takes long.
    let difference = TextDiff::configure()
        .algorithm(Algorithm::Patience)
        .diff_lines(before.as_ref(), new);
    let name = plain(label);
    let text = difference.unified_diff().header(&name, &name).to_string();
    // The file's own line ends are kept in it; nothing else may steer a terminal.
    text.split('\n')
        .map(plain_line)
        .collect::<Vec<_>>()
        .join("\n")
}

fn plain_line(line: &str) -> String {
    match line.strip_suffix('\r') {
        Some(line) => plain(line) + "\r",
        None => plain(line),
    }
}

fn summary(found: &Inspected, scenario: &Path, out: Option<&Path>, dry_run: bool) -> String {
    let names = |names: &[String]| {
        let names: Vec<_> = names.iter().map(|name| plain(name)).collect();
        names.join(", ")
    };
    let mut parts = Vec::new();
    if !found.changed.is_empty() {
        parts.push(format!("changed: {}", names(&found.changed)));
    }
    if !found.added.is_empty() {
        parts.push(format!("new: {}", names(&found.added)));
    }
    if !found.gone.is_empty() {
        parts.push(format!(
            "standing no more, with frames for the store room: {}",
            names(&found.gone)
        ));
    }
    let file = match (dry_run, out) {
        (true, _) => "nothing written".to_owned(),
        (false, Some(out)) => format!("wrote {}", label(out)),
        (false, None) if parts.is_empty() => format!("{} stays as it is", label(scenario)),
        (false, None) => format!("wrote {}", label(scenario)),
    };
    match parts.is_empty() {
        true => format!("{file}: the table says nothing new"),
        false => format!("{file}; {}", parts.join("; ")),
    }
}
