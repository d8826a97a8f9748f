//! A scenario of one colony.

use spareframe::scenario::read;
use spareframe_solver::{Colony, Scenario};

pub fn load(text: &str) -> Scenario {
    let result = read("t.yaml", text.as_bytes());
    let shown: String = result
        .findings
        .iter()
        .map(|f| f.render(text, false))
        .collect();
    result.loaded.unwrap_or_else(|| panic!("{shown}")).scenario
}

/// A scenario with these lines for its only colony (8 dm2 a side: 2100 bees, 6400 cells, 2 kg).
pub fn colony_in(more: &str, lines: &str) -> Colony {
    let text = format!(
        "spareframe: 2\nday: 2031-05-20\nsites: {{a: }}\n{more}\ncolonies:\n  c:\n    comb: Zander\n{lines}\n\
         recipes: {{r: {{lines: [{{drawn: 10 %, comb: Zander}}]}}}}\nboxes: {{b: {{count: 1, recipe: r}}}}\n"
    );
    load(&text).colonies.remove(0)
}

pub fn colony(lines: &str) -> Colony {
    colony_in("", lines)
}
