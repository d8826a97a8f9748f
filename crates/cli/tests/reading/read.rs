//! Reading scenarios: the shipped files, the docs, hostile input.

use spareframe::scenario::{read, reference_markdown, schema, starter};

fn codes(text: &str) -> Vec<&'static str> {
    read("t.yaml", text.as_bytes())
        .findings
        .iter()
        .map(|f| f.code)
        .collect()
}
fn root(path: &str) -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../..")
        .join(path)
}

#[test]
fn starter_reads_without_findings() {
    let r = read("starter.yaml", starter().as_bytes());
    let shown: String = r
        .findings
        .iter()
        .map(|f| f.render(starter(), false))
        .collect();
    assert!(r.findings.is_empty(), "{shown}");
    assert_eq!(r.loaded.unwrap().scenario.colonies.len(), 3);
}

#[test]
fn shipped_scenarios_read_without_findings() {
    for entry in std::fs::read_dir(root("scenarios")).unwrap() {
        let path = entry.unwrap().path();
        let text = std::fs::read_to_string(&path).unwrap();
        let r = read(&path.display().to_string(), text.as_bytes());
        let shown: String = r.findings.iter().map(|f| f.render(&text, false)).collect();
        assert!(r.findings.is_empty(), "{shown}");
    }
}

#[test]
fn on_a_narrow_terminal_the_way_out_goes_on_in_further_lines() {
    let text = starter().replace("brood: 8 combs at 70 %", "brood: 8 frames");
    let found = read("t.yaml", text.as_bytes()).findings;
    let finding = found.iter().find(|f| f.code == "two-meanings").unwrap();
    let words =
        |text: &str| -> Vec<String> { text.split_whitespace().map(str::to_owned).collect() };
    let wide = words(&finding.render(&text, false));
    for width in [40, 60] {
        let narrow = finding.render_within(&text, false, Some(width));
        let (_, help) = narrow.split_once("= help: ").unwrap();
        assert!(help.lines().count() > 1, "{narrow}");
        let longest = help.lines().skip(1).map(str::len).max();
        assert!(longest.is_some_and(|longest| longest <= width), "{narrow}");
        assert_eq!(words(&narrow), wide);
    }
}

#[test]
fn coordinates_with_commas_for_points_are_asked_about() {
    for (typed, meant) in [
        ("[51,3, 9.4]", "[51.3, 9.4]"),
        ("[51.3, 9,4]", "[51.3, 9.4]"),
        ("[51,35, -9,4]", "[51.35, -9.4]"),
    ] {
        let text = format!("spareframe: 2\nsites: {{home: {{at: {typed}}}}}\n");
        let found = read("t.yaml", text.as_bytes()).findings;
        let at = found.iter().find(|f| f.code == "wrong-type").unwrap();
        assert!(
            at.found.ends_with("values, not two numbers"),
            "{}",
            at.found
        );
        assert_eq!(at.way_out, format!("did you mean `{meant}`?"));
    }
}

#[test]
fn docs_are_in_step() {
    let path = root("docs/scenario.md");
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(&path, reference_markdown()).unwrap();
    }
    assert_eq!(std::fs::read_to_string(path).unwrap(), reference_markdown());
    assert_eq!(schema()["required"][0], "spareframe");
}

#[test]
fn changes_to_the_starter_are_found() {
    for (from, to, code) in [
        ("role: nucleus", "rolle: nucleus", "unknown-key"),
        ("role: nucleus", "role: nuclaus", "unknown-name"),
        ("spareframe: 2", "", "missing-key"),
        (
            "count: 5, brood: 80 %",
            "count: six, brood: 80 %",
            "wrong-type",
        ),
        ("crop: 20 kg", "crop: -20 kg", "out-of-range"),
        ("crop: 20 kg", "crop: .inf", "wrong-type"),
        ("stores: 15 %", "stores: 25 %", "frame-overfull"),
        ("extra bees: 8000", "brood: 3 combs", "two-readings"),
        ("day: 2031-05-20", "", "dates-without-day"),
        (
            "[2031-06-10, 2031-07-05]",
            "[2031-07-10, 2031-07-05]",
            "dates-order",
        ),
        ("at: [48.10, 11.50]", "at: [98.10, 11.50]", "out-of-range"),
        ("{at: [48.10, 11.50]}", "{}", "missing-distance"),
        (
            "foundation: yes",
            "foundation: yes, brood: 5 %",
            "impossible-line",
        ),
        ("extra bees: 8000", "keep: {brood: 60 frames}", "keep-above"),
        (
            "title: First round",
            "title: \"a\\e[31m\"",
            "control-character",
        ),
        ("title: First round", "day: 2031-05-20", "duplicate-key"),
        ("title: First round", "title: *x", "yaml"),
        ("title: First round", "title: ''", "empty"),
        ("title: First round", "title: a\0b", "encoding"),
        (
            "boxes:\n",
            "  other: {lines: [{}]}\nboxes:\n",
            "unused-name",
        ),
    ] {
        assert!(starter().contains(from), "{from}");
        let text = starter().replacen(from, to, 1);
        let found = codes(&text);
        assert!(found.contains(&code), "{to}: {found:?}");
        for f in read("t.yaml", text.as_bytes()).findings {
            assert!(
                !f.render(&text, false)
                    .chars()
                    .any(|c| c.is_control() && c != '\n')
            );
        }
    }
}

#[test]
fn hostile_input_ends_in_a_finding() {
    assert_eq!(codes(&"[".repeat(100_000)), ["too-large"]);
    assert_eq!(codes(&"a".repeat(50 << 20)), ["too-large"]);
    assert_eq!(read("t", b"a: \xff").findings[0].code, "encoding");
    assert!(!codes("a: &a [x, x]\nb: [*a, *a]\n").is_empty());
    assert!(!codes("").is_empty());
}

#[test]
fn every_prefix_of_the_starter_is_read_without_panic() {
    for i in (0..starter().len()).filter(|i| starter().is_char_boundary(*i)) {
        let text = &starter()[..i];
        for f in read("t", text.as_bytes()).findings.iter().take(3) {
            let _ = f.render(text, true);
        }
    }
}

#[test]
fn twenty_thousand_colonies_are_read() {
    let mut text = String::from(
        "spareframe: 2\nsites: {a: {}}\nrecipes: {r: {lines: [{brood: 50 %}]}}\nboxes: {b: {count: 1, recipe: r}}\ncolonies:\n",
    );
    for i in 0..20_000 {
        text += &format!("  c{i}:\n    role: nucleus\n    frames:\n");
        for _ in 0..6 {
            text += "      - {count: 1, brood: 60 %, sealed: 50 %, stores: 20 %, drawn: 100 %, bees: 90 %}\n";
        }
    }
    let started = std::time::Instant::now();
    let r = read("big", text.as_bytes());
    assert_eq!(r.loaded.unwrap().scenario.colonies.len(), 20_000);
    println!("{} bytes in {:?}", text.len(), started.elapsed());
}

/// What a first yard needs stands in the starter to be copied: sizes, a crop on quick counts, floors of its own,
/// the rearing.
#[test]
fn the_starter_shows_what_a_first_yard_needs() {
    let loaded = read("starter.yaml", starter().as_bytes()).loaded.unwrap();
    for (size, _) in loaded.scenario.combs.iter().zip(0..7) {
        assert!(starter().contains(&size.name), "{}", size.name);
    }
    let glance = loaded.places.at_a_glance.iter();
    let quick: Vec<_> = loaded
        .scenario
        .colonies
        .iter()
        .zip(glance)
        .filter(|(_, quick)| **quick)
        .collect();
    assert_eq!(quick.len(), 2);
    let (producer, _) = quick[0];
    assert!(producer.crop.is_some());
    assert_ne!(
        producer.keep, loaded.scenario.colonies[0].keep,
        "floors of its own"
    );
    assert!(loaded.rearing.grafted.is_some());
    // No comb of brood goes out as a comb of stores, nor is one asked for that nobody finds.
    for line in &loaded.scenario.boxes[0].lines {
        let bare = line.ask.drawn.most.0 == 0;
        assert!(bare || line.ask.brood.most.0 <= 800, "{}", line.name);
        assert!(
            line.substitutes
                .iter()
                .all(|other| other.ask.brood.most.0 == 0)
        );
    }
}
