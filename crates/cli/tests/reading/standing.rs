//! Compartments that stand, as the reader has them.

use spareframe::scenario::{Barred, Finding, Loaded, Queen, read};
use spareframe_solver::{Bees, BoxId, Hundreds, Line};

/// Two boxes of two compartments of Zander frames (2100 bees).
fn yard(standing: &str) -> (Option<Loaded>, Vec<Finding>) {
    let text = format!(
        "spareframe: 2\nday: 2031-06-03\nsites: {{a: }}\ncolonies:\n  Ash:\n    comb: Zander\n    frames: [{{count: 9, brood: 60 %}}, {{count: 3, stores: 60 %}}]\n\
         recipes:\n  r:\n    bees: 3000\n    lines:\n      - {{name: brood, brood: 50 %}}\n      - {{name: food, stores: 50 %, no brood: yes}}\n    \
         again: {{bees: 1 frame, lines: [{{name: fresh, brood: 20 %}}, {{name: food, stores: 10 %}}]}}\n\
         boxes: {{b: {{count: 2, compartments: 2, recipe: r}}}}\n{standing}"
    );
    let read = read("yard.yaml", text.as_bytes());
    (read.loaded, read.findings)
}

/// The one that stands.
fn one(entry: &str) -> (Option<Loaded>, Vec<Finding>) {
    yard(&format!("standing:\n  - {{box: b, {entry}}}\n"))
}

fn codes(found: &[Finding]) -> Vec<&'static str> {
    found.iter().map(|f| f.code).collect()
}

#[test]
fn what_stands_is_kept_as_the_file_says_it() {
    let (loaded, found) = one(
        "number: 2, compartment: 1, since: 2031-05-20, counted: 2031-06-01, from: [Ash, old 7], \
         queen: to be taken, seen: 2031-06-02, failed: 1, next cell: yes, extra bees: 900, \
         frames: [{count: 1, brood: 30 %, place: left}, {stores: 20 %, bees: 0 %}]",
    );
    assert_eq!(found, []);
    let loaded = loaded.unwrap();
    let (said, expected) = (&loaded.standing[0], &loaded.scenario.standing[0]);
    let stands = &said.counted_as;
    // On the stocking day some of its brood is sealed that was open.
    assert_ne!(stands.frames, expected.frames);
    assert_eq!(expected.wants_cell, stands.wants_cell);
    assert_eq!((stands.kind, stands.box_no, stands.place), (BoxId(0), 1, 0));
    assert_eq!(stands.bees(), Hundreds(21 + 9));
    assert!(stands.wants_cell);
    let days = [said.since, said.counted, said.seen].map(|day| day.to_string());
    assert_eq!(days, ["2031-05-20", "2031-06-01", "2031-06-02"]);
    assert_eq!(said.places, [Some("left".to_owned()), None]);
    assert_eq!(said.from, ["Ash", "old 7"]);
    assert_eq!(
        (said.queen, said.failed, said.barred),
        (Queen::ToBeTaken, 1, None)
    );
    let again = &loaded.scenario.boxes[0].again;
    assert_eq!(again.bees, Bees(2100));
    // Its brood frame is enough, its stores are, and so are its bees.
    let lacks = stands.lacks(again);
    let counts: Vec<u32> = lacks.lines.iter().map(|line: &Line| line.count).collect();
    assert_eq!((counts, lacks.bees), (vec![0, 0], Bees(0)));
}

#[test]
fn a_next_cell_is_wanted_where_there_is_no_queen_and_nothing_forbids_it() {
    for (entry, wants, barred) in [
        ("queen: none", true, None),
        ("queen: none, next cell: no", false, None),
        ("queen: none, failed: 1", true, None),
        ("queen: none, failed: 2", false, Some(Barred::Failed(2))),
        ("queen: laying workers", false, Some(Barred::LayingWorkers)),
        ("queen: drone-layer", false, None),
        ("queen: drone-layer, next cell: yes", true, None),
        ("queen: mated", false, None),
        ("next cell: no", false, None),
    ] {
        let (loaded, found) = one(&format!("since: 2031-05-20, {entry}"));
        assert_eq!(found, [], "{entry}");
        let said = &loaded.unwrap().standing[0];
        assert_eq!(
            (said.counted_as.wants_cell, said.barred),
            (wants, barred),
            "{entry}"
        );
    }
}

#[test]
fn four_weeks_without_open_brood_forbid_a_next_cell() {
    // Eggs of the first day are sealed 9 days later.
    for (entry, days) in [
        ("since: 2031-04-28", None),
        ("since: 2031-04-27", Some(28)),
        (
            "since: 2031-04-01, counted: 2031-04-28, frames: [{brood: 20 %}]",
            None,
        ),
        (
            "since: 2031-04-01, counted: 2031-04-27, frames: [{brood: 20 %}]",
            Some(28),
        ),
        (
            "since: 2031-04-01, counted: 2031-05-06, frames: [{brood: 20 %, sealed: 100 %}]",
            Some(28),
        ),
        (
            "since: 2031-04-01, counted: 2031-05-07, frames: [{brood: 20 %, sealed: 100 %}]",
            None,
        ),
    ] {
        let (loaded, found) = one(&format!("queen: none, {entry}"));
        assert_eq!(found, [], "{entry}");
        let said = &loaded.unwrap().standing[0];
        assert_eq!(said.barred, days.map(Barred::NoOpenBrood), "{entry}");
    }
}

#[test]
fn bad_entries_are_found() {
    for (entry, code) in [
        ("since: 2031-06-04", "dates-order"),
        ("since: 2030-04-04", "dates-order"),
        ("since: 2031-05-20, counted: 2031-05-19", "dates-order"),
        ("since: 2031-05-20, counted: 2031-06-04", "dates-order"),
        ("since: 2031-05-20, seen: 2031-05-19", "dates-order"),
        ("since: 2031-05-20, seen: 2031-06-04", "dates-order"),
        ("number: 1", "missing-key"),
        ("since: 2031-05-20, number: 3", "out-of-range"),
        ("since: 2031-05-20, compartment: 3", "out-of-range"),
        ("since: 2031-05-20, queen: lost", "wrong-type"),
        ("since: 2031-05-20, frames: [{count: 3}]", "too-many-frames"),
        ("since: 2031-05-20, extra bees: 9000", "more-than-a-hive"),
        ("since: 2031-05-20, frames: [{queen: yes}]", "out-of-range"),
        (
            "since: 2031-05-20, queen: none, failed: 2, next cell: yes",
            "no-next-cell",
        ),
        (
            "since: 2031-05-20, queen: laying workers, next cell: yes",
            "no-next-cell",
        ),
        (
            "since: 2031-04-20, queen: none, next cell: yes",
            "no-next-cell",
        ),
        ("since: 2031-05-20, next cell: yes", "queen-in-the-way"),
        (
            "since: 2031-05-20, queen: laying, next cell: yes",
            "queen-in-the-way",
        ),
    ] {
        assert_eq!(codes(&one(entry).1), [code], "{entry}");
    }
}

#[test]
fn a_compartment_stands_once_and_not_beside_work_that_gives_it_no_cell() {
    let twice = "standing:\n  - {box: b, since: 2031-05-20}\n  - {box: b, since: 2031-05-21}\n";
    assert_eq!(codes(&yard(twice).1), ["duplicate-key"]);
    let work = "done: [{box: b, frames: [{colony: Ash, group: 1}]}]\n";
    let stands = |said: &str| format!("standing: [{{box: b, since: 2031-05-20, {said}}}]\n{work}");
    assert_eq!(codes(&yard(&stands("queen: mated")).1), ["no-next-cell"]);
    // The line is one of `again`.
    let (loaded, found) = yard(&stands("queen: none").replace("group: 1", "group: 1, line: fresh"));
    assert_eq!(found, []);
    assert_eq!(loaded.unwrap().scenario.done[0].frames[0].line, 0);
    // It holds a brood frame already, and asks for no other.
    let full = stands("queen: none, frames: [{brood: 40 %}]");
    assert_eq!(codes(&yard(&full).1), ["frames-misplaced"]);
    let other =
        stands("queen: none").replace("standing: [{box: b", "standing: [{box: b, number: 2");
    assert_eq!(yard(&other).1, []);
}

#[test]
fn nothing_may_stand() {
    let (loaded, found) = yard("standing: []\n");
    assert_eq!(found, []);
    assert!(loaded.unwrap().standing.is_empty());
}

#[test]
fn brood_that_leaves_no_room_for_what_the_next_cell_asks_for_is_found() {
    let none = "since: 2031-06-03, queen: none, frames";
    let (_, found) = one(&format!("{none}: [{{count: 2, brood: 40 %}}]"));
    assert_eq!(codes(&found), ["too-many-frames"]);
    assert_eq!((found[0].line, found[0].column), (17, 5));
    assert!(found[0].found.contains("1 more frame,"), "{found:?}");
    // An empty comb can come out, and a compartment that is left in peace needs no room.
    assert_eq!(
        one(&format!("{none}: [{{brood: 40 %}}, {{count: 1}}]")).1,
        []
    );
    let (_, found) = one(&format!(
        "next cell: no, {none}: [{{count: 2, brood: 40 %}}]"
    ));
    assert_eq!(found, []);
}
