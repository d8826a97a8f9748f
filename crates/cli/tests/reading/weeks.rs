//! Colonies that were counted before the stocking day, as the reader has them.

use spareframe::scenario::{Finding, Loaded, read};
use spareframe_solver::Hundreds;

const YARD: &str = "spareframe: 2\nday: 2031-06-03\nsites: {a: }\ncolonies:\n  Ash:\n    COLONY\n    comb: Zander\n    \
    frames: [{count: 6, brood: 60 %}, {count: 1, brood: 50 %, queen: yes}, {count: 3, stores: 60 %}]\n  Elm:\n    QUICK\n    \
    brood: 5 combs\n    stores: 3 combs\n    empty: 2\n\
    recipes:\n  r:\n    bees: 2000\n    lines: [{comb: Zander, brood: 50 %}]\nboxes: {b: {count: 1, recipe: r}}\n";

/// The yard with what is said of a colony with frames and of one counted at a glance.
fn yard(colony: &str, quick: &str) -> (Option<Loaded>, Vec<Finding>) {
    let or = |said: &str| {
        if said.is_empty() {
            "role: nucleus".to_owned()
        } else {
            format!("role: nucleus\n    {said}")
        }
    };
    let text = YARD
        .replace("COLONY", &or(colony))
        .replace("QUICK", &or(quick));
    let read = read("yard.yaml", text.as_bytes());
    (read.loaded, read.findings)
}

fn loaded(colony: &str, quick: &str) -> Loaded {
    let (loaded, found) = yard(colony, quick);
    assert_eq!(found, [], "{colony} {quick}");
    loaded.unwrap()
}

fn codes(colony: &str, quick: &str) -> Vec<(&'static str, String)> {
    let found = yard(colony, quick).1;
    found.into_iter().map(|f| (f.code, f.found)).collect()
}

fn frames(loaded: &Loaded, colony: usize) -> u32 {
    let frames = loaded.scenario.colonies[colony].frames.iter();
    frames.map(|group| group.count).sum()
}

#[test]
fn a_count_of_the_stocking_day_is_what_stands_there() {
    let plain = loaded("", "");
    let stated = loaded("counted: 2031-06-03", "counted: 2031-06-03");
    assert_eq!(plain, stated);
    assert_eq!(plain.counts[0].earlier(), None);
}

#[test]
fn an_earlier_count_is_reckoned_on_to_the_stocking_day() {
    let plain = loaded("", "");
    let earlier = loaded("counted: 2031-05-20", "");
    let day = earlier.counts[0].earlier().unwrap();
    assert_eq!(day.to_string(), "2031-05-20");
    assert_eq!(earlier.counts[0].ago(), 14);
    assert_eq!(
        earlier.counts[0].count.as_ref().unwrap().colony.frames,
        plain.scenario.colonies[0].frames
    );
    assert_ne!(earlier.scenario.colonies[0], plain.scenario.colonies[0]);
    assert_eq!(earlier.scenario.colonies[1], plain.scenario.colonies[1]);
}

#[test]
fn what_left_and_came_since_is_off_and_in() {
    let since = "since: [{day: 2031-06-03, gone: [{group: 1, count: 2}, {group: 3}], bees: 3 frames, got: [{count: 2, place: behind}]}]";
    let quick = "since: [{day: 2031-06-03, gone: [{of: stores, count: 2}], bees: 1000}]";
    let (before, after) = (loaded("", ""), loaded(since, quick));
    assert_eq!(frames(&after, 0), frames(&before, 0) - 1);
    let colony = &after.scenario.colonies[0];
    assert_eq!((colony.frames[0].count, colony.frames[2].count), (4, 2));
    assert_eq!(
        after.places.colonies[0].last().unwrap().as_deref(),
        Some("behind")
    );
    assert_eq!(frames(&after, 1), frames(&before, 1) - 2);
    let bees = |loaded: &Loaded, at: usize| {
        let colony = &loaded.scenario.colonies[at];
        colony.extra_bees
            + colony
                .frames
                .iter()
                .map(|g| g.frame.bees.times(g.count))
                .sum()
    };
    assert_eq!(bees(&before, 0) - bees(&after, 0), Hundreds(63));
    assert_eq!(bees(&before, 1) - bees(&after, 1), Hundreds(10));
}

#[test]
fn frames_that_came_can_leave_again() {
    let since = "since:\n      - {day: 2031-06-02, got: [{count: 2, stores: 50 %}]}\n      - {day: 2031-06-03, gone: [{group: 4, count: 1}]}";
    let with = loaded(&format!("counted: 2031-06-01\n    {since}"), "");
    assert_eq!(with.scenario.colonies[0].frames[3].count, 1);
}

#[test]
fn a_queen_is_known_to_lay_as_she_did_before_the_draw() {
    let drawn = "counted: 2031-05-14";
    let brood = |loaded: &Loaded| -> i64 {
        let frames = loaded.scenario.colonies[0].frames.iter();
        frames.map(|g| i64::from(g.count) * g.frame.brood.0).sum()
    };
    let told = loaded(&format!("{drawn}\n    lays: 3000"), "");
    assert!(brood(&told) > brood(&loaded(drawn, "")));
}

#[test]
fn days_that_cannot_be_are_found_where_they_stand() {
    for (said, code, found) in [
        (
            "counted: 2031-06-04",
            "dates-order",
            "a count on 2031-06-04, after `day`",
        ),
        (
            "counted: 2021-06-03",
            "out-of-range",
            "a count 3652 days before `day`",
        ),
        (
            "counted: 2031-05-01",
            "old-count",
            "colony `Ash` counted 33 days before `day`",
        ),
        (
            "since: [{day: 2031-06-02, bees: 1000}]",
            "dates-order",
            "something done on 2031-06-02",
        ),
        (
            "since: [{day: 2031-06-04, bees: 1000}]",
            "dates-order",
            "something done on 2031-06-04",
        ),
        (
            "counted: 2031-06-01\n    since: [{day: 2031-06-03, bees: 1000}, {day: 2031-06-02, bees: 1000}]",
            "dates-order",
            "something done on 2031-06-02",
        ),
        (
            "since: [{day: 2031-06-03}]",
            "empty",
            "a day on which nothing left or came",
        ),
        (
            "since: [{day: 2031-06-03, gone: [{group: 1, count: 7}]}]",
            "not-to-take",
            "7 frames gone since the count, of 6",
        ),
        (
            "since: [{day: 2031-06-03, gone: [{group: 2}]}]",
            "not-to-take",
            "frames of the group that holds the queen",
        ),
        (
            "since: [{day: 2031-06-03, gone: [{group: 4}]}]",
            "out-of-range",
            "`group` 4",
        ),
        (
            "since: [{day: 2031-06-03, gone: [{of: brood}]}]",
            "unknown-key",
            "`of` for a colony that lists its frames",
        ),
        (
            "since: [{day: 2031-06-03, bees: 50_000}]",
            "not-to-take",
            "50000 bees gone since the count, of 18000",
        ),
        (
            "since: [{day: 2031-06-03, got: [{queen: yes}]}]",
            "unknown-key",
            "`queen` of a frame that was hung in",
        ),
    ] {
        assert_eq!(codes(said, ""), [(code, found.to_owned())], "{said}");
    }
    for (said, code, found) in [
        (
            "since: [{day: 2031-06-03, gone: [{count: 1}]}]",
            "missing-key",
            "no `of`",
        ),
        (
            "since: [{day: 2031-06-03, gone: [{group: 1}]}]",
            "two-meanings",
            "`1` as the `group` of quick counts",
        ),
        (
            "since: [{day: 2031-06-03, gone: [{of: foundation}]}]",
            "not-to-take",
            "`of: foundation`",
        ),
        (
            "since: [{day: 2031-06-03, gone: [{of: empty, count: 3}]}]",
            "not-to-take",
            "3 frames gone since the count, of 2",
        ),
    ] {
        assert_eq!(codes("", said), [(code, found.to_owned())], "{said}");
    }
}

#[test]
fn without_a_stocking_day_there_is_no_day_of_a_count() {
    let text = YARD
        .replace("day: 2031-06-03\n", "")
        .replace(
            "COLONY",
            "counted: 2031-05-20\n    since: [{day: 2031-05-21, bees: 1000}]",
        )
        .replace("QUICK", "role: nucleus");
    let found = read("yard.yaml", text.as_bytes()).findings;
    let codes: Vec<_> = found.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["dates-without-day", "dates-without-day"]);
}

#[test]
fn all_are_counted_on_the_day_of_the_scenario_that_say_nothing_else() {
    let text = YARD
        .replace("day: 2031-06-03", "day: 2031-06-03\ncounted: 2031-05-20")
        .replace("COLONY", "counted: 2031-06-01")
        .replace("QUICK", "role: nucleus");
    let loaded = read("yard.yaml", text.as_bytes()).loaded.unwrap();
    let days: Vec<_> = loaded.counts.iter().map(|count| count.ago()).collect();
    assert_eq!(days, [2, 14]);
}

#[test]
fn combs_that_hang_to_be_bred_are_there_once_they_are() {
    let small = |loaded: &Loaded, colony: usize| {
        let combs = &loaded.scenario.combs;
        let frames = loaded.scenario.colonies[colony].frames.iter();
        let small = frames.filter(|group| combs[group.frame.comb.0].name == "mini");
        small.map(|group| group.count).sum::<u32>()
    };
    let hang = |day: &str, frame: &str| format!("since: [{{day: {day}, hang: [{frame}]}}]");
    for (counted, day, frame, there) in [
        ("2031-05-10", "2031-05-13", "{comb: mini, count: 4}", 4),
        ("2031-05-10", "2031-05-14", "{comb: mini, count: 4}", 0),
        (
            "2031-05-10",
            "2031-05-22",
            "{comb: mini, count: 4, drawn: 100 %}",
            4,
        ),
        (
            "2031-05-10",
            "2031-05-23",
            "{comb: mini, count: 4, drawn: 100 %}",
            0,
        ),
        // A count since then left them aside.
        ("2031-06-01", "2031-05-13", "{comb: mini, count: 4}", 4),
        ("2031-06-01", "2031-05-14", "{comb: mini, count: 4}", 0),
    ] {
        let said = format!("counted: {counted}\n    {}", hang(day, frame));
        let (loaded, found) = yard(&said, &said);
        let old = |finding: &Finding| finding.code == "old-count";
        assert!(found.iter().all(old), "{said}: {found:?}");
        let loaded = loaded.unwrap();
        assert_eq!(
            (small(&loaded, 0), small(&loaded, 1)),
            (there, there),
            "{said}"
        );
    }
    // Some of them left again, by their size where the colony is counted at a glance.
    let left = |which: &str| {
        format!(
            "counted: 2031-05-10\n    since: [{{day: 2031-05-10, hang: [{{comb: mini, count: 4}}]}}, \
             {{day: 2031-06-02, gone: [{{{which}, count: 3}}]}}]"
        )
    };
    let (loaded, found) = yard(&left("group: 4"), &left("comb: mini"));
    assert!(found.iter().all(|f| f.code == "old-count"), "{found:?}");
    let loaded = loaded.unwrap();
    assert_eq!((small(&loaded, 0), small(&loaded, 1)), (1, 1));
    for (said, code, what) in [
        (
            hang("2031-06-03", "{comb: mini, brood: 20 %}"),
            "out-of-range",
            "brood or bees",
        ),
        (
            hang("2031-06-04", "{comb: mini}"),
            "dates-order",
            "something done",
        ),
        (
            "since: [{day: 2031-06-03, gone: [{comb: mini}]}]".to_owned(),
            "not-to-take",
            "frames of a size",
        ),
    ] {
        let found = codes("", &said);
        assert!(
            found.iter().any(|(c, f)| *c == code && f.contains(what)),
            "{said}: {found:?}"
        );
    }
}
