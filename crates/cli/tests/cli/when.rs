//! `when` at the command line: days, figures, formats, limits.

use crate::legible::legible;
use crate::support::{Folder, file, spareframe, text};
use serde_json::Value;
use spareframe::scenario::read;
use spareframe_solver::{Outcome, SolveOptions, solve};
use spareframe_weeks::{Counts, expected};
use unicode_width::UnicodeWidthStr;

fn when(arguments: &[&str]) -> Value {
    let mut all = vec!["when"];
    all.extend(arguments);
    all.extend(["--format", "json", "-q"]);
    spareframe(&all).json()
}

#[test]
fn the_first_day_is_what_stock_says() {
    for name in ["forty", "home-yard", "queen-round", "thin-spring"] {
        let days = when(&[&file(name), "--until", "2031-05-28"]);
        let first = &days["days"][0];
        let plan = spareframe(&["stock", &file(name), "--format", "json", "-q"]).json();
        let headline = &plan["headline"];
        for key in [
            "compartments_stocked",
            "worth",
            "cost_g",
            "honey_given_up_g",
        ] {
            assert_eq!(first[key], headline[key], "{name}: {key}");
        }
        assert_eq!(first["days_later"], 0);
        // A plan without a reason names none.
        let none = Value::Array(Vec::new());
        let reasons = plan.get("held_back_by").unwrap_or(&none);
        assert_eq!(&first["held_back_by"], reasons, "{name}");
    }
}

#[test]
fn a_later_day_is_the_best_plan_of_the_yard_expected_then() {
    let name = file("forty");
    let days = when(&[&name, "--until", "2031-06-03", "--every", "5"]);
    let days = days["days"].as_array().unwrap();
    let dates: Vec<&str> = days
        .iter()
        .map(|day| day["day"].as_str().unwrap())
        .collect();
    assert_eq!(
        dates,
        ["2031-05-20", "2031-05-25", "2031-05-30", "2031-06-03"]
    );
    let yard = read(&name, text("forty").as_bytes())
        .loaded
        .unwrap()
        .scenario;
    for day in days {
        let after = u32::try_from(day["days_later"].as_u64().unwrap()).unwrap();
        let later = expected(&yard, &Counts::default(), None, after).unwrap();
        let Outcome::Stocked(found) = solve(&later, &SolveOptions::default()) else {
            panic!("{after}");
        };
        let cost = found.goals.cost.total(&later.prices).0;
        assert_eq!(day["compartments_stocked"], found.plan.compartments.len());
        assert_eq!(day["cost_g"], cost);
        assert_eq!(day["proof"]["state"], "proved_best");
    }
}

#[test]
fn more_brood_later_stocks_more() {
    // Combs that are 40 % full of brood in April and fuller in May.
    let folder = Folder::new();
    let scenario = folder.write(
        "yard.yaml",
        "spareframe: 2\nday: 2031-04-01\nsites: {home: , far: }\n\
         distances: [{from: home, to: far, is: 5 km}]\n\
         colonies:\n  Ash:\n    site: home\n    frames:\n      \
         - {count: 6, brood: 40 %, bees: 100 %}\n      - {count: 4, bees: 80 %}\n    \
         keep: {brood: 2 frames, bees: 6000, stores: 0 g, drawn: 0, covered: 0 %}\n    \
         draw: {frames: none, brood: none, bees: none}\n\
         recipes: {one: {bees: 1500, lines: [{brood: 60 %}]}}\n\
         boxes: {box: {count: 4, site: far, recipe: one}}\n",
    );
    let days = when(&[&scenario, "--until", "2031-05-06"]);
    let stocked = |at: usize| days["days"][at]["compartments_stocked"].as_u64().unwrap();
    assert_eq!(stocked(0), 0);
    assert!(stocked(35) > 0, "{days}");
    let shown = spareframe(&["when", &scenario, "--until", "2031-05-06", "-q"])
        .stdout("When to stock, 2031-04-01\n\nMost on ...")
        .check();
    assert!(shown.contains("more than today"), "{shown}");
    assert!(shown.contains("An outlook, not a count"), "{shown}");
}

#[test]
fn cells_say_on_which_day_they_fit() {
    let shown = spareframe(&["when", &file("queen-round"), "--until", "2031-05-24", "-q"])
        .stdout("...")
        .check();
    assert!(shown.contains("Cells"), "{shown}");
    assert!(shown.contains("cage them"), "{shown}");
    let undated = spareframe(&["when", &file("forty"), "--until", "2031-05-24", "-q"])
        .stdout("...")
        .check();
    assert!(undated.contains("Cells are not dated"), "{undated}");
}

#[test]
fn cells_are_dated_also_where_nothing_can_be_stocked() {
    let dir = Folder::new();
    let day = "2031-05-20";
    let dated = dir.write(
        "dated.yaml",
        "spareframe: 2\nday: 2031-05-20\nrearing: {grafted: 2031-05-01}\n\
         sites: {home: {at: [50, 9]}}\n\
         colonies:\n  Alder: {brood: 1 comb, stores: 1 comb, bees: 2 frames}\n\
         recipes: {half: {bees: 2000, lines: [{name: brood, brood: 60 %}]}}\n\
         boxes: {twin: {count: 1, recipe: half}}\n",
    );
    let until = day;
    let run = spareframe(&["when", &dated, "--until", until, "-q"]).code(1);
    let words = run.stdout("...").check();
    assert!(!words.contains("Cells are not dated"), "{words}");
    assert!(words.contains("cage them"), "{words}");
    let run = spareframe(&["when", &dated, "--until", until, "-q", "--format", "json"]);
    let data = run.code(1).stdout("...").check();
    assert!(
        data.contains("\"sugar_kg\": 0.0") && !data.contains("-0.0"),
        "{data}"
    );
}

#[test]
fn every_format_and_every_width_says_the_same() {
    let scenario = file("queen-round");
    let arguments = ["when", &scenario, "--until", "2031-06-10", "-q"];
    let days = when(&arguments[1..4]);
    for width in ["40", "64", "80", "120"] {
        let shown = spareframe(&[&arguments[..], &["--width", width]].concat())
            .stdout("...")
            .check();
        let widest = shown.lines().map(UnicodeWidthStr::width).max().unwrap();
        assert!(
            widest <= width.parse().unwrap(),
            "{width}: {widest}\n{shown}"
        );
    }
    let markdown = spareframe(&[&arguments[..], &["--format", "markdown"]].concat())
        .stdout("# When to stock, ...")
        .check();
    let csv = spareframe(&[&arguments[..], &["--format", "csv"]].concat())
        .stdout("day,days_later,compartments_stocked,...")
        .check();
    for (day, line) in days["days"]
        .as_array()
        .unwrap()
        .iter()
        .zip(csv.lines().skip(1))
    {
        let stocked = &day["compartments_stocked"];
        let day = day["day"].as_str().unwrap();
        assert!(markdown.contains(day), "{day}");
        assert!(
            line.starts_with(day) && line.contains(&format!(",{stocked},")),
            "{line}"
        );
    }
}

#[test]
fn what_cannot_be_asked_is_said() {
    let ask = |scenario: &str, until: &str| {
        spareframe(&["when", scenario, "--until", until, "-q"])
            .code(2)
            .stderr("...")
            .check();
    };
    ask(&file("forty"), "2031-05-01");
    ask(&file("forty"), "2041-05-01");
    ask(&file("forty"), "tomorrow");
    ask(&file("half-done"), "2031-06-01");
    let folder = Folder::new();
    let text = text("forty");
    let undated = text
        .lines()
        .filter(|line| !line.starts_with("day:") && !line.contains("flow:"));
    let undated = undated.filter(|line| !line.contains("crop:"));
    let undated = undated.collect::<Vec<_>>().join("\n");
    ask(&folder.write("undated.yaml", &undated), "2031-06-01");
}

#[test]
fn combs_that_no_colony_has_are_to_be_raised_and_when_they_hang_early_enough_they_help() {
    let name = file("small-combs");
    let days = when(&[&name, "--until", "2031-06-25", "--every", "7"]);
    let raise = &days["days"][0]["held_back_by"][0]["raise"];
    assert_eq!(raise["comb"], "mini");
    assert_eq!(raise["hang_foundation_by"], "2031-05-07");
    assert_eq!(raise["hang_drawn_by"], "2031-05-16");
    // Four more hang in another colony since 26 May, drawn: bred twelve days later.
    let stocked = |day: usize| days["days"][day]["compartments_stocked"].as_u64();
    assert!(stocked(2) > stocked(1), "{days}");
    let reasons = spareframe(&["why", &name, "--format", "json", "-q"]).json();
    assert_eq!(reasons["raise"][0], *raise);
}

/// The picture of the days, as a document; it is the same twice.
fn picture(scenario: &str, until: &str) -> String {
    let run = || {
        let args = [
            "when", "-", "--until", until, "--every", "3", "-q", "--format", "svg",
        ];
        let mut command = std::process::Command::new(assert_cmd::cargo::cargo_bin("spareframe"));
        let folder = Folder::new();
        let file = folder.write("s.yaml", scenario);
        let args = args.map(|arg| if arg == "-" { file.as_str() } else { arg });
        String::from_utf8(command.args(args).output().unwrap().stdout).unwrap()
    };
    let drawn = run();
    assert_eq!(drawn, run());
    drawn
}

#[test]
fn the_picture_is_legible_on_a_telephone_by_day_and_by_night() {
    let drawn = picture(&text("forty"), "2031-06-10");
    let shown = legible(&drawn);
    assert_eq!(shown.title, "When to stock, Forty colonies, 2031-05-20");
    let about = shown.description;
    assert!(
        about.contains("Thu 2031-05-29: 26, honey 7.2 kg."),
        "{about}"
    );
    for wanted in [
        "Compartments that could be stocked",
        "Honey given up for it, kg (estimate)",
        "20 May",
        "26",
        "7.2",
    ] {
        assert!(
            shown.texts.iter().any(|text| text == wanted),
            "{wanted}: {:?}",
            shown.texts
        );
    }
}

#[test]
fn a_picture_without_anything_to_show_is_a_sentence() {
    let none = text("forty").replacen("\ncells: ", "\ncells: 0 # ", 1);
    let drawn = picture(&none, "2031-05-28");
    assert!(drawn.contains("On none of these days could a compartment"));
    let lines = |drawn: &str| drawn.matches("<polyline").count();
    assert_eq!(lines(&drawn), 0);
    // Nor is there a chart of honey where none is estimated.
    let drawn = picture(&text("small-combs"), "2031-06-18");
    assert!(drawn.contains("Honey is not estimated"));
    assert!(drawn.contains("Cells: full where they fit"));
    assert!(lines(&drawn) > 0);
}
