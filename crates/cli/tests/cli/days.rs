//! Days that agree, wherever they are said, and what another day asks for.

use crate::support::{Folder, file, spareframe};
use spareframe::scenario::starter;

fn said(args: &[&str]) -> String {
    spareframe(args).stdout("...").check()
}

/// One line, whatever the width.
fn joined(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The starter with something changed, in a folder.
fn yard(folder: &Folder, from: &str, to: &str) -> String {
    assert!(starter().contains(from), "{from}");
    folder.write("yard.yaml", starter().replacen(from, to, 1))
}

/// Lines of iCalendar that are folded, joined.
fn unfolded(ics: &str) -> Vec<String> {
    let whole = ics.replace("\r\n ", "").replace("\n ", "");
    whole.lines().map(str::to_owned).collect()
}

#[test]
fn the_cells_go_in_on_one_day_in_plan_load_sheet_and_calendar() {
    let folder = Folder::new();
    let s = &folder.write("yard.yaml", starter());
    let plan = joined(&said(&["stock", s]));
    assert!(
        plan.contains("2031-05-21, the day after: ripe cells in"),
        "{plan}"
    );
    assert!(plan.contains("4 cells or queens, on 2031-05-21"), "{plan}");
    assert!(!plan.contains("Cells or queens go in last"), "{plan}");
    let calendar = spareframe(&["calendar", s, "--format", "json"]).json();
    let entries = calendar["entries"].as_array().unwrap();
    let cells = entries.iter().find(|e| e["id"] == "cells-in").unwrap();
    assert_eq!(cells["first_day"], "2031-05-21");
    let page = said(&["share", s, "--format", "html"]);
    assert!(page.contains("ripe cells, warm and upright</b><small>on Wed 21 May 2031"));
    assert!(page.contains("<b>Wed 21 May 2031</b> ripe cell in"));
    assert!(page.contains("2031-05-21, the day after: ripe cells in"));
    // With cells that go in on the stocking day, it is that day.
    let same = &yard(
        &folder,
        "  grafted: 2031-05-11",
        "  intervals: {cells in: 0 days}\n  grafted: 2031-05-10",
    );
    let plan = joined(&said(&["stock", same]));
    assert!(plan.contains("Cells or queens go in last"), "{plan}");
    assert!(plan.contains("- 4 cells or queens from "), "{plan}");
}

const TOO_LATE: &str =
    "All queens are out of their cells by Fri 2031-05-23, and the cells go in on Mon 2031-05-26.";

#[test]
fn a_day_on_which_queens_are_out_is_said_in_every_answer() {
    let folder = Folder::new();
    let late = &yard(&folder, "day: 2031-05-20", "day: 2031-05-25");
    let plan = joined(&said(&["stock", late]));
    assert!(
        plan.contains("The day does not suit the cells or queens"),
        "{plan}"
    );
    assert!(plan.contains(TOO_LATE), "{plan}");
    let calendar = said(&["calendar", late]);
    assert!(joined(&calendar).contains(TOO_LATE), "{calendar}");
    let s = &folder.write("as-it-is.yaml", starter());
    let set = said(&["calendar", s, "--set", "day=2031-05-25"]);
    assert_eq!(set, calendar, "as if the file had been edited");
    let probe = joined(&said(&["probe", s, "--set", "day=2031-05-25"]));
    assert!(probe.contains(TOO_LATE), "{probe}");
    let today = joined(&said(&["stock", s]));
    assert!(!today.contains("does not suit"), "{today}");
}

#[test]
fn a_calendar_is_of_one_day() {
    let folder = Folder::new();
    let s = &folder.write("yard.yaml", starter());
    let two = ["calendar", s, "--set", "day=2031-05-21,2031-05-22"];
    spareframe(&two)
        .code(2)
        .stderr("error: a calendar is of one day...")
        .check();
}

#[test]
fn a_day_put_off_says_which_cells_to_cage_what_to_feed_and_the_new_plan() {
    let folder = Folder::new();
    let s = &folder.write("yard.yaml", starter());
    let text = joined(&said(&["probe", s, "--postpone", "2"]));
    for part in [
        "Stocked on Thu 2031-05-22, ripe cells in on Fri 2031-05-23.",
        "Cage 4 cells before Thu 2031-05-22, when the first queens may be out",
        "For 7 days of rain",
        "Queens may be out of their cells from Thu 2031-05-22 on",
        "Stocking plan, First round, 2031-05-22",
        "What to carry",
    ] {
        assert!(text.contains(part), "{part}\n{text}");
    }
    let rows = spareframe(&[
        "probe",
        s,
        "--postpone",
        "1",
        "--postpone",
        "2",
        "--format",
        "json",
    ]);
    let rows = rows.json();
    let days = |n: usize| rows["rows"][n]["days"].as_array().map_or(0, Vec::len);
    assert!(days(0) == 0 && days(1) >= 2 && days(2) >= 3, "{rows}");
    let none = &yard(&folder, "day: 2031-05-20          # the stocking day", "");
    spareframe(&["probe", none, "--postpone", "2"])
        .code(2)
        .stderr("...")
        .check();
}

#[test]
fn a_telephone_gets_few_dates_each_once_with_round_batch_load_and_one_alarm() {
    let ics = said(&["calendar", &file("queen-round"), "--format", "ics"]);
    let lines = unfolded(&ics);
    let titles: Vec<&String> = lines.iter().filter(|l| l.starts_with("SUMMARY:")).collect();
    let mut once = titles.clone();
    once.sort();
    once.dedup();
    assert_eq!(once.len(), titles.len(), "{titles:?}");
    assert!((6..=10).contains(&titles.len()), "{titles:?}");
    assert!(
        titles.iter().all(|t| t.contains("(Queen round)")),
        "{titles:?}"
    );
    let batch = "Ripe cells in: 4 parted box\\, 3 mini box (Queen round)";
    assert!(titles.iter().any(|t| t.contains(batch)), "{titles:?}");
    let alarms = lines.iter().filter(|l| *l == "BEGIN:VALARM").count();
    let shut = titles
        .iter()
        .filter(|t| t.contains("leave the boxes shut"))
        .count();
    assert_eq!(
        alarms,
        titles.len() - shut,
        "one where something is to be done"
    );
    let stocking = lines
        .iter()
        .find(|l| l.starts_with("DESCRIPTION:") && l.contains("- 3 boxes\\, mini box"));
    let stocking = stocking.or_else(|| {
        lines
            .iter()
            .find(|l| l.contains("7 cells or queens\\, on 2031-05-20"))
    });
    assert!(stocking.is_some(), "{ics}");
}

#[test]
fn queens_that_are_mated_wait_for_no_flights() {
    let folder = Folder::new();
    let s = &yard(&folder, "grafted: 2031-05-11", "given: mated queens");
    let calendar = said(&["calendar", s]);
    for part in ["Mated queens in", "First look for eggs"] {
        assert!(calendar.contains(part), "{part}\n{calendar}");
    }
    for part in ["Mating flights", "Graft", "Queens emerge", "Cells are ripe"] {
        assert!(!calendar.contains(part), "{part}\n{calendar}");
    }
    let page = said(&["share", s, "--format", "html"]);
    assert!(!page.contains("Mating flights"));
    let plan = joined(&said(&["stock", s]));
    assert!(plan.contains("the day after: mated queens in"), "{plan}");
    assert!(plan.contains("after the mated queens went in"), "{plan}");
    assert!(plan.contains("4 mated queens: each in a cage"), "{plan}");
    assert!(
        !plan.contains("hatch") && !plan.contains("will be ripe"),
        "{plan}"
    );
}

#[test]
fn what_is_said_of_small_boxes_and_of_two_combs_holds_where_it_is_so() {
    let folder = Folder::new();
    // One brood comb and one other of full size: no small box, and nothing to hang between.
    let two = &yard(
        &folder,
        "      - {name: foundation, comb: Langstroth deep, count: 1, foundation: yes}\n",
        "",
    );
    let calendar = joined(&said(&["calendar", two]));
    assert!(!calendar.contains("small box"), "{calendar}");
    assert!(calendar.contains("beside the brood comb"), "{calendar}");
    let both = &yard(
        &folder,
        "count: 1, brood: 50 to 80 %",
        "count: 2, brood: 50 to 80 %",
    );
    let calendar = joined(&said(&["calendar", both]));
    assert!(calendar.contains("between two brood combs"), "{calendar}");
    let mini = joined(&said(&["calendar", &file("queen-round")]));
    assert!(
        mini.contains("Last days for a queen in a small box (mini box)"),
        "{mini}"
    );
}

#[test]
fn what_is_begun_cannot_be_postponed() {
    spareframe(&["probe", &file("half-done"), "--postpone", "2", "-q"])
        .code(2)
        .stderr("error: something is done already...")
        .check();
}

#[test]
fn who_gives_the_last_brood_and_who_gets_no_food_is_cautioned() {
    let yard = |comb: &str| {
        format!(
            "spareframe: 2\nday: 2031-05-20\nsites: {{home: , far: }}\ndistances: [{{from: home, to: far, is: 9 km}}]\n\
             colonies:\n  Kit:\n    site: home\n    draw: all\n    frames:\n      \
             - {{count: 3, brood: 60 %, bees: 100 %}}\n      - {{count: 4, stores: 80 %, bees: 90 %, queen: yes}}\n\
             recipes: {{one: {{bees: 1500, lines: [{{brood: 50 %, count: 3}}{comb}]}}}}\n\
             boxes: {{box: {{count: 1, site: far, recipe: one}}}}\n\
             store room: [{{count: 2, stores: 90 %}}]\n"
        )
    };
    let plan = |text: String| {
        let args = ["stock", "-", "-q", "--width", "120"];
        spareframe(&args).stdin(text).stdout("...").check()
    };
    let bare = plan(yard(""));
    for part in [
        "No brood stays in colony Kit",
        "Neither stores nor feed in box 1: feed as it is stocked",
        "queen back; push the combs together",
    ] {
        assert!(bare.contains(part), "{part}\n{bare}");
    }
    assert!(!bare.contains("brood frames first"), "{bare}");
    let fed = plan(yard(", {stores: 50 %, no brood: yes}"));
    assert!(!fed.contains("Neither stores nor feed"), "{fed}");
}

#[test]
fn a_colony_that_is_shaken_bare_is_cautioned_of_by_name() {
    let yard = |kept: &str, bees: u32| {
        format!(
            "spareframe: 2\nday: 2031-05-20\nsites: {{home: , far: }}\ndistances: [{{from: home, to: far, is: 9 km}}]\n\
             colonies:\n  Kit Ash:\n    site: home\n    {kept}\n    extra bees: 1000\n    frames:\n      \
             - {{count: 4, brood: 5 %, bees: 100 %}}\n      - {{count: 1, brood: 5 %, bees: 100 %, queen: yes}}\n\
             recipes: {{one: {{bees: {bees}, lines: [{{stores: 50 %, no brood: yes}}]}}}}\n\
             boxes: {{box: {{count: 1, site: far, recipe: one}}}}\n\
             store room: [{{count: 2, stores: 90 %}}]\n"
        )
    };
    let plan = |kept: &str, bees: u32, format: &str| {
        let args = ["stock", "-", "-q", "--format", format];
        let text = spareframe(&args).stdin(yard(kept, bees));
        let text = text.stdout("...").check();
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let own = "keep: {bees: 1000}";
    let said = "Hardly a bee stays on the combs of colony Kit Ash, but on its queen's: look whether that is enough, or keep \
                more in it, and see what it costs: `spareframe probe SCENARIO --set 'colonies.Kit Ash.keep.bees=6250'`.";
    for format in ["table", "json"] {
        // Of 9,200 beside the queen's: all, and all as far as a hand can tell.
        for bees in [9200, 8000] {
            let shown = plan(own, bees, format);
            assert!(shown.contains(said), "{bees}: {shown}");
        }
        for (kept, bees) in [(own, 6000), ("draw: all", 9200)] {
            let shown = plan(kept, bees, format);
            assert!(!shown.contains("Hardly a bee"), "{kept}: {shown}");
        }
    }
    assert!(plan(own, 9200, "markdown").contains("Hardly a bee stays"));
}

#[test]
fn for_combs_without_brood_alone_the_queen_need_not_be_found() {
    let yard = |count: u32, queen: &str, bees: u32| {
        format!(
            "spareframe: 2\nday: 2031-05-20\nsites: {{home: , far: }}\ndistances: [{{from: home, to: far, is: 9 km}}]\n\
             colonies:\n  Kit:\n    site: home\n    role: nucleus\n    draw: {{brood: 0}}\n    frames:\n      - {{count: 4, brood: 60 %, bees: 100 %{queen}}}\n      \
             - {{count: 3, stores: 80 %, bees: 50 %}}\n  Lea:\n    site: home\n    role: nucleus\n    frames:\n      - {{count: 4, brood: 60 %, bees: 100 %}}\n\
             recipes: {{one: {{bees: {bees}, lines: [{{brood: 50 %}}, {{stores: 50 %, no brood: yes, count: {count}}}]}}}}\n\
             boxes: {{box: {{count: 1, site: far, recipe: one}}}}\n"
        )
    };
    let plan = |text: String, format: &str| {
        let args = ["stock", "-", "-q", "--format", format];
        let shown = spareframe(&args).stdin(text).stdout("...").check();
        shown.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let over = |each: &str| {
        format!(
            "look {each} that leaves over for the queen before its bees are brushed off; she need not be found first"
        )
    };
    for (count, queen, each) in [
        (1, "", "the comb"),
        (2, "", "each comb"),
        (2, ", queen: yes", "each comb"),
    ] {
        let yard = yard(count, queen, 2300);
        let table = plan(yard.clone(), "table");
        let kit = table.split("Colony Lea").next().unwrap();
        assert!(kit.contains(&over(each)), "{kit}");
        assert!(!kit.contains("queen back"), "{kit}");
        assert!(table.contains("queen in colony Lea. Find her"), "{table}");
        assert!(table.contains("Today 2 hives are opened"), "{table}");
        assert!(plan(yard, "markdown").contains(&over(each)));
    }
    // Bees of it are taken, too.
    let table = plan(yard(1, "", 8000), "table");
    assert!(!table.contains("look the comb"), "{table}");
}
