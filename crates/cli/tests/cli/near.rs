//! `stock --near`: what is kept of an earlier plan, and what is no longer there.

use crate::support::{Folder, files, spareframe, text};

/// A folder with a scenario and its plan.
struct Yard(Folder);

impl Yard {
    fn new(scenario: &str) -> Self {
        let folder = Folder::new();
        let before = folder.write("before.yaml", scenario);
        let plan = spareframe(&["stock", &before, "--format", "yaml"]);
        folder.write("plan.yaml", plan.stdout("...").check());
        Self(folder)
    }

    /// The JSON plan for a changed scenario near to the plan, with these notes.
    fn near(&self, scenario: &str, notes: &str) -> serde_json::Value {
        let (now, plan) = (self.0.write("now.yaml", scenario), self.0.path("plan.yaml"));
        let notes = notes.replace("PLAN", &plan);
        let run = spareframe(&["stock", &now, "--near", &plan, "--format", "json"]);
        run.stderr(&notes).json()
    }
}

#[test]
fn where_nothing_changed_the_plan_is_the_same_to_the_byte_in_every_format() {
    let folder = Folder::new();
    let plan = &folder.path("plan.yaml");
    let note = format!("note: {plan}: nothing to change, the plan stays as it is\n");
    for scenario in &files() {
        let first = spareframe(&["stock", scenario, "--format", "yaml"]);
        std::fs::write(plan, first.stdout("...").check()).unwrap();
        for format in ["table", "markdown", "json", "yaml"] {
            let plain = spareframe(&["stock", scenario, "--format", format]);
            let plain = plain.stdout("...").check();
            let near = ["stock", scenario, "--near", plan, "--format", format];
            spareframe(&near).stdout(&plain).stderr(&note).check();
        }
    }
}

#[test]
fn a_changed_scenario_keeps_the_rest_and_says_so() {
    let yard = Yard::new(&text("first-round"));
    let near = yard.near(&text("as-found"), "");
    let kept = &near["kept"];
    assert_eq!(kept["day"], "2031-05-20");
    let figure = |key: &str| kept[key].as_u64().unwrap();
    let (then, as_before) = (figure("frames_then"), figure("frames_as_before"));
    // Colony 6 has two brood frames less, and a frame of colony 9 has the queen now.
    assert!(as_before < then && then - as_before <= 6, "{kept}");
    assert!(figure("frames_otherwise") >= then - as_before, "{kept}");
    assert_eq!(
        near["headline"]["frames_drawn_otherwise"],
        kept["frames_otherwise"]
    );
    assert_eq!(figure("compartments_then"), 10);
    let changed = kept["colonies_changed"].as_array().unwrap().iter();
    let changed: Vec<&str> = changed.map(|name| name.as_str().unwrap()).collect();
    assert!(changed.contains(&"6"), "{changed:?}");
    let sentence = format!(
        "Kept from the plan of 2031-05-20: {as_before} of {then} frames drawn as before, {} of 10 \
         compartments with the same frames; changed: {} {}.",
        figure("compartments_as_before"),
        if changed.len() == 1 {
            "colony"
        } else {
            "colonies"
        },
        changed.join(", ")
    );
    let shown = [
        "stock",
        &yard.0.path("now.yaml"),
        "--near",
        &yard.0.path("plan.yaml"),
        "--format",
    ];
    for format in ["table", "markdown"] {
        let args: Vec<&str> = shown.iter().copied().chain([format]).collect();
        let text = spareframe(&args).stdout("...").check();
        assert!(text.replace('\n', " ").contains(&sentence), "{text}");
    }
    // What it writes is a plan like any other.
    yard.0
        .write("near.json", serde_json::to_string(&near).unwrap());
    spareframe(&[
        "verify",
        &yard.0.path("now.yaml"),
        &yard.0.path("near.json"),
    ])
    .stdout("The plan holds: 9 compartments, no rule broken....")
    .check();
}

#[test]
fn what_is_no_longer_there_is_noted_and_the_rest_is_kept() {
    let before = text("first-round");
    let yard = Yard::new(&before);
    let from = before.find("  \"8\":\n").unwrap();
    let to = before.find("  \"9\":\n").unwrap();
    let without = format!("{}{}", &before[..from], &before[to..]);
    let near = yard.near(&without, "note: PLAN: colony `8` is no longer there\n");
    assert_eq!(near["kept"]["compartments_then"], 10);
    let changed = near["kept"]["colonies_changed"].as_array().unwrap();
    assert!(changed.contains(&"8".into()), "{changed:?}");

    let renamed = before
        .replacen("name: part brood", "name: young brood", 1)
        .replacen("count: 6, compartments: 2", "count: 4, compartments: 2", 1)
        .replacen(
            "      - {count: 3, place: \"lower box, outer frames\", stores: 80 %, bees: 60 %}\n",
            "",
            1,
        );
    let notes = "\
note: PLAN: line `part brood` of `mating box` is no longer there
note: PLAN: frame group 4 of colony `6` is no longer there
note: PLAN: compartment 1 of box 5 of `mating box` is no longer there
note: PLAN: compartment 2 of box 5 of `mating box` is no longer there
";
    let near = yard.near(&renamed, notes);
    assert_eq!(near["headline"]["compartments_stocked"], 8);

    let other = before.replacen("  mating box:", "  nucleus box:", 1);
    let near = yard.near(
        &other,
        "note: PLAN: kind of box `mating box` is no longer there\n",
    );
    assert_eq!(near["kept"]["compartments_as_before"], 0);
    assert_eq!(near["kept"]["frames_otherwise"], 0);
    let args = [
        "stock",
        &yard.0.path("now.yaml"),
        "--near",
        &yard.0.path("plan.yaml"),
        "-q",
    ];
    spareframe(&args).stdout("...").check();
}

#[test]
fn frames_are_found_by_their_place_where_their_number_has_changed() {
    let before = text("first-round");
    let yard = Yard::new(&before);
    let upper = "      - {count: 6, place: upper box, brood: 65 %, sealed: 60 %, stores: 15 %}\n";
    let outer =
        "      - {count: 3, place: \"lower box, outer frames\", stores: 80 %, bees: 60 %}\n";
    let moved = before
        .replacen(upper, "SWAP", 1)
        .replacen(outer, upper, 1)
        .replacen("SWAP", outer, 1);
    let note = "note: PLAN: nothing to change, the plan stays as it is\n";
    let near = yard.near(&moved, note);
    assert_eq!(near["kept"], serde_json::Value::Null);
    assert_eq!(near["headline"]["compartments_stocked"], 10);
}

#[test]
fn a_file_that_is_no_plan_is_bad_input() {
    let yard = Yard::new(&text("first-round"));
    let before = yard.0.path("before.yaml");
    spareframe(&["stock", &before, "--near", &before])
        .code(2)
        .stderr(&format!(
            "{before}:4:1\nerror[wrong-type]: found a scenario..."
        ))
        .check();
    yard.0.write("list.yaml", "- 1\n- 2\n");
    let list = yard.0.path("list.yaml");
    spareframe(&["stock", &before, "--near", &list])
        .code(2)
        .stderr(&format!("{list}:1:1\nerror[wrong-type]..."))
        .check();
    let plan = yard.0.read("plan.yaml");
    let odd =
        plan.replacen("frames: 2", "frames: two", 1)
            .replacen("    bees: 3", "    bees: many", 1);
    yard.0.write("odd.yaml", &odd);
    let odd = yard.0.path("odd.yaml");
    let args = ["stock", &before, "--near", &odd];
    let shown = spareframe(&args).code(2).stderr(&format!("{odd}:..."));
    shown.check();
    spareframe(&["stock", &before, "--near", &yard.0.path("none.yaml")])
        .code(2)
        .stderr("error: cannot read ...")
        .check();
    spareframe(&["stock", "-", "--near", "-"])
        .code(2)
        .stderr("error: scenario and plan cannot both come from stdin (-)\n")
        .check();
}

#[test]
fn the_earlier_plan_may_come_from_stdin_and_be_replaced() {
    let yard = Yard::new(&text("first-round"));
    yard.0.write("now.yaml", text("as-found"));
    let (now, plan) = (yard.0.path("now.yaml"), yard.0.path("plan.yaml"));
    let by_file = spareframe(&["stock", &now, "--near", &plan])
        .stdout("...")
        .check();
    spareframe(&["stock", &now, "--near", "-"])
        .stdin(yard.0.read("plan.yaml"))
        .stdout(&by_file)
        .check();
    spareframe(&["stock", &now, "--near", &plan, "--out", &plan, "--force"])
        .stderr(&format!("wrote {plan}\n"))
        .check();
    assert!(yard.0.read("plan.yaml").contains("frames_as_before: "));
}
