//! What is known while colonies, recipes and boxes are read.

use super::limits::Limits;
use super::queens::Without;
use crate::reading::{Cx, Map, Names, Node, describe, word};
use s::{CombId, Hundreds, Percent};
use spareframe_rearing::Interval;
use spareframe_solver as s;

/// Names that a colony, a recipe or a box may refer to.
#[derive(Default)]
pub(crate) struct Known {
    /// The one frame size of all colonies, where they have one.
    pub usual: Option<CombId>,
    pub combs: Vec<s::Comb>,
    pub comb_names: Names,
    pub sites: Names,
    pub roles: Vec<Limits>,
    pub role_names: Names,
    /// What rides where neither colony nor role says so.
    pub rides: Percent,
    /// Version of the format.
    pub version: i64,
    pub day: Option<jiff::civil::Date>,
    /// The day on which colonies were counted that do not say otherwise.
    pub counted: Option<jiff::civil::Date>,
    /// What later days are reckoned with.
    pub model: s::honey::ColonyModel,
    pub dearth: Option<(i32, i32)>,
    /// Which colonies are without a queen, and for how long such are.
    pub without: Without,
    /// Days until foundation that hangs in a colony is drawn and bred.
    pub raised: Interval,
    /// Days from a queen taken to the next cell, and from the stocking day to the cells.
    pub without_queen: i32,
    pub cells_in: i32,
    /// There is a stocking day, readable or not.
    pub has_day: bool,
}

impl Known {
    pub fn comb(&self, cx: &mut Cx, m: &Map, default: CombId) -> CombId {
        let Some(n) = m.get("comb") else {
            return default;
        };
        let found = cx.find(n, "comb", &self.comb_names);
        found.map_or(default, CombId)
    }

    /// The frame size of what hangs in no colony and states none.
    pub fn usual(&self) -> CombId {
        self.usual.unwrap_or(CombId(0))
    }

    pub fn bees_on(&self, c: CombId) -> Hundreds {
        self.combs.get(c.0).map_or(Hundreds(1), |c| c.bees)
    }

    pub fn cells_on(&self, c: CombId) -> i64 {
        self.combs.get(c.0).map_or(0, |c| c.cells)
    }

    pub fn stores_on(&self, c: CombId) -> i64 {
        self.combs.get(c.0).map_or(0, |c| c.stores.0)
    }

    pub fn site(&self, cx: &mut Cx, m: &Map) -> s::SiteId {
        let found = match m.get("site") {
            Some(n) => cx.find(n, "site", &self.sites),
            None if self.sites.list().len() == 1 => Some(0),
            None => {
                cx.error(
                    "missing-key",
                    m.at,
                    "no `site`",
                    "a site, as there are several",
                    "add `site:`",
                );
                None
            }
        };
        s::SiteId(found.unwrap_or(0))
    }

    /// Whether a role that is none is the name of a frame size.
    fn is_comb(&self, node: &Node) -> bool {
        self.role_names.get(word(node)).is_none() && !self.comb_meant(node).is_empty()
    }

    /// The frame sizes that a word may mean, as `Dadant`.
    fn comb_meant(&self, node: &Node) -> String {
        let name = word(node).to_lowercase();
        let mut combs = self.combs.iter().map(|c| c.name.as_str());
        let begins = |comb: &&str| name.len() > 2 && comb.to_lowercase().starts_with(&name);
        combs.find(begins).unwrap_or_default().to_owned()
    }

    pub(super) fn limits(&self, cx: &mut Cx, m: &Map) -> (String, Limits) {
        let name = m.get("role").map_or("production", word);
        let role = match m.get("role") {
            Some(n) if self.is_comb(n) => {
                cx.error(
                    "unknown-name",
                    n.at,
                    format!("{} as a role", describe(n)),
                    "what the colony is kept for, as `production` or `nucleus`",
                    format!(
                        "the frame size is `comb`: write `comb: {}`",
                        self.comb_meant(n)
                    ),
                );
                None
            }
            Some(n) => cx.find(n, "role", &self.role_names),
            None => self.role_names.get(name),
        };
        let limits = role.and_then(|id| self.roles.get(id).copied());
        (name.to_owned(), limits.unwrap_or_default())
    }
}
