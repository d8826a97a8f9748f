//! Hostile files end in a clear error within 2 s and 200 MB.

use crate::support::{command, harmless, said, watched};

/// Runs `stock` on these bytes, by file or by stdin; returns its stderr.
fn stock(name: &str, bytes: &[u8], by_file: bool) -> String {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("hostile.yaml");
    std::fs::write(&path, bytes).unwrap();
    let (input, output) = match by_file {
        true => (path.as_os_str(), Vec::new()),
        false => ("-".as_ref(), bytes.to_vec()),
    };
    let output = watched(name, command().arg("stock").arg(input), output);
    let (code, stderr) = said(&output);
    assert_eq!(code, Some(2), "{name}: {stderr}");
    assert_eq!(output.stdout, b"", "{name}");
    assert!(harmless(&stderr), "{name}: an escape reached the terminal");
    stderr
}

fn many(text: &str, bytes: usize) -> Vec<u8> {
    text.as_bytes().repeat(bytes / text.len())
}

#[test]
fn hostile_files_end_in_a_clear_error_within_time_and_memory() {
    const ALL: usize = 15_900_000;
    let bomb = "a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a,*a,*a,*a]\nc: &c [*b,*b,*b,*b,*b,*b]\n";
    let noise: Vec<u8> = (0..50_000_000_u64)
        .map(|i| 32 + (i.wrapping_mul(0x9e37_79b9_7f4a_7c15) >> 57) as u8 % 95)
        .collect();
    let mut keys = String::new();
    for i in 0..ALL / 14 {
        keys += &format!("key{i:07}: 1\n");
    }
    let with = |top: &str, each: &dyn Fn(usize) -> String, count: usize| {
        let parts = "spareframe: 2\nsites: {a: }\nrecipes: {r: {lines: [{brood: 5 %}]}}\nfoo: 1\n";
        let all: String = (0..count).map(each).collect();
        format!("{parts}{top}\n{all}").into_bytes()
    };
    for (name, bytes, wanted) in [
        (
            "half a million colonies",
            with(
                "colonies:",
                &|i| format!("  c{i:07}: {{brood: 3 combs}}\n"),
                ALL / 30,
            ),
            "[too-large]",
        ),
        (
            "colonies at fault",
            with(
                "colonies:",
                &|i| format!("  c{i:07}: {{site: b}}\n"),
                100_000,
            ),
            "[unknown-name]",
        ),
        (
            "quick counts of many frames",
            with(
                "colonies:",
                &|i| format!("  c{i:07}: {{brood: 200 combs, empty: 200, bees: 100000}}\n"),
                100_000,
            ),
            "[unknown-key]",
        ),
        (
            "combs without end",
            with("combs:", &|i| format!("  c{i}: {{area: 8}}\n"), 100_000),
            "[unknown-key]",
        ),
        (
            "roles without end",
            with("roles:", &|i| format!("  r{i}: {{draw: all}}\n"), 100_000),
            "[unknown-key]",
        ),
        (
            "kinds of box without end",
            with(
                "boxes:",
                &|i| format!("  b{i}: {{count: 1, recipe: r}}\n"),
                100_000,
            ),
            "kinds of box",
        ),
        (
            "names nearly known",
            with(
                "combs: {abcdefghijklmnopqrstuvwxyzabcdefghijklm: {area: 8}}\ncolonies:",
                &|i| format!("  c{i}: {{comb: abcdefghijklmnopqrstuvwxyzabcdefgh{i:05}}}\n"),
                99_000,
            ),
            "[unknown-name]",
        ),
        ("alias bomb", bomb.as_bytes().to_vec(), "[yaml]"),
        ("anchors", many("- &a b\n", ALL), "a map of"),
        ("brackets", many("[", ALL), "[too-large]"),
        ("braces", many("{a: ", ALL), "[too-large]"),
        ("nested lists", many("- ", ALL), "[too-large]"),
        (
            "indents",
            (0..4000)
                .flat_map(|i| format!("{}a:\n", " ".repeat(i)).into_bytes())
                .collect(),
            "[too-large]",
        ),
        ("list of values", many("- a\n", ALL), "[too-large]"),
        (
            "flow list",
            [b"title: ".to_vec(), many("[a],", ALL)].concat(),
            "error",
        ),
        ("unknown keys", keys.into_bytes(), "[unknown-key]"),
        (
            "one key again and again",
            many("day: 1\n", ALL),
            "[duplicate-key]",
        ),
        ("one long word", many("a", ALL), "[wrong-type]"),
        (
            "one long quoted text",
            [b"title: '".to_vec(), many("ab ", ALL), b"'".to_vec()].concat(),
            "error",
        ),
        ("comments", many("# nothing\n", ALL), "[empty]"),
        ("blank lines", many("\n", ALL), "[empty]"),
        ("noise", noise[..ALL].to_vec(), "error"),
        ("50 MB of noise", noise.clone(), "16 MB"),
        ("NUL", b"title: a\0b".to_vec(), "[encoding]"),
        (
            "NUL far in",
            [many("# nothing\n", ALL), vec![0]].concat(),
            "[encoding]",
        ),
        ("invalid UTF-8", b"title: \xc3\x28".to_vec(), "[encoding]"),
        (
            "escapes",
            b"\x1b[31mtitle\x1b]0;x\x07: [\x1b[2J\n\xe2\x80\xae: 1".to_vec(),
            "error",
        ),
        (
            "escapes in quotes",
            b"title: \"\\e[31m\"\n\"a\\e[2J\": {b: \"\\u202e\"}".to_vec(),
            "[control-character]",
        ),
        ("nothing", Vec::new(), "[empty]"),
    ] {
        for by_file in [true, false] {
            let stderr = stock(name, &bytes, by_file);
            assert!(
                stderr.contains(wanted),
                "{name}: {}",
                &stderr[..stderr.len().min(500)]
            );
        }
    }
}
