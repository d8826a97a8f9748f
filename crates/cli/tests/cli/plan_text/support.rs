//! The table without colour, and its words in one line.

use spareframe::output::{self, TableOptions};

pub fn flat(report: &output::Report) -> String {
    let text = output::table(report, TableOptions::default());
    let text = anstream::adapter::strip_str(&text).to_string();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
