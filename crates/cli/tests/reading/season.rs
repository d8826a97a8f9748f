//! The season, as the reader has it.

use jiff::civil::{Date, date};
use spareframe::scenario::season::{Asked, What};
use spareframe::scenario::{Finding, read};
use spareframe_solver::{BoxId, ColonyId};

/// Two mating boxes of two compartments, a kind of box that takes queens.
fn asked(season: &str) -> (Option<Asked>, Vec<Finding>) {
    let text = format!(
        "spareframe: 2\nday: 2031-05-20\nsites: {{a: }}\n\
         colonies:\n  Ash: {{brood: 6 combs, stores: 5 combs}}\n  Elm: {{brood: 6 combs, stores: 5 combs}}\n  \
         Yew: {{brood: 6 combs, stores: 5 combs, hold: robbed}}\n\
         recipes:\n  r: {{bees: 3000, lines: [{{name: brood, brood: 50 %}}]}}\n\
         boxes:\n  mating box: {{count: 2, compartments: 2, recipe: r}}\n  \
         nucleus box: {{count: 3, recipe: r, takes: mated queens}}\nseason:\n{season}"
    );
    let read = read("yard.yaml", text.as_bytes());
    (read.loaded.and_then(|loaded| loaded.season), read.findings)
}

fn right(season: &str) -> Asked {
    let (asked, found) = asked(season);
    assert_eq!(found, [], "{season}");
    asked.unwrap()
}

fn wrong(season: &str) -> Vec<(&'static str, String)> {
    let found = asked(season).1.into_iter();
    found.map(|f| (f.code, f.way_out)).collect()
}

const fn may(day: i8) -> Date {
    date(2031, 5, day)
}

#[test]
fn rounds_are_days_or_the_words_that_make_them() {
    let listed = right("  rounds: [2031-05-20, 2031-06-17]\n");
    assert_eq!(listed.rounds, [may(20), date(2031, 6, 17)]);
    assert_eq!(listed.cells, [None, None]);
    assert_eq!(listed.wants, []);
    let words = right("  rounds: every 2 weeks from 2031-05-20 to 2031-06-20\n  cells: 12\n");
    assert_eq!(words.rounds, [may(20), date(2031, 6, 3), date(2031, 6, 17)]);
    assert_eq!(words.cells, [Some(12); 3]);
    let each = right("  rounds: [2031-05-20, 2031-06-17]\n  cells: [12, 8]\n");
    assert_eq!(each.cells, [Some(12), Some(8)]);
    let rain = right("  rounds: [2031-05-20, 2031-06-17]\n  rained out: 2031-06-17\n");
    assert_eq!(rain.rained_out, [date(2031, 6, 17)]);
    let rain =
        right("  rounds: [2031-05-20, 2031-06-17]\n  rained out: [2031-05-20, 2031-06-17]\n");
    assert_eq!(rain.rained_out, rain.rounds);
}

#[test]
fn wants_stand_in_the_order_of_the_file() {
    let season = right(
        "  rounds: [2031-05-20, 2031-06-17]\n  success: 65 %\n  wants:\n    \
         - {requeen: [Elm, Ash], by: 2031-06-20}\n    - {nuclei: 2}\n    - {winter: 3}\n    - {queens: most}\n  \
         winter: {on: 2031-10-15, bees: 6000}\n",
    );
    let what: Vec<_> = season
        .wants
        .iter()
        .map(|want| (want.what.clone(), want.count))
        .collect();
    assert_eq!(
        what,
        [
            (What::Requeen(vec![ColonyId(1), ColonyId(0)]), Some(2)),
            (What::Nuclei(BoxId(1)), Some(2)),
            (What::Winter, Some(3)),
            (What::Queens, None),
        ]
    );
    assert_eq!(season.success, Some(65));
    assert_eq!(season.winter.unwrap().bees.map(|bees| bees.0), Some(6000));
}

#[test]
fn a_wrong_season_is_found_with_the_way_out() {
    let rounds = "  rounds: [2031-05-20, 2031-06-17]\n";
    for (season, code, way_out) in [
        (
            "  rounds: [2031-06-17, 2031-05-20]\n".to_owned(),
            "dates-order",
            "put the rounds in order",
        ),
        (
            "  rounds: [2031-05-20, 2031-06-14]\n".to_owned(),
            "round-too-soon",
            "move the round to 2031-06-17; else only boxes of other rounds are stocked",
        ),
        (
            "  rounds: weekly\n".to_owned(),
            "wrong-type",
            "write the dates as a list, as [2031-05-20, 2031-06-17]",
        ),
        (
            format!("{rounds}  cells: [1, 2, 3]\n"),
            "wrong-type",
            "write as many numbers as there are rounds, or one alone",
        ),
        (
            format!("{rounds}  rained out: 2031-06-18\n"),
            "unknown-name",
            "write the stocking day of the round, as in `rounds`",
        ),
        (
            format!("{rounds}  rained out: [2031-06-17, 2031-06-17]\n"),
            "duplicate-key",
            "remove one of them",
        ),
        (
            format!("{rounds}  wants: [{{queens: 3, by: 2031-06-10}}]\n"),
            "want-too-soon",
            "move the day, or begin the rounds sooner",
        ),
        (
            format!("{rounds}  wants: [{{winter: 3}}]\n"),
            "missing-key",
            "add `winter: {on: 2031-10-15}`",
        ),
        (
            format!("{rounds}  wants: [{{winter: 5}}]\n  winter: {{on: 2031-10-15}}\n"),
            "more-than-made",
            "lower the number, or state more boxes",
        ),
        (
            format!("{rounds}  wants: [{{nuclei: 4}}]\n"),
            "more-than-made",
            "lower the number, or state more boxes",
        ),
        (
            format!("{rounds}  winter: {{on: 2031-06-10}}\n"),
            "dates-order",
            "correct the date, or leave the round out",
        ),
        (
            format!("{rounds}  wants: [{{requeen: [Esh]}}]\n"),
            "unknown-name",
            "did you mean `Ash`?",
        ),
        (
            format!("{rounds}  wants: [{{requeen: [Yew]}}]\n"),
            "not-to-requeen",
            "remove `hold`, or wait with the queen until its reason is gone",
        ),
        (
            format!("{rounds}  wants: [{{nuclei: 1, box: mating box}}]\n"),
            "unknown-name",
            "add `takes: mated queens` to a kind of box, and name it",
        ),
        (
            format!("{rounds}  wants: [{{queens: 1, nuclei: 1}}]\n"),
            "wrong-type",
            "write an entry for each: the first is met first",
        ),
    ] {
        assert_eq!(wrong(&season), [(code, way_out.to_owned())], "{season}");
    }
    // Every other week boxes take turns.
    right("  rounds: every 14 days from 2031-05-20 to 2031-07-15\n");
}
