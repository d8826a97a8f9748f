//! The plan read out of a page.

use crate::reading::{At, Cx, Finding};
use std::borrow::Cow;

const OPEN: &str = "<script type=\"application/json\" id=\"plan\">";
const CLOSE: &str = "</script>";

/// The plan of a page, its lines numbered as in the page; a plan by itself as it is; `None` where a
/// page holds no plan.
///
/// ```
/// use spareframe::plan::plan_of;
/// assert_eq!(plan_of(b"{}").unwrap().as_ref(), b"{}");
/// assert!(plan_of(b"<!doctype html><p>no plan</p>").is_none());
/// ```
#[must_use]
pub fn plan_of(bytes: &[u8]) -> Option<Cow<'_, [u8]>> {
    let Some(text) = page(bytes) else {
        return Some(Cow::Borrowed(bytes));
    };
    let (before, rest) = text.split_once(OPEN)?;
    let (plan, _) = rest.split_once(CLOSE)?;
    let lines = before.matches('\n').count();
    Some(Cow::Owned(("\n".repeat(lines) + plan).into_bytes()))
}

fn page(bytes: &[u8]) -> Option<&str> {
    let text = std::str::from_utf8(bytes).ok()?;
    let start = text.trim_start_matches('\u{feff}').trim_start();
    let head = start.get(..9)?.to_ascii_lowercase();
    (head == "<!doctype" || head.starts_with("<html")).then_some(text)
}

/// The plan of a file, or the finding that there is none in its page.
///
/// # Errors
/// The finding.
pub fn read_back<'a>(path_label: &str, bytes: &'a [u8]) -> Result<Cow<'a, [u8]>, Vec<Finding>> {
    plan_of(bytes).ok_or_else(|| {
        let mut cx = Cx::new(path_label, &[]);
        cx.error(
            "wrong-type",
            At::top(),
            "a page without a plan in it",
            "a plan, or a page as `spareframe share` writes it",
            "name the page as it was written, or the plan itself",
        );
        cx.findings
    })
}
