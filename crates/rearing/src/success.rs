//! How many queens to expect.

use crate::timeline::Given;

/// Published shares of queens that came to lay, in thousandths.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Success {
    /// Lowest share.
    pub least: u32,
    /// Highest share.
    pub most: u32,
    /// Where they are from.
    pub source: &'static str,
}

/// Published success: ripe cells 70 % (Perez-Sato and Ratnieks 2006) to 93 % (Akyol et al. 2008, the
/// heaviest queens); virgin queens 55 % at 3 to 4 days and 65 % at 0 to 1 day (Perez-Sato and
/// Ratnieks 2006). All seen. Mated queens that are accepted: a choice.
#[must_use]
pub const fn success(given: Given) -> Success {
    match given {
        Given::RipeCells => Success {
            least: 700,
            most: 930,
            source: "Perez-Sato and Ratnieks 2006, Apidologie 37:571; Akyol et al. 2008, J. Kansas \
                     Ent. Soc. 81:92",
        },
        Given::VirginQueens => Success {
            least: 550,
            most: 650,
            source: "Perez-Sato and Ratnieks 2006, Apidologie 37:571",
        },
        Given::MatedQueens => Success {
            source: "a choice: nuclei take mated queens more readily than full colonies, of which 49 to 81% \
                     did (Invernizzi et al., Uruguay)",
            ..acceptance(Introduction::IntoNucleus)
        },
    }
}

/// How a mated queen is introduced.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Introduction {
    /// A full colony whose old queen is out.
    IntoColony,
    /// A nucleus.
    IntoNucleus,
    /// A full colony, together with the nucleus in which she lays.
    ByUniting,
}

/// Shares of mated queens that are accepted: into full colonies 49 to 81 % (Invernizzi et al., Uruguay, four methods,
/// seen); into nuclei and by uniting a choice.
#[must_use]
pub const fn acceptance(how: Introduction) -> Success {
    match how {
        Introduction::IntoColony => Success {
            least: 490,
            most: 810,
            source: "Invernizzi et al., Uruguay, four methods (seen)",
        },
        Introduction::IntoNucleus => Success {
            least: 750,
            most: 950,
            source: "a choice: nuclei take mated queens more readily than full colonies",
        },
        Introduction::ByUniting => Success {
            least: 950,
            most: 950,
            source: "a choice",
        },
    }
}

/// Days from insemination to the first eggs in a box of one comb with so many workers, by the line of
/// J. Apic. Res. 29(2) 1990:101 (seen): 26.37 - 2.2 ln x. `None` outside the 150 to 750 workers that
/// it was fitted to.
#[must_use]
pub fn attendants_to_eggs(workers: u32) -> Option<f64> {
    (150..=750)
        .contains(&workers)
        .then(|| 26.37 - 2.2 * f64::from(workers).ln())
}
