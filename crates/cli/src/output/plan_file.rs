//! Reads a plan back, also after hand edits: names become indices, and every name that the
//! scenario does not have is reported at its place.

use serde::Deserialize;
use serde::de::IgnoredAny;
use serde_yaml::{Location, Spanned};
use spareframe_solver::{
    Bees, BoxId, ColonyId, Compartment, Origin, PlacedBees, PlacedFrames, Plan, Scenario,
};

/// Something in the plan file that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Line, from 1; 0 where unknown.
    pub line: u64,
    /// Column, from 1; 0 where unknown.
    pub column: u64,
    /// What is wrong and what is expected.
    pub text: String,
}

/// Figures that the file states and that can be compared with the check.
#[derive(Debug, Clone, Copy, PartialEq, Default, Deserialize)]
pub struct Stated {
    /// Worth.
    pub worth: Option<f64>,
    /// Honey given up, charged.
    pub honey_given_up_charged_estimate_kg: Option<f64>,
    /// Colonies opened.
    pub colonies_opened: Option<u32>,
    /// Bees shaken.
    pub bees_shaken: Option<i64>,
}

#[derive(Deserialize)]
struct Doc {
    spareframe_plan: Spanned<u32>,
    #[serde(default)]
    headline: Option<Stated>,
    compartments: Vec<CompartmentDoc>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CompartmentDoc {
    box_kind: Spanned<String>,
    box_no: Spanned<u32>,
    compartment: Spanned<u32>,
    frames: Vec<FramesDoc>,
    bees: Vec<BeesDoc>,
    #[serde(default, rename = "site")]
    _site: Option<IgnoredAny>,
    #[serde(default, rename = "bees_staying")]
    _staying: Option<IgnoredAny>,
    #[serde(default, rename = "bees_needed")]
    _needed: Option<IgnoredAny>,
    #[serde(default, rename = "bees_to_cover_brood")]
    _cover: Option<IgnoredAny>,
    #[serde(default, rename = "feed_kg")]
    _feed: Option<IgnoredAny>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FramesDoc {
    line: Spanned<String>,
    frames: u32,
    colony: Option<Spanned<String>>,
    frame_group: Option<Spanned<usize>>,
    store_room_entry: Option<Spanned<usize>>,
    #[serde(default, rename = "each_holds")]
    _holds: Option<IgnoredAny>,
    #[serde(default, rename = "substitute")]
    _substitute: Option<IgnoredAny>,
    #[serde(default, rename = "feed_kg")]
    _feed: Option<IgnoredAny>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct BeesDoc {
    colony: Spanned<String>,
    bees: i64,
}

/// Reads a plan in YAML or JSON against its scenario.
///
/// # Errors
/// Every name and number that the scenario does not have, at once; a fault of form alone.
pub fn read_plan(scenario: &Scenario, bytes: &[u8]) -> Result<(Plan, Stated), Vec<Problem>> {
    let doc: Doc = serde_yaml::from_slice(bytes).map_err(|e| vec![form(&e)])?;
    let mut reader = Reader {
        scenario,
        problems: Vec::new(),
    };
    if doc.spareframe_plan.value != super::FORMAT_VERSION {
        reader.problem(
            doc.spareframe_plan.referenced,
            format!(
                "plan format {}, expected {}",
                doc.spareframe_plan.value,
                super::FORMAT_VERSION
            ),
        );
    }
    let mut compartments: Vec<_> = doc
        .compartments
        .iter()
        .filter_map(|c| reader.compartment(c))
        .collect();
    if !reader.problems.is_empty() {
        return Err(reader.problems);
    }
    compartments.sort_by_key(|c| (c.kind, c.box_no, c.place));
    Ok((Plan { compartments }, doc.headline.unwrap_or_default()))
}

fn form(error: &serde_yaml::Error) -> Problem {
    let (line, column) = error.location().map_or((0, 0), |l| (l.line(), l.column()));
    let text = error.without_snippet().to_string();
    Problem {
        line,
        column,
        text: text.lines().next().unwrap_or_default().to_owned(),
    }
}

struct Reader<'a> {
    scenario: &'a Scenario,
    problems: Vec<Problem>,
}

impl Reader<'_> {
    fn problem(&mut self, at: Location, text: String) {
        self.problems.push(Problem {
            line: at.line(),
            column: at.column(),
            text,
        });
    }

    fn name(&mut self, what: &str, name: &Spanned<String>, known: &[&str]) -> Option<usize> {
        let found = known.iter().position(|k| *k == name.value);
        if found.is_none() {
            let near = known
                .iter()
                .map(|k| (strsim::damerau_levenshtein(k, &name.value), *k))
                .min()
                .filter(|(distance, k)| *distance <= 1 + k.chars().count() / 3);
            let hint = near.map_or(String::new(), |(_, k)| format!("; did you mean \"{k}\"?"));
            self.problem(
                name.referenced,
                format!("no {what} is named \"{}\"{hint}", name.value),
            );
        }
        found
    }

    fn number(&mut self, what: &str, number: &Spanned<usize>, most: usize) -> Option<usize> {
        if (1..=most).contains(&number.value) {
            return Some(number.value - 1);
        }
        self.problem(
            number.referenced,
            format!(
                "{what} {} does not exist, expected 1 to {most}",
                number.value
            ),
        );
        None
    }

    fn index(&mut self, what: &str, number: &Spanned<u32>) -> Option<u32> {
        let index = number.value.checked_sub(1);
        if index.is_none() {
            self.problem(number.referenced, format!("{what} 0: these count from 1"));
        }
        index
    }

    fn compartment(&mut self, doc: &CompartmentDoc) -> Option<Compartment> {
        let scenario = self.scenario;
        let kinds: Vec<_> = scenario.boxes.iter().map(|b| b.name.as_str()).collect();
        let kind = self.name("kind of box", &doc.box_kind, &kinds);
        let box_no = self.index("box_no", &doc.box_no);
        let place = self.index("compartment", &doc.compartment);
        let lines: Option<Vec<_>> = kind
            .and_then(|k| scenario.boxes.get(k))
            .map(|k| k.lines.iter().map(|l| l.name.as_str()).collect());
        let frames: Vec<_> = doc
            .frames
            .iter()
            .filter_map(|f| self.frames(f, lines.as_deref()))
            .collect();
        let colonies: Vec<_> = scenario.colonies.iter().map(|c| c.name.as_str()).collect();
        let mut bees = Vec::new();
        for b in &doc.bees {
            if let Some(id) = self.name("colony", &b.colony, &colonies) {
                bees.push(PlacedBees {
                    colony: ColonyId(id),
                    bees: Bees(b.bees),
                });
            }
        }
        Some(Compartment {
            kind: BoxId(kind?),
            box_no: box_no?,
            place: place?,
            frames,
            bees,
        })
    }

    fn frames(&mut self, doc: &FramesDoc, lines: Option<&[&str]>) -> Option<PlacedFrames> {
        let scenario = self.scenario;
        let line = lines.and_then(|known| self.name("recipe line", &doc.line, known));
        let origin = match (&doc.colony, &doc.frame_group, &doc.store_room_entry) {
            (Some(colony), Some(group), None) => {
                let names: Vec<_> = scenario.colonies.iter().map(|c| c.name.as_str()).collect();
                let id = self.name("colony", colony, &names);
                let groups = id
                    .and_then(|i| scenario.colonies.get(i))
                    .map(|c| c.frames.len());
                let group = groups.and_then(|n| self.number("frame_group", group, n));
                id.zip(group)
                    .map(|(id, group)| Origin::Colony(ColonyId(id), group))
            }
            (None, None, Some(entry)) => self
                .number("store_room_entry", entry, scenario.store_room.len())
                .map(Origin::StoreRoom),
            _ => {
                self.problem(
                    doc.line.referenced,
                    "frames need colony and frame_group, or store_room_entry alone".to_owned(),
                );
                None
            }
        };
        Some(PlacedFrames {
            line: line?,
            origin: origin?,
            count: doc.frames,
        })
    }
}
