//! What is tried on the desk, written into the file.

use super::files::{label, read, write};
use super::held::held;
use super::reply::{Reply, sentence, wrong};
use super::table::{Base, Table, open};
use crate::desk::{Ask, State, edited, for_today, lines};
use crate::probe::{Typed, changed};
use crate::reading::Severity;
use crate::scenario;
use std::sync::Arc;

impl Table {
    /// Changes that go into the file; that a colony is finished is for today.
    fn kept_changes(state: &State) -> (Typed, Vec<String>) {
        let (stays, sets) = for_today(&state.sets);
        let typed = Typed {
            sets,
            ..Typed::default()
        };
        (typed, stays)
    }

    fn new_text(&self, base: &Base, typed: &Typed) -> Result<String, Reply> {
        let Some(changed) = changed(&base.bytes, typed) else {
            return Err(self.faults(&base.bytes, typed));
        };
        let text = String::from_utf8_lossy(&base.bytes);
        edited(&text, &changed).ok_or_else(|| {
            wrong(format!(
                "{} is written so that this cannot be changed in it with its comments kept; write it by hand: {}",
                label(&self.path),
                typed.sets.join("; ")
            ))
        })
    }

    pub(super) fn lines(&self, base: &Base, ask: &Ask) -> Result<Reply, Reply> {
        let (typed, _) = Self::kept_changes(&ask.state);
        let new = self.new_text(base, &typed)?;
        let old = String::from_utf8_lossy(&base.bytes);
        Ok(Reply::Lines {
            lines: lines(&old, &new),
            file: base.digest.clone(),
        })
    }

    /// Writes the file whole, where it is still what was read and what was shown.
    pub(super) fn save(&self, base: &Base, ask: &Ask) -> Result<Reply, Reply> {
        let name = label(&self.path);
        let changed = || {
            wrong(format!(
                "{name} has changed since it was read. Nothing is written; read it again first."
            ))
        };
        if ask.file != base.digest {
            return Err(changed());
        }
        let (typed, stays) = Self::kept_changes(&ask.state);
        let new = self.new_text(base, &typed)?;
        let _held = held(&self.path).map_err(|stop| self.said(stop))?;
        let now = read(&self.path).map_err(|stop| self.said(stop))?;
        if now != base.bytes {
            return Err(changed());
        }
        write(&self.path, &new, true).map_err(|stop| self.said(stop))?;
        *open(&self.base) = Arc::new(Base::of(new.into_bytes()));
        Ok(Reply::Saved { saved: true, stays })
    }

    /// Reads the file again.
    pub(super) fn load(&self) -> Result<Reply, Reply> {
        let bytes = read(&self.path).map_err(|stop| self.said(stop))?;
        let found = scenario::read(&label(&self.path), &bytes);
        if found.loaded.is_none() {
            let errors = found
                .findings
                .iter()
                .filter(|f| f.severity == Severity::Error);
            let wrong = errors.take(5).map(sentence).collect();
            return Err(Reply::Wrong { wrong });
        }
        *open(&self.base) = Arc::new(Base::of(bytes));
        Ok(Reply::Saved {
            saved: false,
            stays: Vec::new(),
        })
    }
}
