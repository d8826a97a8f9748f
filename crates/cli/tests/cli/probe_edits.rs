//! A change by `probe` is what the same edit of the file would be, byte for byte, for every key of
//! the format.

use crate::probe_samples::{SAMPLES, whole};
use assert_cmd::Command;
use serde_json::{Value, json};
use spareframe::probe::{Typed, question};
use spareframe::scenario::Severity;
use std::collections::BTreeSet;

fn run(args: &[&str], stdin: &str) -> (Option<i32>, String, String) {
    let mut command = Command::cargo_bin("spareframe").unwrap();
    let output = command.args(args).write_stdin(stdin).output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (
        output.status.code(),
        text(output.stdout),
        text(output.stderr),
    )
}

/// The text that stands for a value in the file: text in quotes, all else as JSON has it.
fn as_json(typed: &str) -> Value {
    if typed.starts_with(['{', '[']) {
        // Written by hand here, not by the reader under test.
        flow(&mut typed.trim())
    } else {
        Value::String(typed.to_owned())
    }
}

/// A small reader of YAML in one line, of its own: maps, lists and plain text.
fn flow(text: &mut &str) -> Value {
    let close = |open: char| if open == '{' { '}' } else { ']' };
    let blanks = |text: &mut &str| *text = text.trim_start_matches([' ', ',']);
    blanks(text);
    let Some(open) = text.chars().next().filter(|c| "{[".contains(*c)) else {
        let end = text.find([',', '}', ']']).unwrap_or(text.len());
        let (scalar, rest) = text.split_at(end);
        *text = rest;
        return Value::String(scalar.trim().to_owned());
    };
    *text = &text[1..];
    let (mut map, mut list) = (serde_json::Map::new(), Vec::new());
    loop {
        blanks(text);
        if text.starts_with(close(open)) {
            *text = &text[1..];
            break;
        }
        if open == '{' {
            let (key, rest) = text.split_once(':').unwrap();
            let key = key.to_owned();
            *text = rest;
            map.insert(key, flow(text));
        } else {
            list.push(flow(text));
        }
    }
    if open == '{' {
        Value::Object(map)
    } else {
        Value::Array(list)
    }
}

/// The scenario with one value set, missing maps and lists made on the way.
fn edited(pointer: &str, key: &str, value: Value) -> Value {
    let mut file = whole();
    let mut place = &mut file;
    for step in pointer.split('/').skip(1) {
        place = match step.parse::<usize>() {
            Ok(index) => &mut place[index],
            Err(_) if step == "or" && place["or"].is_null() => {
                place["or"] = json!([{}]);
                &mut place["or"][0]
            }
            Err(_) => &mut place[step],
        };
    }
    place[key] = value;
    file
}

fn without(pointer: &str, key: &str) -> Option<Value> {
    let mut file = whole();
    let map = file.pointer_mut(pointer)?.as_object_mut()?;
    map.shift_remove(key)?;
    Some(file)
}

fn same(file: &Value, set: &str) {
    let stock = run(&["stock", "-", "--format", "json", "-q"], &file.to_string());
    let args = [
        "probe", "-", "--set", set, "--plan", "1", "--format", "json", "-q",
    ];
    let probe = run(&args, &whole().to_string());
    let wanted = (stock.0, stock.1);
    assert!(
        matches!(wanted.0, Some(0 | 1)),
        "{set}: the sample is wrong: {}",
        stock.2
    );
    assert_eq!((probe.0, probe.1), wanted, "{set}: {}", probe.2);
}

fn typed(path: &str, key: &str, value: &str) -> String {
    match path {
        "" => format!("{key}={value}"),
        path if path.ends_with("[+]") => format!("{path}={{{key}: {value}}}"),
        path => format!("{path}.{key}={value}"),
    }
}

#[test]
fn every_key_of_the_format_can_be_set_as_in_the_file() {
    for (_, path, pointer, keys) in SAMPLES {
        for (key, value) in *keys {
            let file = edited(pointer, key, as_json(value));
            same(&file, &typed(path, key, value));
        }
    }
}

#[test]
fn every_sample_changes_the_file_and_most_change_the_answer() {
    let stock = |file: &Value| run(&["stock", "-", "--format", "json", "-q"], &file.to_string()).1;
    let today = stock(&whole());
    let (mut all, mut otherwise) = (0, 0);
    for (_, _, pointer, keys) in SAMPLES {
        for (key, value) in *keys {
            let file = edited(pointer, key, as_json(value));
            assert_ne!(file, whole(), "{pointer} {key}");
            all += 1;
            otherwise += usize::from(stock(&file) != today);
        }
    }
    assert!(otherwise * 2 > all, "{otherwise} of {all}");
}

#[test]
fn every_key_of_the_format_has_a_sample() {
    let schema = spareframe::scenario::schema();
    let mut keys = BTreeSet::new();
    let sections = schema["$defs"].as_object().unwrap().iter();
    let top = ("scenario".to_owned(), schema.clone());
    let sections = sections.map(|(name, section)| (name.clone(), section.clone()));
    for (name, section) in sections.chain([top]) {
        for key in section["properties"].as_object().unwrap().keys() {
            keys.insert((name.clone(), key.clone()));
        }
    }
    let samples: BTreeSet<(String, String)> = SAMPLES
        .iter()
        .flat_map(|(section, _, _, keys)| keys.iter().map(|(key, _)| (*section, *key)))
        .map(|(section, key)| (section.to_owned(), key.to_owned()))
        .collect();
    let missing: Vec<_> = keys.difference(&samples).collect();
    let gone: Vec<_> = samples.difference(&keys).collect();
    assert!(
        missing.is_empty() && gone.is_empty(),
        "no sample: {missing:?}, no key: {gone:?}"
    );
    assert!(keys.len() > 80);
}

/// Keys that cannot go alone, or whose only entry would go with them.
const REQUIRED: &[&str] = &[
    "spareframe",
    "sites",
    "colonies",
    "recipes",
    "boxes",
    "crop",
    "flow",
    "roles",
    "role",
    "site",
    "from",
    "to",
    "is",
    "area",
    "at",
    "lines",
    "recipe",
    "combs",
    "frames",
];

#[test]
fn every_key_that_is_there_can_be_removed_as_from_the_file() {
    let mut removed = 0;
    for (_, path, pointer, keys) in SAMPLES {
        for (key, _) in *keys {
            if REQUIRED.contains(key) || path.ends_with("[+]") {
                continue;
            }
            let Some(file) = without(pointer, key) else {
                continue;
            };
            let stock = run(&["stock", "-", "-q"], &file.to_string());
            if stock.0 == Some(2) {
                continue;
            }
            same(&file, &typed(path, key, "~"));
            removed += 1;
        }
    }
    assert!(removed >= 15, "{removed}");
}

#[test]
fn names_and_entries_can_be_added_and_removed_as_in_the_file() {
    let change = |set: &str, edit: &dyn Fn(&mut Value)| {
        let mut file = whole();
        edit(&mut file);
        same(&file, set);
    };
    let colony = json!({"site": "home", "role": "nucleus", "brood": "5 combs", "bees": "9 frames"});
    change(
        "colonies.New one={site: home, role: nucleus, brood: 5 combs, bees: 9 frames}",
        &|file| file["colonies"]["New one"] = colony.clone(),
    );
    change("colonies.\"Oak. 2\"=~", &|file| {
        file["colonies"]
            .as_object_mut()
            .unwrap()
            .shift_remove("Oak. 2");
    });
    change("store room[+]={count: 3, stores: 90 %}", &|file| {
        let list = file["store room"].as_array_mut().unwrap();
        list.push(json!({"count": 3, "stores": "90 %"}));
    });
    change("colonies.Ash.frames[+]={count: 2, brood: 90 %}", &|file| {
        let list = file["colonies"]["Ash"]["frames"].as_array_mut().unwrap();
        list.push(json!({"count": 2, "brood": "90 %"}));
    });
    change("colonies.Ash.frames[3]=~", &|file| {
        file["colonies"]["Ash"]["frames"]
            .as_array_mut()
            .unwrap()
            .remove(2);
    });
    change("store room[1]={count: 2, drawn: 0}", &|file| {
        file["store room"][0] = json!({"count": 2, "drawn": 0});
    });
    change("cells[1].for[+]=small box", &|file| {
        file["cells"][0]["for"] = json!(["mating box", "small box"]);
    });
    change("cells[1].for[1]=small box", &|file| {
        file["cells"][0]["for"] = json!(["small box"]);
    });
    change("colonies.Elm.flow[2]=2031-06-15", &|file| {
        file["colonies"]["Elm"]["flow"][1] = json!("2031-06-15");
    });
    change("sites.far.at[1]=50.2", &|file| {
        file["sites"]["far"]["at"][0] = json!(50.2);
        file["distances"][0]["is"] = json!("6.8 km");
    });
}

#[test]
fn entries_are_counted_as_in_the_file_whatever_else_is_removed() {
    let mut file = whole();
    file["store room"] = json!([]);
    let file = {
        let top = file.as_object_mut().unwrap();
        top.shift_remove("store room");
        file
    };
    let args = [
        "probe",
        "-",
        "--set",
        "store room[1]=~",
        "--set",
        "store room[2]=~",
    ];
    let mut args = args.to_vec();
    args.extend(["--plan", "1", "--format", "json", "-q"]);
    let stock = run(&["stock", "-", "--format", "json", "-q"], &file.to_string());
    let probe = run(&args, &whole().to_string());
    assert_eq!((probe.0, probe.1), (stock.0, stock.1), "{}", probe.2);
}

/// Ranges in one change, and changes beside each other, once filled gigabytes before they were counted.
#[test]
fn alternatives_beyond_a_thousand_are_found_before_they_are_made() {
    let file = whole().to_string();
    for sets in [
        vec![format!("cells={}", vec!["1..1000"; 16_000].join(","))],
        vec!["cells=1..1000".to_owned(); 100_000],
        vec!["cells=1, 2".to_owned(); 100_000],
    ] {
        let typed = Typed {
            sets,
            ..Typed::default()
        };
        let (none, found) = question("yard.yaml", file.as_bytes(), &typed);
        assert!(none.is_none());
        let wrong: Vec<_> = found
            .iter()
            .filter(|remark| remark.finding.severity == Severity::Error)
            .collect();
        let [remark] = wrong.as_slice() else {
            panic!("{} errors", wrong.len());
        };
        assert_eq!(remark.finding.code, "out-of-range");
        assert_eq!(remark.finding.expected, "at most 1000 alternatives");
    }
}
