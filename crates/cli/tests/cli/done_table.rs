//! `onward --done`: the table of a plan with its numbers as they became is what the same thing is in `done`.

use crate::support::{Folder, file, files, spareframe, text};
use serde_json::{Map, Value, json};

/// Figures at random, the same from the same seed (a linear congruence).
struct Rng(u64);

impl Rng {
    fn below(&mut self, most: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}

/// The rows of the table of a scenario's plan.
fn rows(scenario: &str) -> Vec<Vec<String>> {
    let run = spareframe(&["share", scenario, "--format", "csv", "-q"]);
    let table = run.stdout("row,...").check();
    let reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(table.as_bytes());
    let rows = reader.into_records().map(|row| row.unwrap());
    rows.map(|row| row.iter().map(ToOwned::to_owned).collect())
        .collect()
}

fn table(rows: &[Vec<String>]) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    rows.iter()
        .for_each(|row| writer.write_record(row).unwrap());
    String::from_utf8(writer.into_inner().unwrap()).unwrap()
}

fn column(rows: &[Vec<String>], name: &str) -> usize {
    let named = |cell: &String| cell.split(" (").next() == Some(name);
    rows[0].iter().position(named).unwrap()
}

/// Where, frames, bees, and whether the next cell went in.
type Record = (Value, Vec<Value>, Map<String, Value>, bool);

/// What the rows say, as `done` has it.
fn records(rows: &[Vec<String>]) -> Vec<Value> {
    let get = |row: &Vec<String>, name: &str| row[column(rows, name)].clone();
    let number = |row: &Vec<String>, name: &str| get(row, name).parse::<i64>().ok();
    let mut all: Vec<Record> = Vec::new();
    for row in &rows[1..] {
        let kind = get(row, "row");
        if !matches!(&*kind, "frames" | "bees" | "next cell") {
            continue;
        }
        let place = json!({
            "box": get(row, "box kind"),
            "number": number(row, "box number"),
            "compartment": number(row, "compartment"),
        });
        let known = all.iter().position(|(other, ..)| *other == place);
        let at = known.unwrap_or_else(|| {
            all.push((place, Vec::new(), Map::new(), false));
            all.len() - 1
        });
        let (_, frames, bees, cell) = &mut all[at];
        let count = number(row, "frames").or(number(row, "bees before drift"));
        match (&*kind, count) {
            ("next cell", _) => *cell = true,
            (_, Some(0)) => {}
            ("frames", _) => {
                let mut taken = json!({"count": count, "line": get(row, "line")});
                match number(row, "store room entry") {
                    Some(entry) => taken["store room"] = entry.into(),
                    None => {
                        taken["colony"] = get(row, "from colony").into();
                        taken["group"] = number(row, "frame group").into();
                    }
                }
                frames.push(taken);
            }
            _ => {
                bees.insert(get(row, "from colony"), count.into());
            }
        }
    }
    let records = all
        .into_iter()
        .filter_map(|(mut place, frames, bees, cell)| {
            if frames.is_empty() && bees.is_empty() && !cell {
                return None;
            }
            if !frames.is_empty() {
                place["frames"] = frames.into();
            }
            if !bees.is_empty() {
                place["bees"] = bees.into();
            }
            Some(place)
        });
    records.collect()
}

/// The scenarios that have a day, with the rows of their plans.
fn days() -> impl Iterator<Item = (String, Vec<Vec<String>>)> {
    let dated = |file: &String| std::fs::read_to_string(file).unwrap().contains("\nday: ");
    files().into_iter().filter(dated).map(|file| {
        let rows = rows(&file);
        (file, rows)
    })
}

#[test]
fn a_table_as_it_was_handed_on_is_the_plan_carried_out() {
    let mut seen = 0;
    for (file, rows) in days() {
        let folder = Folder::new();
        let plan = folder.path("plan.yaml");
        spareframe(&["share", &file, "--out", &plan, "-q"]).check();
        let done = folder.write("frames.csv", table(&rows));
        let planned = spareframe(&["onward", &file, "--plan", &plan, "-q"])
            .stdout("...")
            .check();
        spareframe(&["onward", &file, "--done", &done, "-q"])
            .stdout(&planned)
            .check();
        seen += usize::from(rows.iter().any(|row| row[0] == "gap"));
    }
    assert!(seen > 1, "{seen} with gaps that are filled");
}

#[test]
fn numbers_that_were_changed_are_what_done_says() {
    let rng = &mut Rng(7);
    let (mut same, mut wrong) = (0, 0);
    for (file, plan) in days() {
        let text = std::fs::read_to_string(&file).unwrap();
        // Records know no queens, and no numbers of frames that were counted at a glance.
        let queens = plan.iter().any(|row| row[0] == "queen");
        if text.contains("\ndone:") || text.contains(": 6 combs") || queens {
            continue;
        }
        let folder = Folder::new();
        for case in 0..6 {
            let [frames, bees] = ["frames", "bees before drift"].map(|name| column(&plan, name));
            let mut rows = plan.clone();
            // Gaps are in no record; a next cell stays with what was added.
            rows.retain(|row| row[0] != "gap");
            for row in rows.iter_mut().skip(1).filter(|_| case > 0) {
                if let Ok(count) = row[frames].parse::<u64>() {
                    // One more than planned is too many for most lines.
                    let more = u64::from(case == 5 && rng.below(6) == 0);
                    row[frames] = (rng.below(count + 1) + more).to_string();
                }
                if let Ok(count) = row[bees].parse::<u64>() {
                    row[bees] = (100 * rng.below(count / 100 + 2)).to_string();
                }
            }
            let next_cells: Vec<_> = rows
                .iter()
                .filter(|row| row[0] == "next cell")
                .cloned()
                .collect();
            if case > 2 {
                let gone =
                    |row: &[String], rng: &mut Rng| rng.below(4) == 0 && row[0] != "next cell";
                let mut first = true;
                rows.retain(|row| std::mem::take(&mut first) || !gone(row, rng));
            }
            assert!(next_cells.iter().all(|row| rows.contains(row)));
            if case > 3 {
                rows[1..].reverse();
            }
            let done = folder.write("frames.csv", table(&rows));
            let records = Value::from(records(&rows));
            let recorded = folder.write("done.yaml", format!("{text}done: {records}\n"));
            let mut wanted = std::process::Command::new(assert_cmd::cargo::cargo_bin("spareframe"));
            let wanted = wanted.args(["onward", &recorded, "-q"]).output().unwrap();
            if wanted.status.success() {
                let wanted = String::from_utf8(wanted.stdout).unwrap();
                // A day with nothing done keeps its `done`.
                let wanted = wanted.replace("done: []\n", "");
                spareframe(&["onward", &file, "--done", &done, "-q"])
                    .stdout(&wanted)
                    .check();
                same += 1;
            } else {
                spareframe(&["onward", &file, "--done", &done, "-q"])
                    .code(2)
                    .stderr(&format!("{done}:..."))
                    .check();
                wrong += 1;
            }
        }
    }
    assert!(same > 20 && wrong > 2, "{same} alike, {wrong} refused");
}

#[test]
fn a_next_cell_or_a_queen_without_a_row_was_not_given() {
    let folder = Folder::new();
    let mut all = rows(&file("second-round"));
    let done = folder.write("frames.csv", table(&all));
    let whole = spareframe(&["onward", &file("second-round"), "--done", &done, "-q"])
        .stdout("...")
        .check();
    assert_eq!(
        whole.matches("queen: none").count() + 2,
        text("second-round").matches("queen: none").count()
    );
    // One gets the cell alone, and that was left.
    all.retain(|row| !(row[0] == "next cell" && row[3] == "2"));
    let done = folder.write("frames.csv", table(&all));
    let less = spareframe(&["onward", &file("second-round"), "--done", &done, "-q"])
        .stdout("...")
        .check();
    assert_eq!(
        less.matches("queen: none").count(),
        whole.matches("queen: none").count() + 1
    );
    // A queen into a colony.
    let mut all = rows(&file("queens-out"));
    let to = column(&all, "to colony");
    let before = all.len();
    all.retain(|row| row[0] != "queen" || row[to].is_empty());
    assert!(all.len() < before);
    let done = folder.write("frames.csv", table(&all));
    let next = spareframe(&["onward", &file("queens-out"), "--done", &done, "-q"])
        .stdout("...")
        .check();
    let wanted = "requeen:\n  - {colony: Linden, prepared: 2031-06-28}\n  - {colony: Hazel, by: 2031-07-10}\n";
    assert!(
        text("queens-out").contains(wanted) && next.contains(wanted),
        "{next}"
    );
}

#[test]
fn each_fault_has_its_row_and_column_and_a_way_out() {
    let folder = Folder::new();
    let all = rows(&file("half-done"));
    let at = |name| column(&all, name);
    let wrong = |edit: &dyn Fn(&mut Vec<Vec<String>>), said: &[&str]| {
        let mut rows = all.clone();
        edit(&mut rows);
        let done = folder.write("frames.csv", table(&rows));
        let mut command = std::process::Command::new(assert_cmd::cargo::cargo_bin("spareframe"));
        let run = command
            .args(["onward", &file("half-done"), "--done", &done])
            .output()
            .unwrap();
        let text = String::from_utf8(run.stderr).unwrap();
        assert_eq!(run.status.code(), Some(2), "{text}");
        assert!(run.stdout.is_empty());
        for said in said {
            assert!(text.contains(said), "{said}\n{text}");
        }
        assert_eq!(
            text.matches("= help:").count(),
            text.matches("error[").count() + text.matches("warning[").count()
        );
    };
    let set = |row: usize, name: &'static str, to: &'static str| {
        let at = column(&all, name);
        move |rows: &mut Vec<Vec<String>>| rows[row][at] = to.to_owned()
    };
    wrong(
        &set(1, "frames", "two"),
        &["found `two` in row 2, column `frames`", "frames.csv:2:"],
    );
    wrong(
        &set(1, "frames", ""),
        &["nothing in row 2, column `frames`"],
    );
    wrong(
        &set(2, "from colony", "88"),
        &["in row 3, column `from colony`"],
    );
    wrong(&set(2, "frames", "77"), &["77 frames taken of", "in row 3"]);
    wrong(
        &set(2, "bees before drift", "700"),
        &["a number that does not belong to row 3"],
    );
    wrong(
        &set(5, "bees before drift", "many"),
        &["in row 6, column `bees before drift`"],
    );
    wrong(
        &set(5, "row", "bee"),
        &["`bee` in row 6, column `row`", "frames, bees, next cell"],
    );
    wrong(
        &set(1, "box number", "66"),
        &["`number` `66` in row 2, column `box number`"],
    );
    wrong(
        &set(1, "line", "brod"),
        &["in row 2, column `line`", "did you mean `brood`?"],
    );
    wrong(
        &set(1, "day", "2031-05-19"),
        &[
            "`2031-05-19` in row 2, column `day`",
            "2031-05-20, the day of the scenario",
        ],
    );
    // All at once.
    wrong(
        &|rows| {
            rows[1][at("frames")] = "two".to_owned();
            rows[5][at("row")] = "bee".to_owned();
        },
        &["row 2", "row 6"],
    );
    // What is recorded in the file must be in the table.
    wrong(
        &|rows| rows.retain(|row| row[at("box number")] != "2"),
        &[
            "no row of mating box 2, compartment 1",
            "with 0 for what was not done",
        ],
    );
    wrong(
        &|rows| rows.truncate(0),
        &[
            "no columns of a plan's table",
            "share SCENARIO --format csv",
        ],
    );
    wrong(
        &|rows| rows[0][at("frames")] = "frame".to_owned(),
        &[
            "warning[unknown-key]: found column `frame`",
            "did you mean `frames`?",
        ],
    );
    // Not beside a plan.
    spareframe(&["onward", &file("half-done"), "--plan", "a", "--done", "b"])
        .code(2)
        .stderr("error: the argument '--plan <PLAN>' cannot be used with '--done <TABLE>'\n...")
        .check();
}
