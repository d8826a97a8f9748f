//! Data inside the page.

use base64::Engine;
use sha2::{Digest, Sha256};

/// JSON that ends no element and starts none, wherever it stands in a page.
pub(super) fn safe(json: &str) -> String {
    let mut out = String::with_capacity(json.len());
    for c in json.chars() {
        match c {
            '<' | '>' | '&' | '\u{2028}' | '\u{2029}' => {
                out.push_str(&format!("\\u{:04x}", u32::from(c)));
            }
            c => out.push(c),
        }
    }
    out
}

/// The digest of a text by which a page's policy knows it: SHA-256 in base 64.
pub(super) fn digest(bytes: &[u8]) -> String {
    base64::engine::general_purpose::STANDARD.encode(Sha256::digest(bytes))
}
