//! `onward`, `inspect --see` and `standing` at the command line: a season of weeks.

use crate::support::{Folder, file, spareframe, text};
use unicode_width::UnicodeWidthStr;

/// The queen round and its plan, in a folder.
fn round() -> (Folder, String, String) {
    let folder = Folder::new();
    let scenario = folder.write("round.yaml", text("queen-round"));
    let plan = folder.path("plan.yaml");
    spareframe(&["stock", &scenario, "--out", &plan, "-q"]).check();
    (folder, scenario, plan)
}

/// A plan carried out, and gone on to a day.
fn carried_out([scenario, plan, to, next]: [&str; 4]) -> [&str; 8] {
    [
        "onward", scenario, "--plan", plan, "--to", to, "--out", next,
    ]
}

#[test]
fn a_day_without_anything_done_is_the_same_file() {
    for name in [
        "queen-round",
        "forty",
        "home-yard",
        "as-found",
        "taken-apart",
    ] {
        spareframe(&["onward", &file(name), "-q"])
            .stdout(&text(name))
            .check();
    }
    spareframe(&["onward", &file("queen-round")])
        .stdout("...")
        .stderr("nothing was done on 2031-05-19\n")
        .check();
}

#[test]
fn a_plan_carried_out_is_in_the_next_scenario() {
    let (folder, scenario, plan) = round();
    let next = folder.path("next.yaml");
    spareframe(&carried_out([&scenario, &plan, "2031-06-02", &next]))
        .stderr(&format!(
            "closed 2031-05-19: 7 compartments with bees from 2 colonies; it is now 2031-06-02; \
             wrote {next}; next: spareframe standing {next}\n"
        ))
        .check();
    let new = folder.read("next.yaml");
    assert!(new.contains("day: 2031-06-02                # the stocking day"));
    assert!(new.contains("\ncounted: 2031-05-19\n") && new.contains("\ncells: 0\n"));
    assert_eq!(new.matches("since: 2031-05-19").count(), 7);
    // All comments are there still.
    assert_eq!(
        new.matches('#').count(),
        text("queen-round").matches('#').count()
    );
    // Nor is a file written over one that is there.
    spareframe(&["onward", &scenario, "--out", &next])
        .code(2)
        .stderr(&format!("error: {next} exists; --force replaces it\n"))
        .check();
    spareframe(&["onward", &scenario, "--out", &scenario, "--force"])
        .code(2)
        .stderr(&format!(
            "error: --out {scenario} is the scenario itself; choose another name\n"
        ))
        .check();
    // The day is closed: the plan is none of the next scenario.
    spareframe(&["onward", &next, "--plan", &plan, "-q"])
        .code(1)
        .stderr(&format!("error: {plan} is of 2031-05-19, and the scenario speaks of 2031-06-02; nothing written.\n..."))
        .check();
    for command in ["stock", "why", "calendar"] {
        spareframe(&[command, &next, "-q"])
            .code(1)
            .stdout("...")
            .check();
    }
    spareframe(&["when", &next, "--until", "2031-06-04", "-q"])
        .code(1)
        .stdout("...")
        .check();
}

#[test]
fn what_cannot_be_closed_is_refused() {
    let (_folder, scenario, plan) = round();
    spareframe(&["onward", &scenario, "--to", "2031-05-18"])
        .code(2)
        .stderr(
            "error: --to 2031-05-18 is past; the day of the scenario is 2031-05-19, so write a day from \
             2031-05-19 to 2032-05-18\n",
        )
        .check();
    spareframe(&["onward", &scenario, "--to", "2034-05-18"])
        .code(2)
        .stderr("error: --to 2034-05-18 is too far ahead...")
        .check();
    spareframe(&["onward", &file("forty"), "--plan", &plan, "-q"])
        .code(1)
        .stderr(&format!(
            "error: {plan} is of 2031-05-19, and the scenario speaks of 2031-05-20..."
        ))
        .check();
    let other = text("queen-round").replace("parted box: {count: 2", "parted box: {count: 1");
    spareframe(&["onward", "-", "--plan", &plan, "-q"])
        .stdin(other)
        .code(1)
        .stderr(&format!(
            "error: {plan} is no plan of this scenario; nothing written.\n  boxes: ..."
        ))
        .check();
    let without = text("queen-round").replace("day: 2031-05-19", "");
    spareframe(&["onward", "-", "-q"])
        .stdin(
            without
                .replace("flow: [2031-06-05, 2031-06-28]", "")
                .replace("crop: 22 kg", ""),
        )
        .code(2)
        .stderr("error: a calendar needs the stocking day; add `day` to the scenario\n")
        .check();
    spareframe(&["when", &file("half-done"), "--until", "2031-06-01", "-q"])
        .code(2)
        .stderr(
            "error: something is done already (`done`): what stands in boxes is not in the colonies any more; \
             close the day with `spareframe onward`, then ask again\n",
        )
        .check();
}

#[test]
fn what_is_recorded_is_closed_without_a_plan_and_the_rest_of_it_with_one() {
    let folder = Folder::new();
    let scenario = file("half-done");
    let closed = spareframe(&["onward", &scenario, "-q"])
        .stdout("...")
        .check();
    assert!(
        !closed.contains("\ndone:") && closed.contains("\nstanding:\n"),
        "{closed}"
    );
    let plan = folder.path("plan.json");
    spareframe(&["stock", &scenario, "--out", &plan, "-q"]).check();
    let all = spareframe(&["onward", &scenario, "--plan", &plan, "-q"])
        .stdout("...")
        .check();
    assert!(all.matches("queen: cell").count() > closed.matches("queen: cell").count());
    for text in [closed, all] {
        spareframe(&["when", "-", "--until", "2031-06-01", "--every", "9", "-q"])
            .stdin(text)
            .stdout("...")
            .code(0)
            .check();
    }
}

#[test]
fn a_season_of_weeks_by_commands_alone() {
    let (folder, scenario, plan) = round();
    let week = |name: &str| folder.path(name);
    let run = |arguments: &[&str]| {
        spareframe(&[arguments, &["-q"]].concat())
            .stdout("...")
            .check()
    };
    let (second, third, fourth) = (week("2.yaml"), week("3.yaml"), week("4.yaml"));
    run(&[
        "onward",
        &scenario,
        "--plan",
        &plan,
        "--to",
        "2031-06-04",
        "--out",
        &second,
    ]);
    let standing = run(&["standing", &second]);
    assert!(
        standing.contains("7 compartments stand: 7 not looked for yet."),
        "{standing}"
    );
    assert!(
        standing.contains(
            "- Today: look for eggs:\n    parted box 1.1, 1.2, 2.1, 2.2, mini box 1, 2, 3"
        ),
        "{standing}"
    );
    run(&[
        "inspect",
        "--see",
        "parted box 1.1=eggs",
        "--see",
        "parted box 1.2=eggs",
        "--see",
        "parted box 2.1=none",
        "--see",
        "mini box 1=eggs",
        "--see",
        "mini box 2=dead",
        "--into",
        &second,
    ]);
    run(&["onward", &second, "--to", "2031-06-16", "--out", &third]);
    run(&[
        "inspect",
        "--see",
        "parted box 1.1=sealed brood",
        "--see",
        "mini box 1=to be taken",
        "--into",
        &third,
    ]);
    let standing = run(&["standing", &third]);
    for part in [
        "6 compartments stand: 2 mated, 1 laying, 1 without a queen, 2 not looked for\nyet.",
        "Success so far: 3 of 4 rounds looked at with a queen that lays (75%). Published:\n70% to 93%.",
        "- Today: take the queen, by Thu 2031-06-26:\n    parted box 1.1",
        "- Today: look for flat sealed brood:\n    parted box 1.2",
        "- Today: break wild cells and give the next cell; break wild cells again a week\n  later:\n    parted box 2.1",
    ] {
        assert!(standing.contains(part), "{part}\n{standing}");
    }
    // Three new cells: the box without a queen gets one of them.
    let cells = folder.read("3.yaml").replace("\ncells: 0", "\ncells: 3");
    folder.write("3.yaml", &cells);
    let next = week("next.yaml");
    run(&["stock", &third, "--out", &next]);
    run(&[
        "onward",
        &third,
        "--plan",
        &next,
        "--to",
        "2031-06-17",
        "--out",
        &fourth,
    ]);
    let text = folder.read("4.yaml");
    assert!(
        text.contains("round: 2031-06-16") && text.contains("failed: 1"),
        "{text}"
    );
    let standing = run(&["standing", &fourth]);
    assert!(
        standing.contains("Until Tue 2031-07-01: leave in peace, then look for eggs:"),
        "{standing}"
    );
    // All cells are used up.
    spareframe(&["stock", &fourth, "-q"])
        .code(1)
        .stdout("...")
        .check();
}

#[test]
fn what_stands_is_shown_in_every_format_and_width() {
    let (folder, scenario, plan) = round();
    let next = folder.path("next.yaml");
    let onward = carried_out([&scenario, &plan, "2031-06-04", &next]);
    spareframe(&[&onward[..], &["-q"]].concat()).check();
    let show = |rest: &[&str]| {
        spareframe(&[&["standing", &next, "-q"], rest].concat())
            .stdout("...")
            .check()
    };
    for width in ["40", "63", "64", "80", "120"] {
        let shown = show(&["--width", width]);
        let most = shown.lines().map(UnicodeWidthStr::width).max();
        assert!(most <= width.parse().ok(), "{shown}");
    }
    assert!(
        show(&["--format", "markdown"])
            .contains("| parted box 1.1 | cell, laying expected | 2031-05-19 | 16 |")
    );
    let csv = show(&["--format", "csv"]);
    assert!(
        csv.starts_with("compartment,box_kind,site,") && csv.lines().count() == 8,
        "{csv}"
    );
    let json = spareframe(&["standing", &next, "-q", "--format", "json"]).json();
    assert_eq!(json["so_far"]["open"], 7);
    assert_eq!(json["compartments"][0]["queen_expected"], "laying");
    assert_eq!(json["compartments"][0]["counted"], "2031-05-19");
    // The answer is no where nothing stands.
    spareframe(&["standing", &scenario, "-q"])
        .code(1)
        .stdout("What stands, Queen round, 2031-05-19\n\nNo bees stand in a compartment. ...")
        .check();
}

#[test]
fn a_queen_goes_out_and_the_next_cell_goes_in_on_one_day() {
    let folder = Folder::new();
    let of = text("queens-out");
    let old = "compartment: 1, since: 2031-05-30, queen: to be taken,";
    assert!(of.contains(old));
    let of = of
        .replace(old, &format!("{old} next cell: yes,"))
        .replace("\ncells: 1", "\ncells: 2");
    let scenario = folder.write("queens.yaml", of);
    let plan = folder.path("plan.yaml");
    spareframe(&["stock", &scenario, "--out", &plan, "-q"]).check();
    let closed = spareframe(&["onward", &scenario, "--plan", &plan, "-q"])
        .stdout("...")
        .check();
    let line = closed
        .lines()
        .find(|line| line.contains("compartment: 1, since: 2031-05-30"))
        .unwrap();
    assert!(
        line.contains("queen: cell, seen: 2031-06-30") && !line.contains("next cell"),
        "{line}"
    );
    spareframe(&["standing", "-", "-q"])
        .stdin(closed)
        .stdout("...")
        .check();
}

/// Looks at compartments of a scenario.
fn seen(scenario: &str, looks: &[&str]) -> String {
    let folder = Folder::new();
    let file = folder.write("s.yaml", scenario);
    let mut args = vec!["inspect", "-q", "--into", &file];
    looks.iter().for_each(|look| args.extend(["--see", look]));
    spareframe(&args).check();
    folder.read("s.yaml")
}

fn standing_of(scenario: &str) -> String {
    let run = spareframe(&["standing", "-", "-q"]).stdin(scenario);
    run.stdout("...").check()
}

#[test]
fn a_queen_that_was_taken_stays_a_round_that_went_well() {
    let weeks = text("weeks");
    let so_far = "Success so far: 3 of 5 rounds looked at with a queen that lays (60%)";
    assert!(standing_of(&weeks).contains(so_far));
    let taken = seen(&weeks, &["parted box 1.1=taken"]);
    assert!(taken.contains("taken: 1"), "{taken}");
    assert!(standing_of(&taken).contains(so_far));
    // By a plan that is carried out, too: two go into colonies or nuclei, one is told to be prepared for.
    let out = text("queens-out");
    let count = |text: &str| {
        let json = spareframe(&["standing", "-", "-q", "--format", "json"])
            .stdin(text)
            .json();
        let of = |key: &str| json["so_far"][key].as_u64().unwrap();
        of("mated") + of("laying") + of("taken")
    };
    let folder = Folder::new();
    let plan = folder.path("plan.yaml");
    spareframe(&["stock", &file("queens-out"), "-q", "--out", &plan]).check();
    let next = spareframe(&["onward", &file("queens-out"), "--plan", &plan, "-q"]);
    let next = next.stdout("...").check();
    assert!(next.contains("taken: 1"), "{next}");
    assert_eq!(count(&next), count(&out));
}

#[test]
fn a_next_cell_is_offered_when_the_bees_have_been_without_the_queen_for_two_days() {
    let taken =
        seen(&text("weeks"), &["parted box 1.1=taken"]).replace("\ncells: ", "\ncells: 4 #");
    let wants = |text: &str| {
        let plan = spareframe(&["stock", "-", "-q", "--format", "json"]).stdin(text);
        let plan: serde_json::Value = serde_json::from_str(&plan.stdout("{...").check()).unwrap();
        let all = plan["compartments"].as_array().unwrap();
        all.iter()
            .any(|c| c["box_kind"] == "parted box" && c["box_no"] == 1 && c["compartment"] == 1)
    };
    let said = standing_of(&taken);
    let wanted = "From Wed 2031-06-11: break wild cells and give the next cell; break wild cells\n  again a week later:\n    parted box 1.1";
    assert!(said.contains(wanted), "{said}");
    assert!(!wants(&taken));
    // The cell goes in on the day after the plan.
    for (day, now) in [("2031-06-10", true), ("2031-06-11", true)] {
        let later = spareframe(&["onward", "-", "-q", "--to", day]).stdin(taken.clone());
        assert_eq!(wants(&later.stdout("...").check()), now, "{day}");
    }
    // Where you know better.
    let at = "    queen: none\n    seen: 2031-06-09";
    assert!(taken.contains(at), "{taken}");
    assert!(wants(&taken.replacen(
        at,
        &format!("    next cell: yes\n{at}"),
        1
    )));
}
