//! One builder that compares exit code, stdout and stderr together, the examples, and one sample plan.
#![allow(dead_code, reason = "each test file uses its own part")]

use assert_cmd::Command;
use spareframe::output::{Notes, Report, build};
use spareframe_solver::*;

/// A run of the command.
pub struct Run {
    command: Command,
    code: i32,
    stdout: String,
    stderr: String,
}

/// Runs `spareframe` with these arguments; by default it must succeed in silence.
pub fn spareframe(args: &[&str]) -> Run {
    let mut command = Command::cargo_bin("spareframe").unwrap();
    command.args(args).env_remove("CLICOLOR_FORCE");
    Run {
        command,
        code: 0,
        stdout: String::new(),
        stderr: String::new(),
    }
}

impl Run {
    pub fn stdin(mut self, text: impl Into<Vec<u8>>) -> Self {
        self.command.write_stdin(text);
        self
    }
    pub fn code(mut self, code: i32) -> Self {
        self.code = code;
        self
    }
    pub fn stdout(mut self, text: &str) -> Self {
        self.stdout = text.to_owned();
        self
    }
    pub fn stderr(mut self, text: &str) -> Self {
        self.stderr = text.to_owned();
        self
    }
    /// Compares all three. A text that ends in `...` need only start so.
    pub fn check(mut self) -> String {
        let output = self.command.output().unwrap();
        let stdout = String::from_utf8(output.stdout).unwrap();
        let stderr = String::from_utf8(output.stderr).unwrap();
        let same = |wanted: &str, got: &str| match wanted.strip_suffix("...") {
            Some(start) => got.starts_with(start),
            None => wanted == got,
        };
        assert!(
            output.status.code() == Some(self.code)
                && same(&self.stdout, &stdout)
                && same(&self.stderr, &stderr),
            "code {:?}, wanted {}\n--- stdout\n{stdout}\n--- wanted\n{}\n--- stderr\n{stderr}\n--- wanted\n{}",
            output.status.code(),
            self.code,
            self.stdout,
            self.stderr
        );
        stdout
    }
    /// The same of an answer in JSON.
    pub fn json(self) -> serde_json::Value {
        serde_json::from_str(&self.stdout("{...").check()).unwrap()
    }
}

/// A folder of a test's own, gone when it ends.
pub struct Folder(tempfile::TempDir);

impl Folder {
    pub fn new() -> Self {
        Self(tempfile::tempdir().unwrap())
    }
    pub fn path(&self, name: &str) -> String {
        self.0.path().join(name).to_str().unwrap().to_owned()
    }
    /// Writes a file; its path.
    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) -> String {
        std::fs::write(self.path(name), text).unwrap();
        self.path(name)
    }
    pub fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).unwrap()
    }
    /// The names of what is in it, in order.
    pub fn names(&self) -> Vec<String> {
        let entries = std::fs::read_dir(&self.0).unwrap();
        let names = entries.map(|entry| entry.unwrap().file_name());
        let mut names: Vec<String> = names.map(|name| name.into_string().unwrap()).collect();
        names.sort();
        names
    }
}

/// The file of an example.
pub fn file(name: &str) -> String {
    format!("../../scenarios/{name}.yaml")
}

pub fn text(name: &str) -> String {
    std::fs::read_to_string(file(name)).unwrap()
}

/// The files of all examples, in the order of their names.
pub fn files() -> Vec<String> {
    let entries = std::fs::read_dir("../../scenarios").unwrap();
    let paths = entries.map(|entry| entry.unwrap().path());
    let mut files: Vec<String> = paths
        .map(|path| path.to_str().unwrap().to_owned())
        .collect();
    files.sort();
    files
}

fn frame(brood: i64, sealed: i64, stores: i64, drawn: i64, bees: i64) -> FrameState {
    FrameState {
        comb: CombId(0),
        brood: Milli(brood),
        sealed: Milli(sealed),
        stores: Milli(stores),
        drawn: Milli(drawn),
        bees: Hundreds(bees),
    }
}

fn colony(name: &str, hold: Option<&str>, site: usize) -> Colony {
    let group = |count, frame, queen| FrameGroup {
        count,
        frame,
        queen,
    };
    Colony {
        name: name.into(),
        site: SiteId(site),
        role: "production".into(),
        hold: hold.map(Into::into),
        frames: vec![
            group(4, frame(600, 400, 200, 1000, 16), false),
            group(2, frame(0, 0, 900, 1000, 6), false),
            group(1, frame(500, 200, 100, 1000, 18), true),
        ],
        extra_bees: Hundreds(40),
        crop: Some(Crop {
            honey: Grams(20_000),
            from: 5,
            to: 30,
        }),
        keep: Keep {
            brood: Milli(1700),
            bees: Hundreds(80),
            stores: Grams(2500),
            drawn: Milli(4000),
            covered: Percent(100),
        },
        draw: Draw::default(),
        rides: Percent(50),
        apart: false,
    }
}

/// Three colonies, one of them on hold, and two kinds of box.
pub fn scenario() -> Scenario {
    let ask = |brood, stores, drawn| Ask {
        brood: Span::from(brood),
        stores: Span::from(stores),
        drawn: Span::from(drawn),
        ..Ask::any(CombId(0))
    };
    let line = |name: &str, count, ask, substitutes| Line {
        name: name.into(),
        count,
        ask,
        substitutes,
    };
    let spare = |count, frame| SpareFrames { count, frame };
    Scenario {
        combs: vec![Comb {
            name: "Zander".into(),
            bees: Hundreds(20),
            cells: 6400,
            stores: Grams(2000),
        }],
        sites: vec![
            Site {
                name: "Home yard".into(),
            },
            Site {
                name: "Mating valley".into(),
            },
        ],
        distances: vec![vec![0, 12_000], vec![12_000, 0]],
        colonies: vec![
            colony("Ash 1", None, 0),
            colony("Ash 2", Some("treatment until 28 May"), 0),
            colony("Müller's Linde", None, 1),
        ],
        store_room: vec![
            spare(9, frame(0, 0, 0, 0, 0)),
            spare(3, frame(0, 0, 800, 1000, 0)),
        ],
        boxes: vec![BoxKind {
            name: "nucleus box".into(),
            count: 2,
            compartments: 2,
            site: SiteId(1),
            worth: Worth(1000),
            whole: false,
            lines: vec![
                line("brood", 1, ask(500, 0, 800), vec![]),
                line(
                    "stores",
                    1,
                    ask(0, 850, 900),
                    vec![Substitute {
                        ask: ask(0, 500, 900),
                        feed: Grams(500),
                    }],
                ),
                line("foundation", 1, Ask::foundation(CombId(0)), vec![]),
            ],
            bees: Bees(1000),
            again: spareframe_solver::Recipe::default(),
        }],
        cells: None,
        drift: Drift::default(),
        honey_cap: None,
        prices: Prices::default(),
        gives: vec![],
        colony_model: honey::ColonyModel::default(),
        done: vec![],
        standing: vec![],
    }
}

/// A plan for [`scenario`] that breaks no rule.
pub fn stocking() -> Stocking {
    let one = |n: u32, colony: usize, stores: Origin, (riding, loose): (i64, i64)| Compartment {
        kind: BoxId(0),
        box_no: n / 2,
        place: n % 2,
        frames: [
            (0, Origin::Colony(ColonyId(colony), 0)),
            (1, stores),
            (2, Origin::StoreRoom(0)),
        ]
        .map(|(line, origin)| PlacedFrames {
            line,
            origin,
            count: 1,
        })
        .into(),
        bees: vec![PlacedBees {
            colony: ColonyId(colony),
            riding: Hundreds(riding),
            loose: Hundreds(loose),
        }],
    };
    let plan = Plan {
        compartments: vec![
            one(0, 0, Origin::Colony(ColonyId(0), 1), (16, 8)),
            one(1, 0, Origin::StoreRoom(1), (16, 4)),
            one(2, 2, Origin::StoreRoom(1), (15, 0)),
        ],
        ..Plan::default()
    };
    let (goals, breaches) = check(&scenario(), &plan);
    assert_eq!(breaches, vec![]);
    Stocking {
        plan,
        goals,
        proof: Proof::Best,
    }
}

pub fn notes() -> Notes {
    Notes {
        title: Some("May round".into()),
        day: Some("2026-05-20".into()),
        ..Notes::default()
    }
}

pub fn report() -> Report {
    let stocking = stocking();
    let goals = stocking.goals;
    build(&scenario(), &notes(), &Outcome::Stocked(stocking), &goals)
}
