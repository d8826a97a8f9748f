//! What lies on the desk: the scenario as it was read, what is tried, and what the page is told of it.

use super::ended::Stop;
use super::files::{label, read};
use super::limit::Limit;
use super::reply::{Reply, STALE, Shown, sentence, wrong};
use super::share::{Beside, beside};
use super::tried::{Tried, Trying};
use crate::desk::{Ask, Finish, State, dials, did, finished_box, finished_colony, verdict};
use crate::output::calendar::build as build_calendar;
use crate::output::share::{Shared, live, parts, served};
use crate::probe::{Changed, Typed, changed, question};
use crate::reading::{Severity, plain};
use sha2::{Digest, Sha256};
use spareframe_desk::{Desk, Page};
use std::collections::VecDeque;
use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

/// Said where the scenario has a season.
const TODAY_ALONE: &str =
    "the desk plans today alone; `spareframe season` decides how many to stock for all rounds";
/// How long a plan is looked for before the first answer (a choice: the page waits a tenth of a second in all); what is better,
/// and the proof, follow.
const FIRST: Duration = Duration::from_millis(25);
/// How long the few lines are looked for that say what keeps compartments empty (a choice).
const HELD_BACK: Duration = Duration::from_secs(3);
/// Plans that are remembered (a choice: what is shown, what was before, and what is being looked for).
const KEPT: usize = 6;
/// Pages that may ask at once; of more, the one that has not asked for longest is forgotten.
const PAGES: usize = 8;

/// The file as it was read.
pub(super) struct Base {
    pub(super) bytes: Vec<u8>,
    pub(super) digest: String,
}

impl Base {
    pub(super) fn of(bytes: Vec<u8>) -> Self {
        let digest = digest([bytes.as_slice()]);
        Self { bytes, digest }
    }
}

fn digest<'a>(parts: impl IntoIterator<Item = &'a [u8]>) -> String {
    let mut all = Sha256::new();
    for part in parts {
        all.update(part.len().to_le_bytes());
        all.update(part);
    }
    let bytes: [u8; 32] = all.finalize().into();
    bytes
        .iter()
        .take(16)
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

/// What tells one thing that is tried from another.
fn key(base: &Base, state: &State) -> String {
    let near = state.near.as_deref().unwrap_or_default();
    let sets = state.sets.iter().map(String::as_bytes);
    let of = [base.digest.as_bytes(), near.as_bytes()];
    digest(of.into_iter().chain(sets))
}

/// A page that asks: the number of its last question, and what calls off the work on it.
struct Asking {
    page: String,
    number: u64,
    called_off: Arc<AtomicBool>,
}

pub(super) struct Table {
    pub(super) path: PathBuf,
    near: Option<String>,
    pub(super) base: Mutex<Arc<Base>>,
    asking: Mutex<VecDeque<Asking>>,
    kept: Mutex<VecDeque<(String, Arc<Tried>)>>,
}

pub(super) fn open<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Desk for Table {
    fn page(&self) -> Result<Page, String> {
        let base = self.base();
        let state = State {
            near: self.near.clone(),
            ..State::default()
        };
        let never = AtomicBool::new(false);
        let on = |found: &Found| {
            let asked = found.asked(self, None);
            found.shared(&base.bytes, None, |shared| served(shared, &asked))
        };
        let shown = self.tried(&base, &state, Some(FIRST), &never, on);
        let (html, scripts) = shown.map_err(|reply| reply.said())??;
        Ok(Page { html, scripts })
    }

    fn ask(&self, question: &str, body: &[u8]) -> Option<Vec<u8>> {
        let reply = match serde_json::from_slice::<Ask>(body) {
            Ok(ask) => self.answer(question, &ask)?,
            Err(error) => wrong(format!("the page asks what cannot be read: {error}")),
        };
        Some(serde_json::to_vec(&reply).unwrap_or_default())
    }
}

/// What was found for a state, with the scenario that it is of.
struct Found<'f, 'a> {
    changed: &'f Changed<'a>,
    tried: &'f Tried,
    begun: bool,
}

impl Found<'_, '_> {
    fn asked(&self, table: &Table, hand: Option<usize>) -> live::Asked {
        live::Asked {
            file: table
                .path
                .file_name()
                .map_or_else(|| label(&table.path), |name| plain(&name.to_string_lossy())),
            place: label(&table.path),
            begun: self.begun,
            near: table.near.clone(),
            plan: self.tried.plan(),
            ..dials(self.changed, hand)
        }
    }

    fn shared<T>(
        &self,
        bytes: &[u8],
        beside: Option<&Beside>,
        on: impl FnOnce(&Shared) -> Result<T, String>,
    ) -> Result<T, String> {
        let (scenario, notes) = (&self.tried.scenario, &self.tried.notes);
        // Only what follows last shows the calendar.
        let calendar = beside.and_then(|_| build_calendar(scenario, notes, &self.tried.report));
        on(&Shared {
            notes,
            scenario,
            source: &String::from_utf8_lossy(bytes),
            report: &self.tried.report,
            season: None,
            without_season: notes.season.as_ref().map(|_| TODAY_ALONE),
            curve: beside.and_then(|beside| beside.curve.as_ref()),
            reasons: beside.and_then(|beside| beside.reasons.as_ref()),
            when: beside.and_then(|beside| beside.when.as_ref()),
            calendar: calendar.as_ref(),
            revision: 0,
        })
    }
}

impl Table {
    pub(super) fn new(path: PathBuf, bytes: Vec<u8>, near: Option<String>) -> Self {
        Self {
            path,
            near,
            base: Mutex::new(Arc::new(Base::of(bytes))),
            asking: Mutex::default(),
            kept: Mutex::default(),
        }
    }

    fn base(&self) -> Arc<Base> {
        Arc::clone(&open(&self.base))
    }

    fn answer(&self, question: &str, ask: &Ask) -> Option<Reply> {
        let base = self.base();
        let reply = match question {
            "try" => match self.newest(ask) {
                Some(flag) => self.first(&base, ask, &flag),
                None => Err(STALE),
            },
            "prove" | "sheets" | "rest" => match self.still(ask) {
                Some(flag) => self.follow(question, &base, ask, &flag),
                None => Err(STALE),
            },
            "finish" => self.finish(&base, ask),
            "plan" => self.plan(&base, ask),
            "lines" => self.lines(&base, ask),
            "save" => self.save(&base, ask),
            "load" => self.load(),
            _ => return None,
        };
        Some(reply.unwrap_or_else(|reply| reply))
    }

    /// Takes a question for the newest of its page, and calls off the work on those before it.
    fn newest(&self, ask: &Ask) -> Option<Arc<AtomicBool>> {
        let mut asking = open(&self.asking);
        if let Some(at) = asking.iter().position(|known| known.page == ask.page) {
            if asking
                .get(at)
                .is_some_and(|known| known.number > ask.number)
            {
                return None;
            }
            if let Some(old) = asking.remove(at) {
                old.called_off.store(true, Ordering::Relaxed);
            }
        }
        while asking.len() >= PAGES {
            if let Some(old) = asking.pop_front() {
                old.called_off.store(true, Ordering::Relaxed);
            }
        }
        let called_off = Arc::new(AtomicBool::new(false));
        asking.push_back(Asking {
            page: ask.page.chars().take(40).collect(),
            number: ask.number,
            called_off: Arc::clone(&called_off),
        });
        Some(called_off)
    }

    /// What calls off the work on a question, where it is still the newest of its page.
    fn still(&self, ask: &Ask) -> Option<Arc<AtomicBool>> {
        let asking = open(&self.asking);
        let own = asking
            .iter()
            .find(|known| known.page == ask.page && known.number == ask.number)?;
        Some(Arc::clone(&own.called_off))
    }

    /// Finds the plan of a state, as good as the time allows, and does something with it.
    fn tried<T>(
        &self,
        base: &Base,
        state: &State,
        limit: Option<Duration>,
        called_off: &AtomicBool,
        on: impl FnOnce(&Found) -> T,
    ) -> Result<T, Reply> {
        let typed = Typed {
            sets: state.sets.clone(),
            ..Typed::default()
        };
        let Some(changed) = changed(&base.bytes, &typed) else {
            return Err(self.faults(&base.bytes, &typed));
        };
        let key = key(base, state);
        let enough = self
            .known(&key)
            .filter(|tried| tried.proved || limit.is_some());
        let tried = match enough {
            Some(tried) => tried,
            None => {
                let trying = Trying {
                    loaded: &changed.loaded,
                    near: state.near.as_deref(),
                    limit: Limit::of(limit).or(called_off),
                    // The few lines of reasons take longer than a first answer may.
                    held_back: limit.is_none().then_some(HELD_BACK),
                };
                let tried = trying.find().map_err(|stop| self.said(stop))?;
                if called_off.load(Ordering::Relaxed) {
                    return Err(STALE);
                }
                let tried = Arc::new(tried);
                self.keep(key, Arc::clone(&tried));
                tried
            }
        };
        Ok(on(&Found {
            changed: &changed,
            tried: &tried,
            begun: state.near.is_some(),
        }))
    }

    fn known(&self, key: &str) -> Option<Arc<Tried>> {
        let kept = open(&self.kept);
        let known = kept.iter().find(|(known, _)| known == key);
        known.map(|(_, tried)| Arc::clone(tried))
    }

    /// The figures of a plan that was shown before.
    fn row(
        &self,
        base: &Base,
        before: &State,
        flag: &AtomicBool,
    ) -> Option<super::tried::RowAndDraws> {
        match self.known(&key(base, before)) {
            Some(tried) => Some(tried.row()),
            None => {
                let row = |found: &Found| found.tried.row();
                self.tried(base, before, Some(FIRST), flag, row).ok()
            }
        }
    }

    fn keep(&self, key: String, tried: Arc<Tried>) {
        let mut kept = open(&self.kept);
        kept.retain(|(known, _)| *known != key);
        while kept.len() >= KEPT {
            kept.pop_front();
        }
        kept.push_back((key, tried));
    }

    pub(super) fn said(&self, stop: Stop) -> Reply {
        match stop {
            Stop::Said(text) => wrong(text),
            Stop::Reported | Stop::ClosedPipe => {
                wrong(format!("{} cannot be read", label(&self.path)))
            }
        }
    }

    /// What is wrong with what is typed.
    pub(super) fn faults(&self, bytes: &[u8], typed: &Typed) -> Reply {
        let label = label(&self.path);
        let (_, remarks) = question(&label, bytes, typed);
        let errors = remarks.iter().map(|remark| &remark.finding);
        let errors = errors.filter(|finding| finding.severity == Severity::Error);
        let wrong: Vec<String> = errors.take(5).map(sentence).collect();
        match wrong.is_empty() {
            true => self::wrong("Each change has one value."),
            false => Reply::Wrong { wrong },
        }
    }

    /// The first answer to a change.
    fn first(&self, base: &Base, ask: &Ask, flag: &AtomicBool) -> Result<Reply, Reply> {
        let before = match &ask.before {
            Some(before) if *before != ask.state => self.row(base, before, flag),
            _ => None,
        };
        let names: [&'static str; 5] = ["combs", "head", "yard", "picture", "hand"];
        self.shown(base, ask, (Some(FIRST), flag), &names, before)
    }

    fn shown(
        &self,
        base: &Base,
        ask: &Ask,
        (limit, flag): (Option<Duration>, &AtomicBool),
        names: &[&'static str],
        before: Option<super::tried::RowAndDraws>,
    ) -> Result<Reply, Reply> {
        let outside = read(&self.path).map_or(true, |now| now != base.bytes);
        let on = |found: &Found| {
            let tried = found.tried;
            let asked = found.asked(self, ask.open);
            let parts = found.shared(&base.bytes, None, |shared| parts(shared, &asked, names))?;
            let earlier = tried.earlier.as_ref();
            Ok(Shown {
                number: ask.number,
                parts,
                did: before.map(|before| did((&tried.scenario, &tried.notes), before, tried.row())),
                verdict: earlier.map(|earlier| verdict(&tried.scenario, earlier, &asked.plan)),
                proved: tried.proved,
                outside,
            })
        };
        let shown: Result<Shown, String> = self.tried(base, &ask.state, limit, flag, on)?;
        shown
            .map(|shown| Reply::Shown(Box::new(shown)))
            .map_err(wrong)
    }

    /// What follows a first answer: what is better, and proved; the sheets; and all the rest.
    fn follow(
        &self,
        what: &str,
        base: &Base,
        ask: &Ask,
        flag: &AtomicBool,
    ) -> Result<Reply, Reply> {
        match what {
            "prove" => {
                let before = ask.before.as_ref();
                let before = before.and_then(|before| self.row(base, before, flag));
                let names: [&'static str; 5] = ["combs", "head", "yard", "picture", "hand"];
                self.shown(base, ask, (None, flag), &names, before)
            }
            "sheets" => {
                let names: [&'static str; 3] = ["combs", "sheets", "after"];
                self.shown(base, ask, (Some(FIRST), flag), &names, None)
            }
            _ => self.rest(base, ask, flag),
        }
    }

    /// Curve, reasons, later days and calendar.
    fn rest(&self, base: &Base, ask: &Ask, flag: &AtomicBool) -> Result<Reply, Reply> {
        let on = |found: &Found| {
            let tried = found.tried;
            let of = (&tried.scenario, &tried.notes);
            let plan = (&tried.outcome, &tried.report);
            let beside =
                beside(of, plan, Limit::of(None).or(flag)).map_err(|stop| self.said(stop))?;
            let asked = found.asked(self, None);
            let names: [&'static str; 1] = ["rest"];
            let shown = found.shared(&base.bytes, Some(&beside), |shared| {
                parts(shared, &asked, &names)
            });
            shown.map_err(wrong)
        };
        let parts = self.tried(base, &ask.state, Some(FIRST), flag, on)??;
        if flag.load(Ordering::Relaxed) {
            return Err(STALE);
        }
        Ok(Reply::Shown(Box::new(Shown {
            number: ask.number,
            parts,
            proved: true,
            ..Shown::default()
        })))
    }

    fn finish(&self, base: &Base, ask: &Ask) -> Result<Reply, Reply> {
        let never = AtomicBool::new(false);
        let on = |found: &Found| {
            let loaded = &found.changed.loaded;
            let done = found.changed.now.get("done");
            let plan = found.tried.plan();
            match ask.finish? {
                Finish::Colony(at) => finished_colony(loaded, done, &plan, at),
                Finish::Compartment(number) => finished_box(loaded, done, &plan, number),
            }
        };
        let finished = self.tried(base, &ask.state, Some(FIRST), &never, on)?;
        let (sets, said) = finished.ok_or_else(|| wrong("There is nothing to be finished."))?;
        Ok(Reply::Finished { sets, said })
    }

    /// The plan in the form in which it is stayed near to.
    fn plan(&self, base: &Base, ask: &Ask) -> Result<Reply, Reply> {
        let never = AtomicBool::new(false);
        let on = |found: &Found| found.tried.in_short();
        let plan = self.tried(base, &ask.state, Some(FIRST), &never, on)?;
        Ok(Reply::Plan {
            plan: plan.map_err(wrong)?,
        })
    }
}
