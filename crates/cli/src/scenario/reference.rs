//! The reference of the format, in Markdown.

use super::fields::{SECTIONS, STANDARD};
use crate::reading::Field;
use std::fmt::Write;

/// The reference of the format, in Markdown; docs/scenario.md holds it.
#[must_use]
pub fn reference_markdown() -> String {
    let mut out = String::from(include_str!("reference.md"));
    for section in SECTIONS {
        let _ = writeln!(
            out,
            "\n## {}\n\n| key | value | range | default | since | meaning |\n|---|---|---|---|---|---|",
            section.name
        );
        for f in section.fields {
            let _ = writeln!(
                out,
                "| `{}` | {} | {} | {} | {} | {} |",
                f.key,
                f.kind.title(),
                range(f),
                f.default,
                f.since,
                f.meaning
            );
        }
    }
    out.push_str(
        "\n## Standard frame sizes\n\nBees 130, cells 400 and stores 125 g for each dm2 of a side \
         (second hand, second hand, common practice), both sides.\n\n\
         | name | dm2 a side | source |\n|---|---|---|\n",
    );
    for (name, area, source) in STANDARD {
        let _ = writeln!(
            out,
            "| {name} | {}.{:02} | {source} |",
            area / 100,
            area % 100
        );
    }
    out
}

fn range(field: &Field) -> String {
    field
        .range
        .map_or(String::new(), |(least, most)| format!("{least} to {most}"))
}
