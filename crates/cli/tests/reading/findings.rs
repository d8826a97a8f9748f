//! Every finding code has a page section with an example that provokes it.

use spareframe::scenario::{CODES, Finding, Severity, read};
use std::collections::BTreeSet;

/// A small scenario without findings; an example stands instead of the parts that it names.
const BASE: &str = "\
spareframe: 2
day: 2031-05-20
sites:
  home: {at: [48.1, 11.5]}
colonies:
  \"1\": {brood: 6 combs, stores: 5 combs}
recipes:
  mating: {bees: 2000, lines: [{name: brood, brood: 50 %}]}
boxes:
  mating box: {count: 2, recipe: mating}
";

fn page() -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/findings.md")
}

/// A top-level part: its key and its lines.
fn parts(text: &str) -> Vec<(String, String)> {
    let mut parts: Vec<(String, String)> = Vec::new();
    for line in text.lines() {
        if !line.starts_with([' ', '#']) {
            let key = line.split(':').next().unwrap_or_default();
            parts.push((key.to_owned(), String::new()));
        }
        if let Some((_, text)) = parts.last_mut() {
            *text += &format!("{line}\n");
        }
    }
    parts
}

/// The example first, so that its lines keep their numbers, then what it leaves of the base.
fn whole(example: &str) -> String {
    let named: BTreeSet<String> = parts(example).into_iter().map(|(key, _)| key).collect();
    let mut text = example.to_owned();
    for (key, part) in parts(BASE) {
        let left_out = key == "day" && example.starts_with("# no day");
        if !named.contains(&key) && !left_out {
            text += &part;
        }
    }
    text
}

fn findings(text: &[u8]) -> Vec<Finding> {
    read("yard.yaml", text).findings
}

#[test]
fn the_base_has_no_findings() {
    assert_eq!(findings(BASE.as_bytes()), []);
}

#[test]
fn every_code_has_a_section_with_an_example_that_provokes_it_alone() {
    let old = std::fs::read_to_string(page()).unwrap();
    let (intro, rest) = old.split_once("\n## ").unwrap();
    let mut new = intro.to_owned();
    let mut codes = Vec::new();
    for section in rest.split("\n## ") {
        let (code, body) = section.split_once('\n').unwrap();
        codes.push(code.to_owned());
        new += &format!("\n## {code}\n");
        let Some((before, example)) = body.split_once("```yaml\n") else {
            assert_eq!(code, "encoding", "only this one cannot be shown");
            new += body;
            continue;
        };
        let (example, after) = example.split_once("```\n").unwrap();
        let text = whole(example);
        let found = findings(text.as_bytes());
        assert!(!found.is_empty(), "{code}: no finding in\n{text}");
        for f in &found {
            assert_eq!(f.code, code, "{}", f.render(&text, false));
            let warning = body.contains("A warning.");
            assert_eq!(warning, f.severity == Severity::Warning, "{code}");
        }
        let shown: String = found.iter().map(|f| f.render(&text, false)).collect();
        let shown: String = shown
            .lines()
            .map(|l| format!("{}\n", l.trim_end()))
            .collect();
        new += &format!("{before}```yaml\n{example}```\n\n```text\n{shown}```\n");
        assert!(after.contains("```text\n"), "{code}");
    }
    let known: Vec<&str> = CODES.iter().map(|c| c.0).collect();
    assert_eq!(codes, known);
    if std::env::var_os("UPDATE_DOCS").is_some() {
        std::fs::write(page(), &new).unwrap();
    } else {
        assert_eq!(old, new, "UPDATE_DOCS=1 writes the page anew");
    }
}

#[test]
fn what_cannot_be_shown_is_found_all_the_same() {
    for bytes in [
        &b"title: a\0b"[..],
        b"title: \xff",
        b"\xfe\xff\0a",
        b"\xff\xfea\0",
    ] {
        let found = findings(bytes);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].code, "encoding");
        let source = String::from_utf8_lossy(bytes);
        assert!(
            found[0]
                .render(&source, false)
                .contains("save the file as UTF-8")
        );
    }
}

#[test]
fn findings_come_all_at_once_in_the_order_of_the_file() {
    let text = BASE
        .replace("day: 2031-05-20", "day: 20 May")
        .replace("brood: 6 combs", "brood: 8 kg")
        .replace(
            "count: 2, recipe: mating",
            "count: 2.5, recipe: mate, kount: 1",
        );
    let found: Vec<_> = findings(text.as_bytes())
        .iter()
        .map(|f| (f.line, f.code))
        .collect();
    let wanted = [
        (2, "wrong-type"),
        (6, "wrong-type"),
        (10, "wrong-type"),
        (10, "unknown-name"),
        (10, "unknown-key"),
    ];
    assert_eq!(found, wanted);
}

/// Changes to the base, and the codes that they bring up, whole.
#[test]
fn odd_and_wrong_values_are_found() {
    let cases: &[(&str, &str, &[&str])] = &[
        // Keys of a line in a substitute and the other way round.
        (
            "brood: 50 %}",
            "brood: 50 %, or: [{brood: 10 %, name: x}]}",
            &["unknown-key"],
        ),
        (
            "brood: 50 %}",
            "brood: 50 %, or: [{brood: 10 %, count: 2}]}",
            &["unknown-key"],
        ),
        (
            "brood: 50 %}",
            "brood: 50 %, or: [{brood: 10 %, or: [{}]}]}",
            &["unknown-key"],
        ),
        ("brood: 50 %}", "brood: 50 %, feed: 1 kg}", &["unknown-key"]),
        // The same pair of sites twice, in either direction.
        (
            "  home: {at: [48.1, 11.5]}\n",
            "  home: {at: [48.1, 11.5]}\n  b: {at: [48.2, 11.5]}\ndistances: [{from: home, to: b, is: 4 km}, {from: b, to: home, is: 5 km}]\n",
            &[
                "two-distances",
                "duplicate-key",
                "missing-key",
                "missing-key",
            ],
        ),
        (
            "combs}\n",
            "combs, keep: {brood: 6.1 combs}}\n",
            &["keep-above"],
        ),
        ("combs}\n", "combs, keep: {bees: 19800}}\n", &[]),
        ("combs}\n", "combs, keep: {bees: 19801}}\n", &["keep-above"]),
        ("combs}\n", "combs, keep: {stores: 8.8 kg}}\n", &[]),
        (
            "combs}\n",
            "combs, keep: {stores: 8801 g}}\n",
            &["keep-above"],
        ),
        (
            "combs}\n",
            "combs, keep: {drawn: 14 frames}}\n",
            &["keep-above"],
        ),
        (
            "brood: 6 combs, stores: 5 combs",
            "hold: ''",
            &["hold-without-reason", "no-frame-fits"],
        ),
        (
            "brood: 6 combs, stores: 5 combs",
            "role: nucleus",
            &["empty", "no-frame-fits"],
        ),
        (
            "{name: brood, brood: 50 %}",
            "{name: a, brood: 1 %}, {name: a, no brood: yes}",
            &["duplicate-key"],
        ),
        (
            "recipe: mating}\n",
            "recipe: mating}\ncells: [{count: 2, for: [mating box, mating box]}]\n",
            &["duplicate-key"],
        ),
        (
            "recipe: mating}\n",
            "recipe: mating}\ncells: {}\n",
            &["no-cells"],
        ),
        (
            "recipe: mating}\n",
            "recipe: mating}\ncells: 0\n",
            &["no-cells"],
        ),
        (
            "recipe: mating}\n",
            "recipe: mating}\ncells: {mating bix: 2}\n",
            &["unknown-name"],
        ),
        (
            "recipes:\n",
            "roles: {spare: {}}\nrecipes:\n",
            &["unused-name"],
        ),
        (
            "recipes:\n",
            "store room: [{brood: 10 %}]\nrecipes:\n",
            &["out-of-range"],
        ),
        (
            "recipes:\n",
            "store room: [{queen: yes}]\nrecipes:\n",
            &["out-of-range"],
        ),
        ("recipes:\n", "store room: []\nrecipes:\n", &["empty"]),
        (
            "brood: 50 %}",
            "brood: 50 %, or: [{comb: mini, drawn: 50 %}]}",
            &[],
        ),
        ("brood: 50 %}", "foundation: yes}", &["no-frame-fits"]),
        ("day: 2031-05-20", "day: 2031-02-30", &["wrong-type"]),
        ("day: 2031-05-20", "title: !!str x", &["yaml"]),
        ("6 combs", ".nan", &["wrong-type"]),
        ("6 combs", "1e99", &["wrong-type"]),
        // Underscores part digits and lead none.
        ("6 combs", "0_6 combs", &[]),
        ("6 combs", "_6 combs", &["wrong-type"]),
        ("brood: 50 %}", "brood: 60 % to 50 %}", &["out-of-range"]),
        (
            "brood: 50 %}",
            "brood: 50 %, no brood: yes}",
            &["impossible-line"],
        ),
        (
            "brood: 50 %}",
            "brood: 50 %, drawn: 10 to 40 %}",
            &["impossible-line"],
        ),
        (
            "brood: 50 %}",
            "brood: 10 to 20 %, sealed: 30 %}",
            &["impossible-line"],
        ),
        (
            "brood: 50 %}",
            "brood: 50 %, foundation: yes}",
            &["impossible-line"],
        ),
        // What stands in for a line may be served by accident, too.
        (
            "brood: 50 %}",
            "brood: 100 %, drawn: 1, or: [{drawn: 1, brood: 60 %}]}",
            &["brood-uncovered"],
        ),
        ("6 combs, stores", "6.5 combs, stores", &[]),
        (
            "brood: 6 combs, stores: 5 combs}\nrecipes:\n  mating: {bees: 2000, lines: [{name: brood, brood: 50 %}",
            "brood: 6.1 combs, stores: 5 combs}\nrecipes:\n  mating: {bees: 2000, lines: [{name: brood, brood: 50 %, or: [{drawn: 1}]}",
            &["brood-by-accident", "stores-by-accident"],
        ),
        (
            "brood: 6 combs, stores: 5 combs}\nrecipes:\n  mating: {bees: 2000, lines: [{name: brood, brood: 50 %}",
            "brood: 6.1 combs, stores: 5 combs}\nrecipes:\n  mating: {bees: 2000, lines: [{name: brood, brood: 50 %, or: [{drawn: 1, no brood: yes}]}",
            &["stores-by-accident"],
        ),
        (
            "brood: 6 combs, stores: 5 combs}\nrecipes:\n  mating: {bees: 2000, lines: [{name: brood, brood: 50 %}",
            "brood: 6.1 combs, stores: 5 combs}\nrecipes:\n  mating: {bees: 2000, lines: [{name: brood, brood: 50 %, or: [{drawn: 1, stores: 0 to 20 %, no brood: yes}]}",
            &[],
        ),
        ("bees: 2000, ", "", &["brood-uncovered"]),
        ("bees: 2000, ", "bees: 0.5 frames, ", &[]),
        ("6 combs", "99999999999999999999999", &["out-of-range"]),
        ("count: 2", "count: -2", &["out-of-range"]),
        ("[48.1, 11.5]", "[48.1]", &["wrong-type"]),
        ("[48.1, 11.5]", "[48.1, 190]", &["out-of-range"]),
        ("spareframe: 2", "spareframe: 3", &["out-of-range"]),
    ];
    for (from, to, wanted) in cases {
        assert!(BASE.contains(from), "{from}");
        let text = BASE.replacen(from, to, 1);
        let found = findings(text.as_bytes());
        let mut codes: Vec<_> = found.iter().map(|f| f.code).collect();
        let mut wanted = wanted.to_vec();
        codes.sort_unstable();
        wanted.sort_unstable();
        let shown: String = found.iter().map(|f| f.render(&text, false)).collect();
        assert_eq!(codes, wanted, "{to}\n{shown}");
    }
}

#[test]
fn a_misplaced_key_is_told_where_it_belongs() {
    let text = BASE.replacen("brood: 50 %}", "brood: 50 %, feed: 1 kg}", 1);
    assert_eq!(
        findings(text.as_bytes())[0].way_out,
        "`feed` belongs to a substitute"
    );
}

/// A glance is no measurement: where a figure may mean two things, or more than there can be, it is said.
#[test]
fn counts_that_cannot_be_or_may_be_meant_otherwise_are_found() {
    let first = |counts: &str| {
        let text = BASE.replacen("brood: 6 combs, stores: 5 combs", counts, 1);
        let found = findings(text.as_bytes());
        let one = found.first();
        one.map(|f| (f.code, f.found.clone(), f.way_out.clone()))
    };
    let (code, found, way_out) = first("brood: 5 frames, stores: 5 combs").unwrap();
    assert_eq!(code, "two-meanings");
    assert!(
        found.contains("35200 cells, on 8 combs"),
        "both readings: {found}"
    );
    assert!(
        way_out.contains("`5 combs`") && way_out.contains("`5 full frames`"),
        "{way_out}"
    );
    for said in ["5 combs", "5 combs at 70 %", "5 full frames"] {
        assert_eq!(first(&format!("brood: {said}")), None, "{said}");
    }
    // Stores as brood.
    for bare in ["2", "2 frames"] {
        let (code, found, way_out) = first(&format!("brood: 5 combs, stores: {bare}")).unwrap();
        assert_eq!(code, "two-meanings");
        assert_eq!(
            found,
            "stores of 2 frames, read as full ones: 4.4 kg, on 2 combs"
        );
        assert!(way_out.contains("`2 full frames`"), "{way_out}");
    }
    for said in ["2 combs", "2 combs at 70 %", "2 full frames", "0"] {
        assert_eq!(
            first(&format!("brood: 5 combs, stores: {said}")),
            None,
            "{said}"
        );
    }
    let bees = |bees: &str| first(&format!("brood: 5 combs, bees: {bees}"));
    let (code, _, way_out) = bees("8").unwrap();
    assert_eq!(code, "two-meanings");
    assert!(way_out.contains("`8 frames`") && way_out.contains("`8 bees`"));
    for said in ["8 frames", "8 bees", "0", "100", "18_000"] {
        assert_eq!(bees(said), None, "{said}");
    }
    let code = |counts: &str| first(counts).map(|(code, _, _)| code);
    assert_eq!(
        code("all frames: 18, brood: 22 combs"),
        Some("too-many-frames")
    );
    assert_eq!(
        code("brood: 5 combs, stores: 5 combs, all frames: 10"),
        None
    );
    assert_eq!(code("brood: 9 combs"), None, "41,184 cells");
    assert_eq!(
        code("brood: 9.6 combs"),
        None,
        "43,930 cells, no more than a count may err"
    );
    assert_eq!(code("brood: 9.8 combs"), Some("more-than-laid"));
    assert_eq!(
        code("brood: 5 combs, bees: 40 frames"),
        Some("more-than-a-hive")
    );
    assert_eq!(code("brood: 5 combs, bees: 30 frames"), None);
    assert_eq!(code("stores: 60 full frames"), Some("more-than-a-hive"));
    let listed = |frames: &str| code(&format!("frames: [{frames}]"));
    assert_eq!(listed("{count: 8, brood: 80 %}"), Some("more-than-laid"));
    assert_eq!(
        listed("{count: 6, brood: 80 %, sealed: 90 %}"),
        Some("more-than-laid")
    );
    assert_eq!(
        listed("{count: 6, brood: 80 %, sealed: 20 %}"),
        Some("more-than-laid")
    );
    assert_eq!(listed("{count: 6, brood: 80 %}"), None);
}

#[test]
fn more_brood_than_is_laid_is_shown_at_the_brood() {
    let frames = "[{stores: 85 %}, {count: 8, brood: 80 %}]";
    let text = BASE.replacen(
        "brood: 6 combs, stores: 5 combs",
        &format!("frames: {frames}"),
        1,
    );
    let found = read("x.yaml", text.as_bytes()).findings;
    let laid = found.iter().find(|f| f.code == "more-than-laid").unwrap();
    let at = text.find("80 %").unwrap();
    let line = text[..at].matches('\n').count() + 1;
    let column = at - text[..at].rfind('\n').unwrap();
    assert_eq!((laid.line, laid.column), (line, column));
}
