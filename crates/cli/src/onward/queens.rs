//! Mated queens that left their compartments: colonies that got one, nuclei that became colonies.

use super::done::Done;
use super::shelf::Given;
use super::standing::{Filled, contents, filled, restated};
use crate::editing::{Change, New, Step, What, quoted};
use crate::reading::Node;
use crate::scenario::{Loaded, Requeen, Stands};
use jiff::civil::Date;
use spareframe_solver::{BoxKind, CombId, Compartment};

/// What queens change.
#[derive(Debug, Default)]
pub(super) struct Queens {
    pub changes: Vec<Change>,
    /// Compartments of the day's work, by index, that are colonies from now on.
    pub nuclei: Vec<usize>,
    /// Queens that left their compartments.
    pub given: usize,
}

/// What the day says of queens, where its plan was carried out; a nucleus that was made has its queen in any case.
pub(super) fn queens(
    root: &Node,
    loaded: &Loaded,
    (done, cells): (&Done, &Given),
    day: Date,
) -> Queens {
    let mut out = Queens::default();
    let found = loaded.queens.allotted(day, &loaded.rearing.intervals);
    let mut gone = Vec::new();
    let wanted = loaded.queens.requeen.iter().zip(&found.colonies);
    let did = |(_, (colony, _)): &(usize, (&Requeen, _))| done.requeened.has(colony.colony);
    for (entry, (colony, gets)) in wanted.enumerate().filter(did) {
        let Some(gets) = gets else { continue };
        let path = [Step::from("requeen"), Step::from(entry)];
        let name = loaded.scenario.colonies.get(colony.colony.0);
        if let (true, Some(colony)) = (gets.goes_in <= day, name) {
            gone.push(entry);
            out.taken(loaded, gets.queen, day);
            let path = || [Step::from("colonies"), Step::Key(colony.name.clone())];
            let requeened = What::Set("requeened".to_owned(), date(day));
            out.changes.push(Change::at(path(), requeened));
            out.changes
                .push(Change::at(path(), What::Gone("lays".into())));
        } else if colony.prepared.is_none() && gets.old_out <= day {
            let prepared = What::Set("prepared".to_owned(), date(day));
            out.changes.push(Change::at(path, prepared));
        }
    }
    match gone.len() == loaded.queens.requeen.len() {
        true if !gone.is_empty() => out
            .changes
            .push(Change::at([], What::Gone("requeen".into()))),
        false if !gone.is_empty() => {
            let path = [Step::from("requeen")];
            out.changes.push(Change::at(path, What::Out(gone)));
        }
        _ => {}
    }
    out.boxes(root, loaded, (done, cells, &found.left), day);
    out
}

fn date(day: Date) -> New {
    New::Scalar(day.to_string())
}

impl Queens {
    /// A queen is out of her compartment; what she has laid until then is in no earlier count.
    fn taken(&mut self, loaded: &Loaded, queen: usize, day: Date) {
        let scenario = &loaded.scenario;
        let entry = loaded.queens.stand.get(queen).map(|queen| queen.entry);
        let stood = entry.and_then(|entry| scenario.standing.get(entry));
        let (Some(entry), Some(stood)) = (entry, stood) else {
            return;
        };
        let Some(kind) = scenario.boxes.get(stood.kind.0) else {
            return;
        };
        self.given += 1;
        let mut change = |what| {
            let path = [Step::from("standing"), Step::from(entry)];
            self.changes.push(Change::at(path, what));
        };
        change(What::Set(
            "queen".to_owned(),
            New::Scalar("none".to_owned()),
        ));
        for key in ["seen", "counted"] {
            change(What::Set(key.to_owned(), date(day)));
        }
        let was = loaded.standing.get(entry);
        let taken = was.map_or(0, |was| was.taken).saturating_add(1);
        let before = was.and_then(Stands::failed_before_now);
        let counts = [
            ("taken", Some(taken.to_string())),
            ("failed before", before),
        ];
        for (key, count) in counts.into_iter().filter_map(|(key, n)| Some((key, n?))) {
            change(What::Set(key.to_owned(), New::Scalar(count)));
        }
        let now = restated(scenario, kind, &Filled::of(stood));
        now.into_iter().for_each(&mut change);
        for key in ["next cell", "failed", "eggs"] {
            change(What::Gone(key.into()));
        }
    }

    /// Boxes that got a queen. One with a single compartment is a colony from now on, and no box any more.
    fn boxes(
        &mut self,
        root: &Node,
        loaded: &Loaded,
        (done, cells, left): (&Done, &Given, &[usize]),
        day: Date,
    ) {
        let scenario = &loaded.scenario;
        let takes = |c: &Compartment| loaded.rearing.takes.get(c.kind.0) == Some(&true);
        let done = done.compartments.iter().enumerate();
        let got = done.filter(|(at, c)| takes(c) && !cells.without.contains(at));
        let got: Vec<(usize, &Compartment)> = got.collect();
        for (_, queen) in got.iter().zip(left) {
            self.taken(loaded, *queen, day);
        }
        let stands = |c: &Compartment| scenario.standing.iter().any(|stands| stands.is(c));
        for (id, kind) in scenario.boxes.iter().enumerate() {
            let new = got.iter().filter(|(_, c)| c.kind.0 == id && !stands(c));
            let new: Vec<_> = new.copied().collect();
            let used = u32::try_from(new.len()).unwrap_or(u32::MAX);
            let left = kind.count.saturating_sub(used);
            let others = scenario.standing.iter().filter(|s| s.kind.0 == id);
            // Boxes are numbered, and what stands in a later one keeps its number.
            if used == 0 || kind.compartments > 1 || others.clone().any(|s| s.box_no >= left) {
                continue;
            }
            for (at, compartment) in new {
                self.nuclei.push(at);
                self.colony(root, loaded, (kind, compartment), day);
            }
            let path = [Step::from("boxes"), Step::Key(kind.name.clone())];
            let count = What::Set("count".to_owned(), New::Scalar(left.to_string()));
            self.changes.push(Change::at(path, count));
        }
    }

    /// A nucleus becomes a colony, counted as it was made.
    fn colony(
        &mut self,
        root: &Node,
        loaded: &Loaded,
        (kind, compartment): (&BoxKind, &Compartment),
        day: Date,
    ) {
        let scenario = &loaded.scenario;
        let colonies = root.get("colonies");
        let known = |name: &str| {
            let quoted = quoted(name);
            let is = |what: &What| matches!(what, What::Set(key, _) if *key == quoted);
            let made = self.changes.iter().any(|change| is(&change.what));
            made || colonies.is_some_and(|all| all.get(name).is_some())
        };
        let names = (compartment.box_no.saturating_add(1)..).map(|n| format!("{} {n}", kind.name));
        let Some(name) = names.take(COUNT).find(|name| !known(name)) else {
            return;
        };
        let site = scenario.sites.get(kind.site.0);
        let site = site.map_or_else(String::new, |site| quoted(&site.name));
        let mut map = vec![
            ("site", New::Scalar(site)),
            ("role", New::Scalar("nucleus".to_owned())),
        ];
        let comb = kind.lines.first().map_or(CombId(0), |line| line.ask.comb);
        if let Some(own) = scenario.combs.get(comb.0).filter(|_| comb != CombId(0)) {
            map.push(("comb", New::Scalar(quoted(&own.name))));
        }
        map.extend(contents(
            scenario,
            kind,
            &filled(scenario, compartment, None),
        ));
        map.push(("counted", date(day)));
        map.push(("requeened", date(day)));
        let map = map.into_iter().map(|(key, new)| (key.to_owned(), new));
        let new = What::Set(quoted(&name), New::Map(map.collect()));
        self.changes.push(Change::at([Step::from("colonies")], new));
    }
}

/// Names that are tried.
const COUNT: usize = 10_000;
