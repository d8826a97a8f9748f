//! `stock` at the command line: streams, widths, limits.

use crate::support::{Folder, file, spareframe, text};
use std::process::{Command, Stdio};
use unicode_width::UnicodeWidthStr;

/// A scenario with a warning: a site that nothing stands at.
fn with_warning() -> String {
    text("first-round").replacen("sites:\n", "sites:\n  spare: {at: [50.2, 8.3]}\n", 1)
}

#[test]
fn a_closed_pipe_ends_in_silence() {
    let (forty, first) = (file("forty"), file("first-round"));
    for args in [
        &["stock", &forty, "--format", "table"][..],
        &["stock", &forty, "--format", "json"],
        &["curve", &forty, "--format", "svg"],
        &["probe", &first, "--set", "cells=8"],
        &["when", &first, "--until", "2031-05-24"],
    ] {
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let output = Command::new(env!("CARGO_BIN_EXE_spareframe"))
            .args(args)
            .stdout(Stdio::from(writer))
            .stderr(Stdio::piped())
            .output()
            .unwrap();
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!((output.status.code(), said.as_str()), (Some(0), ""));
    }
}

#[test]
fn a_dash_reads_stdin_and_names_it() {
    let by_file = spareframe(&["stock", &file("first-round")])
        .stdout("...")
        .check();
    spareframe(&["stock", "-"])
        .stdin(text("first-round"))
        .stdout(&by_file)
        .check();
    spareframe(&["stock", "-"])
        .stdin("spareframe: 2\n")
        .code(2)
        .stderr("<stdin>:1:1\nerror[...")
        .check();
}

#[test]
fn the_table_fits_its_width_and_a_wider_one_has_fewer_lines() {
    let mut lines = Vec::new();
    for width in [40, 60, 80, 120] {
        let size = width.to_string();
        for name in ["first-round", "forty", "nuclei", "home-yard"] {
            let args = ["stock", &file(name), "-v", "--width", &size];
            let shown = spareframe(&args).stdout("...").check();
            for line in shown.lines() {
                assert!(line.width() <= width, "{name} at {width}: {line}");
            }
            lines.push(shown.lines().count());
        }
    }
    assert!(lines[0] > lines[4] && lines[4] > lines[8], "{lines:?}");
    spareframe(&["stock", &file("first-round"), "--width", "39"])
        .code(2)
        .stderr("error: invalid value '39'...")
        .check();
}

#[test]
fn columns_stand_in_line_under_wide_names() {
    let wide = text("nuclei")
        .replace("  \"4\":\n", "  \"蜂場の四番 Ümläut\":\n")
        .replace("  \"5\":\n", "  \"Ñandú\u{301}\":\n")
        .replace("name: brood,", "name: 育児枠,");
    let shown = spareframe(&["stock", "-"])
        .stdin(wide)
        .stdout("...")
        .check();
    let mut rows = shown
        .lines()
        .skip_while(|line| !line.starts_with("What stays"));
    let header = rows.nth(1).unwrap();
    let wanted = header[..header.find("Brood").unwrap()].width();
    let rows = rows.take_while(|line| !line.is_empty());
    let rows: Vec<&str> = rows.filter(|line| line.contains(" > ")).collect();
    for row in &rows {
        let before = &row[..row.find(" > ").unwrap()];
        let start = before.rfind(' ').unwrap() + 1;
        assert_eq!(row[..start].width(), wanted, "{shown}");
    }
    assert!(rows.len() >= 3, "{shown}");
    let origins = shown
        .lines()
        .filter(|line| line.starts_with("  2 ") || line.starts_with("  1 "))
        .filter_map(|line| {
            line.find("colony ")
                .or(line.find("store room"))
                .map(|at| line[..at].width())
        });
    let origins: std::collections::BTreeSet<_> = origins.collect();
    assert_eq!(origins.len(), 1, "{shown}");
}

#[test]
fn nothing_possible_is_exit_1_with_what_stands_in_the_way() {
    let none = text("first-round").replacen("cells: 12", "cells: 0", 1);
    let shown = spareframe(&["stock", "-", "-q"])
        .stdin(none.clone())
        .code(1)
        .stdout("Stocking plan, ...")
        .check();
    assert!(shown.contains("\n  - 1 more cell or queen\n"), "{shown}");
    let shown = spareframe(&["stock", "-", "-q", "--format", "json"])
        .stdin(none)
        .code(1)
        .stdout("{...")
        .check();
    assert!(shown.contains("\"rule\": \"cells\""), "{shown}");
}

#[test]
fn a_limit_is_named_only_where_lifting_it_helps() {
    let strict = text("first-round").replace("bees: 3500", "bees: 900_000");
    let shown = spareframe(&["stock", "-", "-q"])
        .stdin(strict.clone())
        .code(1)
        .stdout("...")
        .check();
    assert!(shown.contains(" more bees at home\n"), "{shown}");
    assert!(!shown.contains("more cell"), "{shown}");
    let both = strict.replacen("cells: 12", "cells: 0", 1);
    let shown = spareframe(&["stock", "-", "-q"])
        .stdin(both)
        .code(1)
        .stdout("...")
        .check();
    assert!(
        shown.contains("  - no single limit: two or more"),
        "{shown}"
    );
}

#[test]
fn cells_that_are_all_given_and_not_enough_alone_are_named_with_that() {
    // Two cells, and brood for two compartments.
    let yard = |cells: u32, rearing: &str| {
        format!(
            "spareframe: 2\nday: 2031-05-20\nsites: {{home: , far: }}\ndistances: [{{from: home, to: far, is: 9 km}}]\n\
             colonies: {{Kit: {{site: home, draw: all, frames: [{{count: 2, brood: 60 %, bees: 100 %}}]}}}}\n\
             recipes: {{one: {{bees: 2300, lines: [{{brood: 50 %}}]}}}}\ncells: {cells}\n{rearing}\
             boxes: {{box: {{count: 5, site: far, recipe: one}}}}\n"
        )
    };
    for (cells, rearing, said) in [
        (
            2,
            "",
            "- all 2 cells are given, and more of them alone would not do: two or more limits must be eased together",
        ),
        (
            2,
            "rearing: {given: mated queens}\n",
            "- all 2 queens are given, and more of them alone would not do: two or more limits must be eased together",
        ),
        (
            3,
            "",
            "- no single limit: two or more must be eased together",
        ),
    ] {
        let args = ["stock", "-", "-q", "--width", "120"];
        let plan = spareframe(&args).stdin(yard(cells, rearing)).stdout("...");
        let plan = plan.check();
        assert!(plan.contains(said), "{said}\n{plan}");
    }
}

#[test]
fn a_time_limit_that_comes_first_leaves_a_plan_and_an_ample_one_changes_nothing() {
    let args = [
        "stock",
        &file("forty"),
        "--time-limit",
        "0.000001",
        "-q",
        "--format",
        "json",
    ];
    let found = spareframe(&args).json();
    assert_eq!(found["headline"]["proof"]["state"], "stopped_by_time_limit");
    assert!(found["headline"]["worth"].as_f64() > Some(0.0));
    let proved = spareframe(&["stock", &file("first-round")])
        .stdout("...")
        .check();
    spareframe(&["stock", &file("first-round"), "--time-limit", "60"])
        .stdout(&proved)
        .check();
}

#[test]
fn a_pipe_is_plain_and_colour_can_be_forced_or_forbidden() {
    let run = |set: &[(&str, &str)]| {
        let output = Command::new(env!("CARGO_BIN_EXE_spareframe"))
            .args(["stock", &file("thin-spring")])
            .env_remove("NO_COLOR")
            .env_remove("CLICOLOR_FORCE")
            .envs(set.iter().copied())
            .output()
            .unwrap();
        String::from_utf8(output.stdout).unwrap()
    };
    let plain = run(&[]);
    assert!(!plain.contains('\u{1b}'), "{plain}");
    assert_eq!(run(&[("NO_COLOR", "1")]), plain);
    assert!(run(&[("CLICOLOR_FORCE", "1")]).contains("\u{1b}[1m"));
}

#[test]
fn quiet_silences_warnings_and_notes_but_not_errors() {
    let warned = |args: &[&str], stderr: &str| {
        spareframe(args)
            .stdin(with_warning())
            .stdout("...")
            .stderr(stderr)
            .check()
    };
    let loud = warned(&["stock", "-"], "<stdin>:...");
    assert_eq!(warned(&["stock", "-", "-q"], ""), loud);
    spareframe(&["stock", "-", "-q"])
        .stdin("spareframe: 2\n")
        .code(2)
        .stderr("<stdin>:1:1\nerror[...")
        .check();
    spareframe(&["stock", "-", "-q", "-v"])
        .code(2)
        .stderr("error: the argument '--quiet' cannot be used with '--verbose'...")
        .check();
}

#[test]
fn verbose_adds_the_assumptions_and_takes_nothing_away() {
    let short = spareframe(&["stock", &file("thin-spring")])
        .stdout("...")
        .check();
    let long = spareframe(&["stock", &file("thin-spring"), "-v"])
        .stdout("...")
        .check();
    let part = "About the honey estimate";
    assert!(long.contains(part) && !short.contains(part), "{part}");
    let mut rest = short.lines();
    let kept = long
        .lines()
        .filter(|line| rest.clone().next() == Some(line) && rest.next().is_some());
    assert_eq!(kept.count(), short.lines().count());
}

#[test]
fn verify_says_how_to_find_a_frame_group() {
    let dir = Folder::new();
    let name = &dir.path("plan.yaml");
    spareframe(&["stock", &file("taken-apart"), "--out", name, "-q"]).check();
    let plan = std::fs::read_to_string(name).unwrap();
    let edited = plan.replacen("frames: 2", "frames: 9", 1);
    assert_ne!(plan, edited);
    std::fs::write(name, edited).unwrap();
    let said = spareframe(&["verify", &file("taken-apart"), name])
        .code(1)
        .stdout("The plan does not hold: ...")
        .stderr("...")
        .check();
    assert!(said.contains(", frame group 1"), "{said}");
    assert!(
        said.contains("from 1 as they stand in the scenario"),
        "{said}"
    );
}

#[test]
fn a_plan_names_a_few_limits_and_verbose_all_of_them() {
    let short = spareframe(&["stock", &file("forty")]).stdout("...").check();
    let long = spareframe(&["stock", &file("forty"), "-v"])
        .stdout("...")
        .check();
    let lead = "Any one of these would stock more (see `spareframe why`):\n";
    assert!(short.contains(lead) && long.contains(lead), "{short}");
    assert!(short.contains("  - and 2 others\n"), "{short}");
    assert!(!long.contains(" others\n"), "{long}");
    assert!(
        long.contains("  - honey cap of all colonies 9.57 kg instead of 8\n"),
        "{long}"
    );
}

fn headline(args: &[&str]) -> serde_json::Value {
    let args = [&["stock"], args, &["-q", "--format", "json"]].concat();
    spareframe(&args).json()["headline"].clone()
}

#[test]
fn at_most_so_many_compartments_or_so_much_worth_is_stocked_and_costs_no_more() {
    let first = file("first-round");
    let all = headline(&[&first]);
    let few = headline(&[&first, "--most", "3"]);
    assert_eq!(few["compartments_stocked"], 3);
    assert_eq!(few["at_most"]["compartments"], 3);
    assert!(few["cost_g"].as_i64() < all["cost_g"].as_i64());
    let worth = headline(&[&first, "--worth", "3.5"]);
    assert_eq!(
        (&worth["worth"], &worth["cost_g"]),
        (&few["worth"], &few["cost_g"])
    );
    let ample = headline(&[&first, "--most", "12"]);
    assert_eq!(
        (&ample["worth"], &ample["cost_g"]),
        (&all["worth"], &all["cost_g"])
    );
    let shown = spareframe(&["stock", &first, "--most", "3"])
        .stdout("...")
        .check();
    assert!(
        shown.contains("As asked, at most 3 compartments.\n"),
        "{shown}"
    );
    assert!(!shown.contains("To stock more"), "{shown}");
}

#[test]
fn a_ceiling_that_is_none_is_bad_input() {
    for bad in [
        ["--most", "0"],
        ["--most", "some"],
        ["--worth", "0"],
        ["--worth", "-1"],
        ["--worth", "nan"],
    ] {
        spareframe(&[
            "stock",
            &file("first-round"),
            &format!("{}={}", bad[0], bad[1]),
        ])
        .code(2)
        .stderr("error: invalid value ...")
        .check();
    }
}

#[test]
fn a_plan_without_a_compartment_is_an_answer_and_no_bug() {
    // Fourteen frames with brood, no two alike, and eight lines that no frames serve together.
    let frames = [
        (16, 7),
        (33, 9),
        (14, 53),
        (55, 40),
        (10, 43),
        (22, 4),
        (57, 15),
        (28, 14),
        (9, 90),
        (51, 15),
        (20, 72),
        (9, 4),
        (27, 46),
        (20, 15),
    ];
    let frame = |(brood, stores): &(u32, u32)| {
        format!("      - {{count: 1, brood: {brood} %, stores: {stores} %}}\n")
    };
    let lines = [
        (9, 2),
        (32, 7),
        (4, 4),
        (24, 39),
        (30, 26),
        (13, 11),
        (22, 20),
        (3, 25),
    ];
    let line = |(brood, stores): &(u32, u32)| {
        format!("      - {{brood: {brood} %, stores: {stores} %}}\n")
    };
    let text = format!(
        "spareframe: 2\nsites: {{home: {{}}}}\nday: 2031-05-20\ncolonies:\n  c0:\n    draw: all\n    frames:\n{}\
         recipes:\n  r:\n    lines:\n{}boxes: {{m: {{count: 4, recipe: r}}}}\n",
        frames.iter().map(frame).collect::<String>(),
        lines.iter().map(line).collect::<String>(),
    );
    let shown = spareframe(&["stock", "-", "-q"])
        .stdin(text)
        .code(1)
        .stdout("...")
        .check();
    assert!(
        shown.contains("Nothing can be stocked: not one of 4 compartments"),
        "{shown}"
    );
}
