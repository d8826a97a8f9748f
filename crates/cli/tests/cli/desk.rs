//! `desk`: what is tried is what `probe` and `stock --near` say; saving keeps comments and loses nothing, whatever comes
//! between.

use serde_json::{Value, json};
use std::fs;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpStream;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

fn scenario(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../scenarios")
        .join(name)
}

fn program() -> Command {
    Command::new(env!("CARGO_BIN_EXE_spareframe"))
}

/// A copy of a scenario on the desk.
struct Desk {
    child: Child,
    folder: tempfile::TempDir,
    file: PathBuf,
    host: String,
    token: String,
}

impl Drop for Desk {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Desk {
    fn of(name: &str) -> Self {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("yard.yaml");
        fs::copy(scenario(name), &file).unwrap();
        Self::at(folder, file)
    }

    fn at(folder: tempfile::TempDir, file: PathBuf) -> Self {
        let mut command = program();
        command
            .arg("desk")
            .arg(&file)
            .args(["--no-open", "--port", "0"]);
        let mut child = command.stderr(Stdio::piped()).spawn().unwrap();
        let mut lines = BufReader::new(child.stderr.take().unwrap()).lines();
        let link = lines.find_map(|line| Some(line.unwrap().split_once("http://")?.1.to_owned()));
        let link = link.unwrap();
        // What it says later goes nowhere.
        std::thread::spawn(move || lines.for_each(drop));
        let (host, token) = link.trim_end_matches('/').split_once('/').unwrap();
        let (host, token) = (host.to_owned(), token.to_owned());
        Self {
            child,
            folder,
            file,
            host,
            token,
        }
    }

    fn send(&self, question: &str, body: &Value) -> std::io::Result<Value> {
        let body = body.to_string();
        let mut stream = TcpStream::connect(&self.host)?;
        stream.set_read_timeout(Some(Duration::from_secs(60)))?;
        write!(
            stream,
            "POST /{}/{question} HTTP/1.1\r\nHost: {h}\r\nOrigin: http://{h}\r\nContent-Type: application/json\r\n\
             Connection: close\r\nContent-Length: {}\r\n\r\n{body}",
            self.token,
            body.len(),
            h = self.host
        )?;
        let mut answer = String::new();
        stream.read_to_string(&mut answer)?;
        let (_, body) = answer.split_once("\r\n\r\n").unwrap_or_default();
        Ok(serde_json::from_str(body).unwrap_or(Value::Null))
    }

    fn ask(&self, question: &str, body: &Value) -> Value {
        self.send(question, body).unwrap()
    }

    /// The plan of what is tried, at rest.
    fn plan(&self, number: u64, sets: &[&str], near: Option<&str>) -> Value {
        let body =
            json!({ "page": "test", "number": number, "state": { "sets": sets, "near": near } });
        assert_eq!(self.ask("try", &body)["number"], number);
        let proved = self.ask("prove", &body);
        assert_eq!(proved["proved"], true, "{proved}");
        let plan = self.ask("plan", &body);
        serde_json::from_str(plan["plan"].as_str().unwrap()).unwrap()
    }
}

fn said(command: &mut Command) -> Value {
    let output = command.args(["--format", "json"]).output().unwrap();
    serde_json::from_slice(&output.stdout).unwrap()
}

fn same(tried: &Value, said: &Value, what: &str) {
    for key in ["day", "compartments"] {
        assert_eq!(tried[key], said[key], "{what}: {key}");
    }
    assert_eq!(
        tried["begun"].as_array().map_or(0, Vec::len),
        said["begun"].as_array().map_or(0, Vec::len),
        "{what}"
    );
}

#[test]
fn what_is_tried_is_what_probe_says() {
    let tries: [(&str, &[&[&str]]); 4] = [
        (
            "first-round.yaml",
            &[
                &[],
                &[
                    "colonies.6.frames[1].count=5",
                    "colonies.7.frames[1].count=6",
                    "colonies.8.frames[4].count=0",
                ],
                &[
                    "colonies.9.hold=left alone today",
                    "boxes.mating box.count=8",
                    "cells=16",
                ],
                &[
                    "colonies.6.keep.brood=2 frames",
                    "colonies.1.draw.honey=0.5 kg",
                    "settings.honey cap=1.5 kg",
                ],
                &["day=2031-05-22", "roles.nucleus.draw.bees=30 %"],
            ],
        ),
        ("as-found.yaml", &[&["colonies.6.frames[1].brood=50 %"]]),
        ("half-done.yaml", &[&["colonies.7.frames[1].count=4"]]),
        ("queen-round.yaml", &[&[]]),
    ];
    for (name, all) in tries {
        let desk = Desk::of(name);
        for (number, sets) in (1..).zip(all) {
            let mut probe = program();
            probe
                .arg(if sets.is_empty() { "stock" } else { "probe" })
                .arg(scenario(name));
            probe.args(sets.iter().flat_map(|set| ["--set", set]));
            if !sets.is_empty() {
                probe.args(["--plan", "1"]);
            }
            same(
                &desk.plan(number, sets, None),
                &said(&mut probe),
                &format!("{name} {sets:?}"),
            );
        }
    }
}

#[test]
fn near_to_what_is_loaded_it_is_what_stock_near_says() {
    let desk = Desk::of("first-round.yaml");
    let loaded = desk.plan(1, &[], None).to_string();
    let found = ["colonies.6.frames[1].count=5"];
    let tried = desk.plan(2, &found, Some(&loaded));
    let text = fs::read_to_string(&desk.file).unwrap();
    let changed = text.replace("{count: 6, place: upper box", "{count: 5, place: upper box");
    assert_ne!(text, changed);
    let (file, plan) = (
        desk.folder.path().join("found.yaml"),
        desk.folder.path().join("plan.json"),
    );
    fs::write(&file, changed).unwrap();
    fs::write(&plan, loaded).unwrap();
    let stock = said(program().arg("stock").arg(&file).arg("--near").arg(&plan));
    same(&tried, &stock, "near");
    // A compartment and a colony that are finished stay so.
    let state = json!({ "sets": found, "near": fs::read_to_string(&plan).unwrap() });
    let done = desk.ask(
        "finish",
        &json!({ "state": state, "finish": { "compartment": 1 } }),
    );
    let sets: Vec<&str> = done["sets"]
        .as_array()
        .unwrap()
        .iter()
        .map(|set| set.as_str().unwrap())
        .collect();
    let all: Vec<&str> = found.iter().copied().chain(sets).collect();
    let near = fs::read_to_string(&plan).unwrap();
    let after = desk.plan(3, &all, Some(&near));
    assert_eq!(after["compartments"][1]["done"], "finished", "{after}");
    assert_eq!(
        after["compartments"][1]["frames"].as_array().unwrap().len(),
        tried["compartments"][1]["frames"].as_array().unwrap().len()
    );
    let state = json!({ "sets": all, "near": near });
    let done = desk.ask(
        "finish",
        &json!({ "state": state, "finish": { "colony": 6 } }),
    );
    let sets: Vec<String> = done["sets"]
        .as_array()
        .unwrap()
        .iter()
        .map(|set| set.as_str().unwrap().to_owned())
        .collect();
    assert!(
        sets.iter().any(|set| set == "colonies.7.draw.bees=0"),
        "{sets:?}"
    );
    let all: Vec<&str> = found
        .iter()
        .copied()
        .chain(sets.iter().map(String::as_str))
        .collect();
    let after = desk.plan(4, &all, Some(&near));
    let bees = |plan: &Value| {
        plan["compartments"]
            .to_string()
            .matches("\"colony\":\"7\"")
            .count()
    };
    assert_eq!(bees(&after), bees(&tried), "{after}");
}

#[test]
fn what_is_wrong_is_said_and_a_newer_change_calls_off_an_older_one() {
    let desk = Desk::of("first-round.yaml");
    let body = |number: u64, set: &str| json!({ "page": "a", "number": number, "state": { "sets": [set] } });
    let wrong = desk.ask("try", &body(1, "cels=3"));
    assert!(
        wrong["wrong"][0]
            .as_str()
            .unwrap()
            .contains("did you mean `cells`?"),
        "{wrong}"
    );
    let several = desk.ask("try", &body(2, "cells=3,4"));
    assert!(several["wrong"].is_array(), "{several}");
    assert_eq!(desk.ask("try", &body(3, "cells=4"))["number"], 3);
    for late in ["try", "prove", "sheets", "rest"] {
        assert_eq!(desk.ask(late, &body(2, "cells=5"))["stale"], true, "{late}");
    }
    for broken in [json!({ "state": 3 }), json!({ "sets": [] }), json!(null)] {
        assert!(desk.ask("try", &broken)["wrong"].is_array(), "{broken}");
    }
}

#[test]
fn saving_keeps_comments_and_is_refused_where_the_file_has_changed() {
    let desk = Desk::of("first-round.yaml");
    let before = fs::read_to_string(&desk.file).unwrap();
    let sets = [
        "cells=11",
        "colonies.6.frames[1].count=5",
        "colonies.9.hold=left alone today",
        "colonies.6.draw.frames=0",
        "colonies.6.draw.bees=0",
    ];
    let state = json!({ "sets": sets });
    let lines = desk.ask("lines", &json!({ "state": state }));
    let file = lines["file"].clone();
    assert_eq!(fs::read_to_string(&desk.file).unwrap(), before);
    assert_eq!(
        desk.ask("save", &json!({ "state": state, "file": "another" }))["wrong"]
            .as_array()
            .unwrap()
            .len(),
        1
    );
    assert_eq!(fs::read_to_string(&desk.file).unwrap(), before);
    // Another hand was quicker.
    fs::write(&desk.file, format!("{before}# by another hand\n")).unwrap();
    assert!(desk.ask("save", &json!({ "state": state, "file": file }))["wrong"].is_array());
    assert!(
        fs::read_to_string(&desk.file)
            .unwrap()
            .ends_with("# by another hand\n")
    );
    assert_eq!(
        desk.ask("try", &json!({ "page": "a", "number": 1, "state": state }))["outside"],
        true
    );
    // A file that is none is not taken.
    fs::write(&desk.file, "spareframe: 2\ncolonies: [").unwrap();
    assert!(desk.ask("load", &json!({}))["wrong"].is_array());
    fs::remove_file(&desk.file).unwrap();
    assert!(desk.ask("load", &json!({}))["wrong"].is_array());
    fs::write(&desk.file, &before).unwrap();
    assert_eq!(desk.ask("load", &json!({}))["saved"], false);
    let saved = desk.ask("save", &json!({ "state": state, "file": file }));
    assert_eq!(
        saved["stays"],
        json!(["colonies.6.draw.frames=0", "colonies.6.draw.bees=0"]),
        "{saved}"
    );
    let after = fs::read_to_string(&desk.file).unwrap();
    let comments = |text: &str| text.matches('#').count();
    assert_eq!(comments(&after), comments(&before));
    let changed: Vec<&str> = after
        .lines()
        .filter(|line| !before.lines().any(|old| old == *line))
        .collect();
    assert_eq!(
        changed,
        [
            "      - {count: 5, place: upper box, brood: 65 %, sealed: 60 %, stores: 15 %}",
            "    hold: left alone today",
            "cells: 11",
        ]
    );
    let names: Vec<String> = fs::read_dir(desk.folder.path())
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .collect();
    assert_eq!(names, ["yard.yaml"], "nothing else is written");
}

#[test]
fn killed_while_it_saves_the_file_is_the_old_one_or_the_new_one() {
    let mut news = 0;
    // From half a millisecond to over a second, each wait half as long again: on a machine at rest and on a busy one some
    // kills come before, some within and some after.
    let mut wait = Duration::from_micros(500);
    for round in 0..20 {
        wait = wait * 3 / 2;
        let desk = Desk::of("first-round.yaml");
        let before = fs::read(&desk.file).unwrap();
        let state = json!({ "sets": ["cells=11"] });
        let file = desk.ask("lines", &json!({ "state": state }))["file"].clone();
        let pid = desk.child.id().to_string();
        let killer = std::thread::spawn(move || {
            std::thread::sleep(wait);
            Command::new("kill").args(["-9", &pid]).status().unwrap();
        });
        let _ = desk.send("save", &json!({ "state": state, "file": file }));
        killer.join().unwrap();
        let after = fs::read(&desk.file).unwrap();
        let new = String::from_utf8(before.clone())
            .unwrap()
            .replace("cells: 12", "cells: 11");
        assert!(
            after == before || after == new.as_bytes(),
            "round {round}: half written"
        );
        news += usize::from(after != before);
    }
    assert!(news > 0, "never saved");
}

#[test]
fn it_needs_a_file_that_can_be_read() {
    for (file, why) in [
        ("-", "reads none from stdin"),
        ("no-such.yaml", "cannot read"),
    ] {
        let output = program()
            .args(["desk", file, "--no-open"])
            .output()
            .unwrap();
        assert_eq!(output.status.code(), Some(2), "{file}");
        assert!(
            String::from_utf8_lossy(&output.stderr).contains(why),
            "{file}"
        );
    }
}

#[test]
fn of_a_season_the_desk_says_that_it_plans_today_alone() {
    let desk = Desk::of("season.yaml");
    let body = json!({ "page": "test", "number": 1, "state": { "sets": [], "near": null } });
    let shown = desk.ask("try", &body).to_string();
    assert!(shown.contains("the desk plans today alone"), "{shown}");
    let none = Desk::of("first-round.yaml");
    assert!(!none.ask("try", &body).to_string().contains("season"));
}
