//! `why` at the command line.

use crate::support::{Folder, file, spareframe, text};

fn why(name: &str, more: &[&str]) -> String {
    let path = file(name);
    let mut args = vec!["why", &path];
    args.extend(more);
    spareframe(&args).stdout("...").check()
}

#[test]
fn the_table_says_what_would_do_and_what_holds_each_colony_back() {
    let text = why("first-round", &[]);
    for part in [
        "10 of 12 compartments stocked.",
        "- 1 more frame (brood 50%): 11 compartments (+1), cost 6.84 kg (+1.74), honey\n  2.87 kg (+1.50)",
        "- 3: on hold: supersedure cells seen, look again on 27 May",
        "- 2 and 4: others cost less",
        "- mating box, 10 of 12 compartments: easing frames (brood 50%) would allow one",
    ] {
        assert!(text.contains(part), "{part}\n{text}");
    }
}

#[test]
fn what_only_together_would_do_is_said_together() {
    let text = why("as-found", &[]);
    let part = "With nothing from outside, these together would\n- honey cap";
    assert!(text.contains(part), "{text}");
}

#[test]
fn verbose_gives_each_change_as_a_setting_and_the_assumptions() {
    let text = why("first-round", &["-v"]);
    for part in [
        "\n    --set 'colonies.from outside={site: \"home\", draw: all, frames: [{count: 1, ",
        "\n    --set 'settings.honey cap=4.47 kg'\n",
        "About the honey estimate",
    ] {
        assert!(text.contains(part), "{part}\n{text}");
    }
}

#[test]
fn no_line_is_wider_than_the_terminal() {
    for width in [40, 60, 120] {
        let text = why("forty", &["--width", &width.to_string()]);
        let widest = text.lines().map(|line| line.chars().count()).max();
        assert!(
            widest.is_some_and(|widest| widest <= width),
            "{width}\n{text}"
        );
    }
}

#[test]
fn the_json_holds_reasons_as_data_in_names_and_units() {
    let report = spareframe(&["why", &file("first-round"), "--format", "json"]).json();
    assert_eq!(report["spareframe_why"], 2);
    let change = &report["one_more"][0]["changes"][0];
    assert_eq!(change["limit"]["rule"], "supply");
    assert_eq!(change["limit"]["frame"]["brood_share"]["least"], 0.5);
    assert_eq!(change["by"], 1.0);
    assert_eq!(report["one_more"][0]["reached"]["compartments_more"], 1);
    let colony = &report["colonies"][2];
    let reason = "supersedure cells seen, look again on 27 May";
    assert_eq!(colony["because"][0]["on_hold"], reason);
}

#[test]
fn yaml_and_markdown_say_the_same() {
    let yaml = why("first-round", &["--format", "yaml"]);
    assert!(yaml.contains("fewest_of_our_own:"), "{yaml}");
    let markdown = why("first-round", &["--format", "markdown"]);
    assert!(
        markdown.contains("\n## Why these colonies give nothing\n\n- 2 and 4: "),
        "{markdown}"
    );
}

#[test]
fn where_nothing_can_be_stocked_it_names_what_forbids_it_and_answers_no() {
    let text = text("first-round");
    let none = text.replace("\ncells: 12\n", "\ncells: 0\n");
    assert_ne!(none, text);
    let shown = spareframe(&["why", "-", "--quiet"])
        .stdin(none)
        .code(1)
        .stdout("...")
        .check();
    for part in [
        "Nothing can be stocked as long as this holds, whatever else is eased\n- cells or queens",
        "- 1 more cell or queen: 1 compartment (+1), cost 0.20 kg (+0.20), honey 0 kg\n  (same)",
    ] {
        assert!(shown.contains(part), "{part}\n{shown}");
    }
}

#[test]
fn an_answer_goes_to_a_file_whole_and_never_over_another_unasked() {
    let folder = Folder::new();
    let out = &folder.path("why.json");
    let path = file("nuclei");
    spareframe(&["why", &path, "--out", out, "-q"]).check();
    let first = std::fs::read_to_string(out).unwrap();
    assert!(first.starts_with("{\n  \"spareframe_why\": 2"), "{first}");
    spareframe(&["why", &path, "--out", out])
        .code(2)
        .stderr(&format!("error: {out} exists; --force replaces it\n"))
        .check();
    assert_eq!(std::fs::read_to_string(out).unwrap(), first);
}

/// Worth and cost of today's plan with these settings, by `probe`.
fn probed(name: &str, sets: &[String]) -> (f64, i64) {
    let path = file(name);
    let mut args = vec!["probe", &path, "--format", "json", "-q"];
    for set in sets {
        args.extend(["--set", set]);
    }
    let report = spareframe(&args).json();
    let row = &report["rows"][1];
    (
        row["worth"].as_f64().unwrap(),
        row["cost_g"].as_i64().unwrap(),
    )
}

#[test]
fn every_change_on_offer_as_a_setting_yields_what_was_promised() {
    let names = [
        "as-found",
        "half-done",
        "first-round",
        "forty",
        "home-yard",
        "nuclei",
        "queens-out",
        "taken-apart",
        "thin-spring",
    ];
    let mut kinds = std::collections::BTreeSet::new();
    for name in names {
        let report = spareframe(&["why", &file(name), "--format", "json"]).json();
        let today = report["today"]["cost_g"].as_i64().unwrap();
        let single = report["one_more"].as_array().unwrap().iter();
        let several = [&report["fewest_together"], &report["fewest_of_our_own"]];
        let one = report["limits"].as_array().unwrap().iter();
        let one = one.map(|effect| &effect["one_more"]);
        for offer in single
            .chain(several)
            .chain(one)
            .filter(|offer| !offer.is_null())
        {
            let changes = offer["changes"].as_array().unwrap();
            let set = |change: &serde_json::Value| change["set"].as_str().unwrap().to_owned();
            let sets: Vec<String> = changes.iter().map(set).collect();
            kinds.extend(
                changes
                    .iter()
                    .map(|change| change["limit"]["thing"].to_string()),
            );
            let reached = &offer["reached"];
            let promised = reached["cost_g"].as_i64().unwrap();
            let (worth, cost) = probed(name, &sets);
            assert_eq!(
                worth,
                reached["worth"].as_f64().unwrap(),
                "{name}: {sets:?}"
            );
            // Costs that are promised are near enough to the least (docs/why.md).
            let near = 100.max((promised - today).abs() / 8);
            let over = promised - cost;
            assert!(
                (0..near).contains(&over),
                "{name}: {sets:?} {promised} {cost}"
            );
        }
    }
    // The scenarios between them bring up most sorts of change.
    assert!(kinds.len() >= 7, "{kinds:?}");
}

#[test]
fn what_time_leaves_open_is_left_out_and_said_and_never_a_claim() {
    let path = file("forty");
    let text = spareframe(&["why", &path, "--time-limit", "0.000001", "-v"])
        .stdout("...")
        .check();
    assert!(text.contains("Some searches were cut short"), "{text}");
    for claim in [
        "What does not limit it\n",
        "No single change",
        "holds anything back",
    ] {
        assert!(!text.contains(claim), "{claim}\n{text}");
    }
}

/// Producers that are short of stores, of which a box needs those of several, and one that is short of brood.
const SHORT: &str = "\
spareframe: 2
day: 2031-05-27
sites:
  avenue: {at: [50.00, 14.40]}
  wood: {at: [50.10, 14.42]}
colonies:
  K1: {site: avenue, brood: 8 combs, stores: 4 combs, bees: 40_000}
  K2: {site: avenue, brood: 8 combs, stores: 5 combs, bees: 34_000}
  K4: {site: avenue, brood: 6 combs, stores: 6 combs, bees: 24_000}
store room:
  - {count: 12, drawn: 0}
recipes:
  split:
    bees: 8000
    lines:
      - {name: brood, count: 2, brood: 60 %}
      - {name: stores, count: 3, stores: 60 %, no brood: yes}
boxes:
  box: {count: 8, site: wood, recipe: split}
";

#[test]
fn what_several_colonies_hold_back_together_is_said_alike_by_plan_and_reasons() {
    let said = |command: &str| {
        let run = spareframe(&[command, "-", "-q"]).stdin(SHORT).code(1);
        run.stdout("...").check()
    };
    let (plan, reasons) = (said("stock"), said("why"));
    let eased = "\n  - less of the stores that colonies must keep, in one colony or more\n";
    assert!(plan.contains(eased), "{plan}");
    let eased = "\n- less of the stores that colonies must keep, in several colonies at once: all\n  lifted, ";
    assert!(reasons.contains(eased), "{reasons}");
    let others = "\nWith nothing from outside, these together would\n";
    assert!(reasons.contains(others), "{reasons}");
    assert!(
        !reasons.contains("only together: without them"),
        "{reasons}"
    );
}

#[test]
fn colonies_that_are_below_a_floor_are_named_in_one_line() {
    let short = "\nBelow what they must keep, so give none of it: K1, K2 (production: 10 kg of\nstores); K4 (production: 4 brood frames).\n";
    let plan = spareframe(&["stock", "-", "-q"]).stdin(SHORT).code(1);
    let plan = plan.stdout("...").check();
    assert!(plan.contains(short), "{plan}");
    let args = ["stock", "-", "-q", "--format", "json"];
    let found = spareframe(&args).stdin(SHORT).code(1).json();
    let below = &found["below_floor"][0];
    assert_eq!(below["must_keep"][0]["of"], "stores_kg");
    assert_eq!(below["must_keep"][0]["amount"], 10.0);
    assert_eq!(below["colonies"], serde_json::json!(["K1", "K2"]));
    let args = ["stock", "-", "-q", "--format", "markdown"];
    let page = spareframe(&args).stdin(SHORT).code(1);
    assert!(
        page.stdout("...")
            .check()
            .contains("\n\nBelow what they must keep")
    );
}

#[test]
fn a_cap_of_nothing_is_a_hold_and_not_on_offer() {
    let held = "spareframe: 2
sites: {home: {at: [47.60, 8.10]}, valley: {at: [47.70, 8.20]}}
roles:
  breeder: {draw: {frames: 0, bees: 0}}
colonies:
  Gold: {role: breeder, site: home, brood: 8 combs, stores: 4 combs}
  Moon: {role: nucleus, site: home, brood: 5 combs, stores: 2 combs, bees: 16_000}
recipes:
  mating:
    bees: 2000
    lines:
      - {name: brood, brood: 40 %}
      - {name: food, stores: 50 %, no brood: yes}
boxes:
  box: {count: 4, site: valley, recipe: mating}
";
    let said = |command: &str| {
        let run = spareframe(&[command, "-", "-q"]).stdin(held);
        run.stdout("...").check()
    };
    let (plan, reasons) = (said("stock"), said("why"));
    assert!(
        plan.contains("1 more frame (no brood, stores 50%)"),
        "{plan}"
    );
    assert!(!plan.contains("may give"), "{plan}");
    assert!(!reasons.contains("instead of 0"), "{reasons}");
    let limit = "- colony Gold, may give no frame: without it ";
    assert!(reasons.contains(limit), "{reasons}");
    assert!(
        reasons.contains("\n- Gold: may give no frame\n"),
        "{reasons}"
    );
}

#[test]
fn a_change_has_one_cost_wherever_it_is_named() {
    let thin = "spareframe: 2
day: 2031-05-08
sites: {bog: {at: [58.20, 15.00]}, island: {at: [58.30, 15.10]}}
roles:
  production: {keep: {brood: 3 combs, bees: 6 frames, stores: 2 kg}, draw: {frames: 1}}
colonies:
  Sif: {site: bog, comb: Langstroth medium, brood: 6 combs at 50 %, stores: 3 combs at 40 %, bees: 7 frames}
  Tyr: {site: bog, comb: Langstroth medium, brood: 5 combs at 55 %, stores: 4 combs at 50 %, bees: 6 frames}
  Ull: {site: bog, comb: Langstroth medium, brood: 7 combs at 60 %, stores: 5 combs at 60 %, bees: 10 frames}
  Nan: {site: bog, comb: Langstroth medium, role: nucleus, brood: 3 combs at 45 %, stores: 2 combs at 60 %, bees: 4 frames}
store room:
  - {count: 6, comb: Langstroth medium, drawn: 100 %}
  - {count: 10, comb: Langstroth medium, drawn: 0}
recipes:
  weak start:
    bees: 2 frames
    lines:
      - {name: brood, comb: Langstroth medium, brood: 30 %}
      - {name: food, comb: Langstroth medium, stores: 30 %, no brood: yes, or: [{drawn: 100 %, no brood: yes, feed: 800 g}]}
      - {name: drawn, comb: Langstroth medium, drawn: 100 %, stores: 0 to 20 %, no brood: yes, or: [{foundation: yes}]}
boxes:
  box: {count: 6, site: island, recipe: weak start}
cells: 6
";
    let args = ["why", "-", "-q", "--format", "json"];
    let report = spareframe(&args).stdin(thin).json();
    let cost = |offer: &serde_json::Value| offer["reached"]["cost_g"].as_i64().unwrap();
    let mut both = 0;
    for offer in report["one_more"].as_array().unwrap() {
        let change = &offer["changes"][0];
        let limits = report["limits"].as_array().unwrap().iter();
        for one in limits
            .map(|effect| &effect["one_more"])
            .filter(|one| !one.is_null())
        {
            let other = &one["changes"][0];
            let further = other["by"].as_f64() >= change["by"].as_f64();
            if other["limit"] == change["limit"] && further {
                both += 1;
                assert!(cost(one) <= cost(offer), "{other} {change}");
                assert!(other["by"] != change["by"] || cost(one) == cost(offer));
            }
        }
    }
    assert!(both > 2, "{report}");
}

/// Two nuclei at different places, either of which can fill the one box.
fn two_sites(site: &str) -> String {
    format!(
        "spareframe: 2\nday: 2031-05-20\nsites: {{linden: , forest: , far: }}\n\
         distances: [{{from: linden, to: far, is: 9 km}}, {{from: forest, to: far, is: 9 km}}, {{from: linden, to: forest, is: 9 km}}]\n\
         colonies:\n  Kit:\n    site: linden\n    role: nucleus\n    frames: [{{count: 3, brood: 60 %, bees: 100 %}}]\n  \
         Lea:\n    site: forest\n    role: nucleus\n    frames: [{{count: 4, brood: 60 %, bees: 100 %}}]\n\
         recipes: {{one: {{bees: 2300, lines: [{{brood: 50 %}}]}}}}\n\
         boxes: {{box: {{count: 3, site: {site}, recipe: one}}}}\n"
    )
}

#[test]
fn what_each_site_brings_is_said_where_colonies_of_two_give() {
    let why = |site: &str, format: &str| {
        let args = ["why", "-", "-q", "--width", "120", "--format", format];
        let yard = two_sites(site);
        spareframe(&args).stdin(yard).stdout("...").check()
    };
    let text = why("far", "table");
    for part in [
        "What each site brings\n- without going to linden: 2 compartments (-1), cost",
        "- without going to forest: 1 compartment (-2), cost",
    ] {
        assert!(text.contains(part), "{part}\n{text}");
    }
    // A box is taken to the site all the same.
    let text = why("linden", "table");
    assert!(
        text.contains("- without taking anything at linden: 2 compartments (-1)"),
        "{text}"
    );
    assert!(text.contains("- without going to forest: "), "{text}");
    let json = why("far", "json");
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let linden = &json["without_sites"][0];
    assert_eq!(
        (&linden["site"], &linden["visited_anyway"]),
        (&"linden".into(), &false.into())
    );
    assert_eq!(linden["without"]["compartments_more"], -1);
    assert!(
        !spareframe(&["why", &file("first-round")])
            .stdout("...")
            .check()
            .contains("What each site")
    );
}
