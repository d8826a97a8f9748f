//! `compare`: each kind of change by its own line, and files that cannot be read.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

mod cli_support;

use cli_support::spareframe;
use serde_json::{Value, json};
use std::path::Path;

fn scenario(name: &str) -> String {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../scenarios");
    folder
        .join(format!("{name}.yaml"))
        .to_str()
        .unwrap()
        .to_owned()
}

/// The plan of a scenario.
fn plan(name: &str) -> Value {
    let args = ["stock", &scenario(name), "--format", "json"];
    serde_json::from_str(&spareframe(&args).stdout("{...").check()).unwrap()
}

/// A plan written by hand: ten compartments of five boxes, each with two brood frames and all its bees of
/// one colony; but 5.2, where colony 1 gives one of the two without bees.
fn round() -> Value {
    let holds = |brood: f64, stores: f64, drawn: f64| {
        json!({"comb": "Langstroth deep", "brood_share": brood, "sealed_share": brood / 2.0,
               "stores_share": stores, "drawn_share": drawn, "bees": 1000})
    };
    let brood = |colony: &str, frames: u32, share: f64| {
        json!({"line": "brood", "frames": frames, "colony": colony, "frame_group": 1,
               "each_holds": holds(share, 0.15, 1.0), "feed_kg": 0.0})
    };
    let filled = |number: usize| {
        let colony = ["6", "7", "6", "7", "8", "8", "9", "9", "6", "7"][number];
        let share = if colony == "8" { 0.6 } else { 0.65 };
        let mut frames = vec![
            json!({"line": "foundation", "frames": 1, "store_room_entry": 1,
                                     "each_holds": holds(0.0, 0.0, 0.0), "feed_kg": 0.0}),
        ];
        match number {
            9 => frames.extend([brood("1", 1, 0.7), brood(colony, 1, share)]),
            _ => frames.push(brood(colony, 2, share)),
        }
        json!({"box_kind": "mating box", "box_no": number / 2 + 1, "compartment": number % 2 + 1,
               "site": "far meadow", "frames": frames, "feed_kg": 0.0,
               "bees": [{"colony": colony, "bees": 3500, "riding": 3500}]})
    };
    let colonies = ["1", "12", "6", "7", "8", "9"];
    let colonies = colonies.map(|name| json!({"colony": name, "site": "home"}));
    json!({
        "spareframe_plan": 2, "title": "First round", "day": "2031-05-20",
        "headline": {
            "kinds": [{"box_kind": "mating box", "compartments_in_all": 12, "boxes_in_all": 6}],
            "worth": 10.0, "cost_g": 5363, "honey_given_up_g": 1410, "colonies_opened": 5,
        },
        "compartments": (0..10).map(filled).collect::<Vec<_>>(),
        "colonies": colonies,
        "on_hold": [{"colony": "3", "reason": "supersedure cells seen"}],
        "cautions": [{"id": "robbing", "text": "Open combs start robbing."}],
    })
}

/// What changes from that plan to the one with these edits: about, subject, text.
fn changed(edit: impl Fn(&mut Value)) -> Vec<[String; 3]> {
    let old = round();
    let mut new = old.clone();
    edit(&mut new);
    let there = between(&old, &new);
    let back = between(&new, &old);
    let mind = |report: &Value| {
        let changes = report["changes"].as_array().unwrap().iter();
        changes.filter(|c| c["about"] != "mind").count()
    };
    assert_eq!(mind(&there), mind(&back), "as much changes back");
    let text = |change: &Value| {
        ["about", "subject", "text"].map(|key| change[key].as_str().unwrap().to_owned())
    };
    there["changes"]
        .as_array()
        .unwrap()
        .iter()
        .map(text)
        .collect()
}

fn between(old: &Value, new: &Value) -> Value {
    let dir = tempfile::tempdir().unwrap();
    let write = |name: &str, plan: &Value| {
        let path = dir.path().join(name);
        std::fs::write(&path, plan.to_string()).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let (old, new) = (write("old.json", old), write("new.json", new));
    let text = spareframe(&["compare", &old, &new, "-q", "--format", "json"])
        .stdout("{...")
        .check();
    let report: Value = serde_json::from_str(&text).unwrap();
    // What is shown holds every line.
    for format in ["table", "markdown"] {
        spareframe(&["compare", &old, &new, "-q", "--format", format])
            .stdout("...")
            .check();
    }
    report
}

/// A compartment of that plan.
fn slot<'a>(plan: &'a mut Value, number: &str) -> &'a mut Value {
    let numbers = number.split('.').map(|n| n.parse::<u64>().ok());
    let numbers: Vec<_> = numbers.collect();
    let is = |c: &Value| [c["box_no"].as_u64(), c["compartment"].as_u64()] == numbers[..];
    let all = plan["compartments"].as_array_mut().unwrap();
    all.iter_mut().find(|c| is(c)).unwrap()
}

fn lines(changes: &[[String; 3]]) -> Vec<(&str, String)> {
    let line = |[_, subject, text]: &[String; 3]| format!("{subject}: {text}");
    changes.iter().map(|c| (c[0].as_str(), line(c))).collect()
}

#[test]
fn a_plan_and_itself_do_not_differ_in_whatever_format_they_are_written() {
    let dir = tempfile::tempdir().unwrap();
    for name in [
        "first-round",
        "forty",
        "home-yard",
        "nuclei",
        "taken-apart",
        "thin-spring",
    ] {
        let path = |ending: &str| {
            let path = dir.path().join(format!("{name}.{ending}"));
            path.to_str().unwrap().to_owned()
        };
        let (yaml, json) = (path("yaml"), path("json"));
        for out in [&yaml, &json] {
            spareframe(&["stock", &scenario(name), "-q", "--out", out]).check();
        }
        spareframe(&["compare", &yaml, &json])
            .stdout("From the old plan to the new one\n\nNothing has changed: both plans give the same frames and bees to the same\ncompartments.\n")
            .check();
        spareframe(&["compare", &yaml, &json, "--format", "markdown"])
            .stdout("# From the old plan to the new one\n\n**Nothing has changed: both plans give the same frames and bees to the same compartments.**\n")
            .check();
    }
    assert_eq!(changed(|_| {}), Vec::<[String; 3]>::new());
    let plan = round();
    assert_eq!(between(&plan, &plan)["same"], true);
}

#[test]
fn what_was_only_deleted_from_a_file_has_not_changed() {
    let stripped = |plan: &mut Value| {
        let compartments = plan["compartments"].take();
        *plan = json!({"spareframe_plan": 2, "title": plan["title"], "day": plan["day"]});
        plan["compartments"] = compartments;
        for compartment in plan["compartments"].as_array_mut().unwrap() {
            let compartment = compartment.as_object_mut().unwrap();
            for key in [
                "site",
                "feed_kg",
                "bees_staying",
                "bees_needed",
                "bees_to_cover_brood",
            ] {
                compartment.remove(key);
            }
            for frames in compartment["frames"].as_array_mut().unwrap() {
                let frames = frames.as_object_mut().unwrap();
                for key in ["each_holds", "place", "feed_kg", "substitute"] {
                    frames.remove(key);
                }
            }
        }
    };
    assert_eq!(changed(stripped), Vec::<[String; 3]>::new());
}

#[test]
fn frames_that_change_places_are_said_of_their_compartments_alone() {
    let changes = changed(|plan| {
        let one = slot(plan, "1.1")["frames"].clone();
        let two = slot(plan, "3.2")["frames"].clone();
        let at = |frames: &Value| {
            let frames = frames.as_array().unwrap();
            frames.iter().position(|f| f["line"] == "brood").unwrap()
        };
        let (a, b) = (at(&one), at(&two));
        slot(plan, "1.1")["frames"][a] = two[b].clone();
        slot(plan, "3.2")["frames"][b] = one[a].clone();
    });
    let six = "colony 6 (brood 65%, stores 15%)";
    let eight = "colony 8 (brood 60%, stores 15%)";
    assert_eq!(
        lines(&changes),
        [
            (
                "compartments",
                format!("mating box 1.1: brood: 2 from {eight} instead of 2 from {six}")
            ),
            (
                "compartments",
                format!("mating box 3.2: brood: 2 from {six} instead of 2 from {eight}")
            ),
        ]
    );
}

#[test]
fn bees_that_change_places_are_said_of_their_compartments_alone() {
    let changes = changed(|plan| {
        let one = slot(plan, "1.1")["bees"].clone();
        let two = slot(plan, "3.2")["bees"].clone();
        slot(plan, "1.1")["bees"] = two;
        slot(plan, "3.2")["bees"] = one;
    });
    let (six, eight) = [6, 8]
        .map(|colony| format!("3,500 from colony {colony} on its brood"))
        .into();
    assert_eq!(
        lines(&changes),
        [
            (
                "compartments",
                format!("mating box 1.1: bees: {eight} instead of {six}")
            ),
            (
                "compartments",
                format!("mating box 3.2: bees: {six} instead of {eight}")
            ),
        ]
    );
}

#[test]
fn compartments_that_are_only_renumbered_are_said_to_be() {
    let changes = changed(|plan| {
        slot(plan, "1.1")["compartment"] = json!(9);
        slot(plan, "1.2")["compartment"] = json!(1);
        slot(plan, "1.9")["compartment"] = json!(2);
    });
    assert_eq!(
        lines(&changes),
        [
            (
                "compartments",
                "mating box 1.1: is now 1.2, and gets the same".to_owned()
            ),
            (
                "compartments",
                "mating box 1.2: is now 1.1, and gets the same".to_owned()
            ),
        ]
    );
}

#[test]
fn more_bees_are_said_of_colony_compartment_load_and_in_short() {
    let changes = changed(|plan| slot(plan, "1.1")["bees"][0]["bees"] = json!(4000));
    assert_eq!(
        lines(&changes),
        [
            (
                "headline",
                "bees taken: 35,500 instead of 35,000".to_owned()
            ),
            ("colonies", "colony 6: 500 more bees".to_owned()),
            (
                "compartments",
                "mating box 1.1: bees: 4,000 from colony 6 (3,500 on its brood) instead of 3,500 from \
                 colony 6 on its brood"
                    .to_owned()
            ),
            ("carry", "to far meadow from home: 500 more bees".to_owned()),
        ]
    );
}

#[test]
fn another_frame_is_said_of_colony_compartment_and_load() {
    let changes = changed(|plan| {
        let frames = slot(plan, "1.1")["frames"].as_array_mut().unwrap();
        let brood = frames.iter_mut().find(|f| f["line"] == "brood").unwrap();
        brood["frame_group"] = json!(9);
        brood["each_holds"]["brood_share"] = json!(0.7);
    });
    assert_eq!(
        lines(&changes),
        [
            (
                "colonies",
                "colony 6: 2 frames fewer, brood 65%, stores 15%; 2 more frames, brood 70%, stores 15%"
                    .to_owned()
            ),
            (
                "compartments",
                "mating box 1.1: brood: 2 from colony 6 (brood 70%, stores 15%) instead of 2 from \
                 colony 6 (brood 65%, stores 15%)"
                    .to_owned()
            ),
            (
                "carry",
                "to far meadow from home: 2 frames fewer, brood 65%, stores 15%; 2 more frames, brood \
                 70%, stores 15%"
                    .to_owned()
            ),
        ]
    );
}

#[test]
fn frame_groups_that_look_alike_are_told_apart_by_number() {
    let changes = changed(|plan| {
        let frames = slot(plan, "1.1")["frames"].as_array_mut().unwrap();
        let brood = frames.iter_mut().find(|f| f["line"] == "brood").unwrap();
        brood["frame_group"] = json!(9);
    });
    assert!(changes[0][2].contains("frame group 9"), "{changes:?}");
    assert_eq!(changes.len(), 3, "{changes:?}");
}

#[test]
fn a_compartment_less_is_said_with_all_that_follows_and_so_is_one_more() {
    let remove = |plan: &mut Value| {
        plan["compartments"].as_array_mut().unwrap().remove(4);
    };
    let changes = changed(remove);
    let shown = lines(&changes);
    assert!(shown.contains(&(
        "headline",
        "compartments stocked: 9 instead of 10".to_owned()
    )));
    assert!(shown.contains(&(
        "compartments",
        "mating box 3.1: is not stocked any more".to_owned()
    )));
    assert!(shown.contains(&(
        "carry",
        "to far meadow: 9 cells or queens instead of 10".to_owned()
    )));
    let of = |about: &str| changes.iter().filter(|c| c[0] == about).count();
    assert_eq!(
        (of("compartments"), of("feed"), of("holds"), of("mind")),
        (1, 0, 0, 0)
    );
    let old = round();
    let mut new = old.clone();
    remove(&mut new);
    let back = between(&new, &old);
    let back = back["changes"].as_array().unwrap().iter();
    let text = back
        .filter(|c| c["about"] == "compartments")
        .map(|c| c["text"].as_str().unwrap());
    let text: Vec<_> = text.collect();
    assert!(
        text[0].starts_with("is new, at far meadow: 2 brood from colony "),
        "{text:?}"
    );
    assert!(text[0].contains("; bees: "), "{text:?}");
}

#[test]
fn a_colony_that_gives_no_more_and_one_that_gives_now_are_said_to() {
    let changes = changed(|plan| {
        for compartment in plan["compartments"].as_array_mut().unwrap() {
            for part in ["frames", "bees"] {
                for from in compartment[part].as_array_mut().unwrap() {
                    if from["colony"] == "1" {
                        from["colony"] = json!("12");
                    }
                }
            }
        }
    });
    let colonies: Vec<_> = lines(&changes)
        .into_iter()
        .filter(|c| c.0 == "colonies")
        .collect();
    let gave = "1 frame, brood 70%, stores 15%; no bees";
    assert_eq!(
        colonies,
        [
            (
                "colonies",
                format!("colony 1: is not opened any more: it gave {gave}")
            ),
            ("colonies", format!("colony 12: is opened now: {gave}")),
        ]
    );
}

#[test]
fn boxes_that_stand_elsewhere_are_carried_elsewhere() {
    let changes = changed(|plan| {
        for compartment in ["5.1", "5.2"] {
            slot(plan, compartment)["site"] = json!("orchard");
        }
    });
    let shown = lines(&changes);
    let stands = "stands at orchard instead of far meadow";
    assert!(
        shown.contains(&("compartments", format!("mating box 5.1: {stands}"))),
        "{shown:?}"
    );
    let carried = "to orchard: 1 box, mating box, instead of 0; 2 cells or queens instead of 0";
    assert!(shown.contains(&("carry", carried.to_owned())), "{shown:?}");
    assert!(
        changes
            .iter()
            .all(|c| c[0] == "compartments" || c[0] == "carry")
    );
}

#[test]
fn feed_holds_cautions_and_stated_figures_have_a_line_each() {
    let one = |edit: &dyn Fn(&mut Value)| {
        let changes = changed(edit);
        assert_eq!(changes.len(), 1, "{changes:?}");
        let (about, line) = lines(&changes).remove(0);
        format!("{about}; {line}")
    };
    assert_eq!(
        one(&|plan| slot(plan, "2.2")["feed_kg"] = json!(0.5)),
        "feed; in all, for substitutes (honey equivalent): 500 g instead of none (mating box 2.2: \
         500 g instead of none)"
    );
    assert_eq!(
        one(&|plan| plan["on_hold"] = json!([])),
        "holds; colony 3: is not on hold any more"
    );
    let reason = |plan: &mut Value| plan["on_hold"][0]["reason"] = json!("treated");
    assert_eq!(
        one(&reason),
        "holds; colony 3: is on hold for another reason: treated"
    );
    let held = |plan: &mut Value| {
        let held = json!({"colony": "2", "reason": "weak"});
        plan["on_hold"].as_array_mut().unwrap().push(held);
    };
    assert_eq!(one(&held), "holds; colony 2: is on hold now: weak");
    let honey = |plan: &mut Value| plan["headline"]["honey_given_up_g"] = json!(1900);
    assert_eq!(
        one(&honey),
        "headline; honey given up (estimate): 1.90 kg instead of 1.41 kg, 490 g more"
    );
    let cost = |plan: &mut Value| plan["headline"]["cost_g"] = json!(5000);
    assert_eq!(
        one(&cost),
        "headline; cost, in honey: 5.00 kg instead of 5.36 kg, 360 g less"
    );
    let riding = |plan: &mut Value| slot(plan, "1.1")["bees"][0]["riding"] = json!(2000);
    assert_eq!(
        one(&riding),
        "compartments; mating box 1.1: bees: 3,500 from colony 6 (2,000 on its brood) instead of \
         3,500 from colony 6 on its brood"
    );
    let old = round();
    let mut new = old.clone();
    new["cautions"][0] = json!({"id": "ice", "text": "The road is icy."});
    let changes = between(&old, &new)["changes"].clone();
    let wanted = json!([{"about": "mind", "subject": "ice", "text": "The road is icy."}]);
    assert_eq!(changes, wanted);
}

#[test]
fn plans_of_two_days_are_said_to_be() {
    let old = round();
    let mut new = old.clone();
    new["day"] = json!("2031-05-24");
    let report = between(&old, &new);
    assert_eq!(
        (&report["one_scenario"], &report["same"]),
        (&json!(false), &json!(false))
    );
    assert_eq!(report["changes"], json!([]));
}

/// A folder with the first round's plan, and another file.
fn folder(text: &str) -> (tempfile::TempDir, String, String) {
    let dir = tempfile::tempdir().unwrap();
    let path = |name: &str| dir.path().join(name).to_str().unwrap().to_owned();
    let (plan, other) = (path("plan.yaml"), path("other.yaml"));
    spareframe(&["stock", &scenario("first-round"), "-q", "--out", &plan]).check();
    std::fs::write(&other, text).unwrap();
    (dir, plan, other)
}

#[test]
fn every_finding_of_both_files_comes_at_once_with_its_place() {
    let bad = "spareframe_plan: 1\ncompartments:\n  - box_kind: a\n    box_no: one\n    \
               compartment: 1\n    frames: [{line: b, frames: 1}]\n    bees: [{colony: c, bee: 1}]\n  \
               - {box_kind: a, box_no: 1, compartment: 1, frames: [], bees: []}\n  \
               - {box_kind: a, box_no: 1, compartment: 1, frames: [], bees: []}\n";
    let (_dir, _, other) = folder(bad);
    let worse = format!("{other}.yaml");
    std::fs::write(&worse, "spareframe_plan: 3\ncompartments: []\n").unwrap();
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_spareframe"))
        .args(["compare", &other, &worse])
        .output()
        .unwrap();
    assert_eq!((output.status.code(), output.stdout), (Some(2), vec![]));
    let said = String::from_utf8(output.stderr).unwrap();
    for (place, code) in [
        ("4:13", "wrong-type"),
        ("6:14", "missing-key"),
        ("7:24", "unknown-key"),
        ("9:5", "duplicate-key"),
    ] {
        assert!(
            said.contains(&format!("{other}:{place}\nerror[{code}]")),
            "{place} {code}\n{said}"
        );
    }
    assert!(
        said.contains(&format!("{worse}:1:18\nerror[out-of-range]")),
        "{said}"
    );
}

#[test]
fn a_scenario_is_no_plan_and_stdin_is_one_file() {
    let (_dir, plan, _) = folder("");
    let said = "a scenario";
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_spareframe"))
        .args(["compare", &plan, &scenario("first-round")])
        .output()
        .unwrap();
    let text = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2));
    assert!(
        text.contains(said) && text.contains("name two plans"),
        "{text}"
    );
    spareframe(&["compare", "-", "-"])
        .code(2)
        .stderr("error: the old plan and the new one cannot both come from stdin (-)\n")
        .check();
    let own = std::fs::read_to_string(&plan).unwrap();
    spareframe(&["compare", &plan, "-"])
        .stdin(own)
        .stdout("From the old plan to the new one\n\nNothing has changed: ...")
        .check();
}

#[test]
fn figures_that_a_hand_edit_made_stale_are_noted_unless_quiet() {
    let (_dir, plan, other) = folder("");
    let text = std::fs::read_to_string(&plan).unwrap();
    let edited = text.replacen("colonies_opened: 5", "colonies_opened: 7", 1);
    assert_ne!(edited, text);
    std::fs::write(&other, edited).unwrap();
    spareframe(&["compare", &plan, &other])
        .stdout("...")
        .stderr(&format!(
            "note: {other}: states 7 colonies opened, and its ..."
        ))
        .check();
    spareframe(&["compare", &plan, &other, "-q"])
        .stdout("...")
        .check();
}

#[test]
fn the_table_fits_its_width_and_names_of_a_file_stay_text() {
    let old = round();
    let mut new = plan("nuclei");
    new["title"] = json!("# *bold* <b> \u{200b}");
    new["on_hold"] = json!([{"colony": "[x](y)", "reason": "`|`"}]);
    let dir = tempfile::tempdir().unwrap();
    let path = |name: &str, plan: &Value| {
        let path = dir.path().join(name);
        std::fs::write(&path, plan.to_string()).unwrap();
        path.to_str().unwrap().to_owned()
    };
    let (old, new) = (path("old.json", &old), path("new.json", &new));
    for width in [40, 80, 120] {
        let args = ["compare", &old, &new, "--width", &width.to_string()];
        let shown = spareframe(&args).stdout("...").check();
        let fits = |line: &str| unicode_width::UnicodeWidthStr::width(line) <= width;
        assert!(shown.lines().all(fits), "{shown}");
        assert!(shown.contains("are not the same"), "{shown}");
    }
    let args = ["compare", &old, &new, "--format", "markdown"];
    let shown = spareframe(&args).stdout("...").check();
    assert!(shown.contains("\\# \\*bold\\* \\<b\\>"), "{shown}");
    assert!(
        shown.contains("colony \\[x\\](y) is on hold now: \\`\\|\\`"),
        "{shown}"
    );
}

#[test]
fn a_plan_of_format_1_is_compared_by_what_both_say() {
    let new = round();
    let mut old = new.clone();
    old["spareframe_plan"] = json!(1);
    old["headline"] = json!({"kinds": new["headline"]["kinds"], "worth": 10.0, "bees_shaken": 0,
                             "honey_given_up_charged_estimate_kg": 1.41, "colonies_opened": 5});
    for compartment in old["compartments"].as_array_mut().unwrap() {
        for frames in compartment["frames"].as_array_mut().unwrap() {
            let holds = frames["each_holds"].as_object_mut().unwrap();
            holds.remove("bees");
            holds.insert("bees_share".to_owned(), json!(0.5));
        }
        for bees in compartment["bees"].as_array_mut().unwrap() {
            bees.as_object_mut().unwrap().remove("riding");
            bees["bees"] = json!(3478);
        }
    }
    assert_eq!(between(&old, &new)["changes"], json!([]));
    assert_eq!(between(&new, &old)["changes"], json!([]));
}
