//! Every block of output and every command in the documents is what the program does.
//!
//! A block of output follows a comment that names its command:
//!
//! ```text
//! <!-- output of: spareframe stock scenarios/first-round.yaml; lines 1-9; exit 0 -->
//! ```
//!
//! With `here` the command runs where the shell blocks above it ran. Both stdout and stderr count, in this order. Commands joined by ` && ` run in turn; the last
//! one's output and exit code count. `UPDATE_DOCS=1 cargo test -p spareframe --test documents`
//! writes the blocks anew.
#![allow(clippy::unwrap_used, reason = "a step that fails is a test that fails")]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// README.md, DEVELOPERS.md and every page under docs, in order.
fn documents() -> Vec<PathBuf> {
    let mut found = vec![root().join("README.md"), root().join("DEVELOPERS.md")];
    let mut folders = vec![root().join("docs")];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "md") {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

/// A folder of its own with a copy of the scenarios and tables.
fn workplace() -> tempfile::TempDir {
    let place = tempfile::tempdir().unwrap();
    for folder in ["scenarios", "docs/tables"] {
        let copies = place.path().join(folder);
        fs::create_dir_all(&copies).unwrap();
        for entry in fs::read_dir(root().join(folder)).unwrap() {
            let entry = entry.unwrap();
            fs::copy(entry.path(), copies.join(entry.file_name())).unwrap();
        }
    }
    place
}

/// The arguments of a command line that runs the program, in either way.
fn arguments(line: &str) -> Option<Vec<&str>> {
    ["spareframe ", "cargo run --release -- "]
        .iter()
        .find_map(|start| line.strip_prefix(start))
        .map(words)
}

/// Words, and what stands between two double quotes as one.
fn words(line: &str) -> Vec<&str> {
    let parts = line.split('"').enumerate();
    let words = parts.flat_map(|(at, part)| match at % 2 {
        0 => part.split_whitespace().collect(),
        _ => vec![part],
    });
    words.collect()
}

/// Output and exit code of one command line; a `> FILE` at its end is obeyed.
fn run(line: &str, folder: &Path) -> (String, i32) {
    let mut args = arguments(line).unwrap_or_else(|| panic!("not our program: {line}"));
    let file = match args.iter().position(|&arg| arg == ">") {
        Some(at) => args.split_off(at).pop(),
        None => None,
    };
    let output = Command::new(env!("CARGO_BIN_EXE_spareframe"))
        .args(&args)
        .current_dir(folder)
        .env_remove("CLICOLOR_FORCE")
        .output()
        .unwrap();
    let mut text = String::from_utf8(output.stdout).unwrap();
    if let Some(file) = file {
        fs::write(folder.join(file), &text).unwrap();
        text.clear();
    }
    text += &String::from_utf8(output.stderr).unwrap();
    (text, output.status.code().unwrap_or(-1))
}

/// What a comment asks for: commands, first and last line, exit code.
struct Wanted<'a> {
    commands: Vec<&'a str>,
    lines: Option<(usize, usize)>,
    exit: i32,
    /// Behind the shell blocks above, in their folder.
    here: bool,
}

fn wanted(line: &str) -> Option<Wanted<'_>> {
    let text = line
        .strip_prefix("<!-- output of: ")?
        .strip_suffix(" -->")
        .unwrap_or_else(|| panic!("comment without an end: {line}"));
    let mut parts = text.split("; ");
    let mut wanted = Wanted {
        commands: parts.next().unwrap_or_default().split(" && ").collect(),
        lines: None,
        exit: 0,
        here: false,
    };
    for part in parts {
        if let Some(range) = part.strip_prefix("lines ") {
            let (first, last) = range.split_once('-').unwrap();
            wanted.lines = Some((first.parse().unwrap(), last.parse().unwrap()));
        } else if let Some(code) = part.strip_prefix("exit ") {
            wanted.exit = code.parse().unwrap();
        } else if part == "here" {
            wanted.here = true;
        } else {
            panic!("`{part}` in {line}");
        }
    }
    Some(wanted)
}

/// What the block must hold.
fn output(wanted: &Wanted, here: Option<&Path>) -> String {
    let new = workplace();
    let folder = here.filter(|_| wanted.here).unwrap_or(new.path());
    let mut last = (String::new(), 0);
    for command in &wanted.commands {
        last = run(command, folder);
    }
    let (text, code) = last;
    assert_eq!(code, wanted.exit, "{:?}:\n{text}", wanted.commands);
    let (first, end) = wanted.lines.unwrap_or((1, usize::MAX));
    let lines = text.lines().skip(first - 1).take(end - first + 1);
    lines.map(|line| format!("{}\n", line.trim_end())).collect()
}

/// The text with every block of output written anew, and how many there are.
fn renewed(text: &str) -> (String, usize) {
    let mut new = String::new();
    let mut count = 0;
    let mut lines = text.lines();
    let here = text.contains("; here").then(workplace);
    let here = here.as_ref().map(tempfile::TempDir::path);
    let mut shell = false;
    while let Some(line) = lines.next() {
        new += &format!("{line}\n");
        if line.starts_with("```") {
            shell = line == "```sh";
        } else if let Some(here) = here.filter(|_| shell && arguments(line).is_some()) {
            let (command, _) = line.split_once(" # ").unwrap_or((line, ""));
            run(command.trim_end(), here);
        }
        let Some(wanted) = wanted(line) else { continue };
        count += 1;
        let fence = lines.next().unwrap_or_default();
        assert!(fence.starts_with("```"), "no block after {line}");
        new += &format!("{fence}\n{}", output(&wanted, here));
        let end = lines.find(|&line| line == "```");
        new += &format!("{}\n", end.expect("a block without an end"));
    }
    (new, count)
}

#[test]
fn every_block_of_output_is_what_the_program_prints() {
    let mut blocks = 0;
    for path in documents() {
        let text = fs::read_to_string(&path).unwrap();
        let (new, count) = renewed(&text);
        blocks += count;
        if new != text && count > 0 && std::env::var_os("UPDATE_DOCS").is_some() {
            fs::write(&path, new).unwrap();
        } else if count > 0 {
            let name = path.display();
            for (number, (old, new)) in text.lines().zip(new.lines()).enumerate() {
                let line = number + 1;
                assert_eq!(old, new, "{name}:{line}; UPDATE_DOCS=1 writes it anew");
            }
            assert_eq!(text, new, "{name}; UPDATE_DOCS=1 writes it anew");
        }
    }
    assert!(blocks >= 3, "{blocks} blocks of output");
}

#[test]
fn every_command_in_a_shell_block_runs() {
    let mut commands = 0;
    for path in documents() {
        let text = fs::read_to_string(&path).unwrap();
        let folder = workplace();
        let mut shell = false;
        for line in text.lines() {
            if line.starts_with("```") {
                shell = line == "```sh";
            } else if shell && arguments(line).is_some() {
                let (command, note) = line.split_once(" # ").unwrap_or((line, ""));
                let code = i32::from(note.starts_with("exit 1"));
                let (text, got) = run(command.trim_end(), folder.path());
                assert_eq!(got, code, "{}: {line}\n{text}", path.display());
                commands += 1;
            }
        }
    }
    assert!(commands >= 6, "{commands} commands");
}

/// What a heading is linked by: its words in lower case, joined by hyphens.
fn anchor(heading: &str) -> String {
    let kept = heading.trim().chars().filter_map(|c| match c {
        ' ' => Some('-'),
        c if c.is_alphanumeric() || c == '-' || c == '_' => Some(c.to_ascii_lowercase()),
        _ => None,
    });
    kept.collect()
}

/// The anchors of a page; headings that read alike are numbered from the second on.
fn anchors(page: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    let mut block = false;
    for line in page.lines() {
        block ^= line.starts_with("```");
        let heading = line.trim_start_matches('#');
        if block || !line.starts_with('#') || !heading.starts_with(' ') {
            continue;
        }
        let plain = anchor(heading);
        let mut name = plain.clone();
        for number in 1.. {
            if !found.contains(&name) {
                break;
            }
            name = format!("{plain}-{number}");
        }
        found.push(name);
    }
    found
}

#[test]
fn every_link_leads_to_a_file_and_to_a_heading_in_it() {
    let mut headings = 0;
    for path in documents() {
        let text = fs::read_to_string(&path).unwrap();
        let links = text.split("](").skip(1);
        for link in links.filter_map(|rest| rest.split(')').next()) {
            if link.contains("://") {
                continue;
            }
            let (file, heading) = link.split_once('#').unwrap_or((link, ""));
            let target = match file {
                "" => path.clone(),
                file => path.parent().unwrap().join(file),
            };
            assert!(target.exists(), "{}: {link}", path.display());
            if !heading.is_empty() {
                let page = fs::read_to_string(target).unwrap();
                let known = anchors(&page).iter().any(|anchor| anchor == heading);
                assert!(known, "{}: {link}", path.display());
                headings += 1;
            }
        }
    }
    assert!(headings > 20, "{headings} links to headings");
}

#[test]
fn the_model_page_names_where_each_rule_is_checked() {
    let page = fs::read_to_string(root().join("docs/model.md")).unwrap();
    let check = root().join("crates/solver/src/check");
    let tests = root().join("crates/solver/tests/check");
    for rule in spareframe_solver::Rule::ALL {
        let id = rule.id();
        let row = page
            .lines()
            .find(|line| line.starts_with(&format!("| {id} | `")) && line.contains(".rs`"))
            .unwrap_or_else(|| panic!("no row for rule {id}"));
        assert!(page.contains(&format!("\n### {id}\n")), "no section {id}");
        let named: Vec<&str> = row.split('`').skip(1).step_by(2).collect();
        let [file, function, test_file, test] = named[..] else {
            panic!("{row}");
        };
        let code = fs::read_to_string(check.join(file)).unwrap();
        assert!(code.contains(&format!("fn {function}(")), "{row}");
        let code = fs::read_to_string(tests.join(test_file)).unwrap();
        assert!(code.contains(&format!("fn {test}(")), "{row}");
    }
}

#[test]
fn the_readme_names_the_packages_of_this_version() {
    let text = fs::read_to_string(root().join("README.md")).unwrap();
    let version = env!("CARGO_PKG_VERSION");
    for name in [
        format!("spareframe_{version}-1_amd64.deb"),
        format!("spareframe-{version}-x86_64-linux.tar.gz"),
    ] {
        assert!(text.contains(&name), "{name}");
    }
}
