//! Serves a page on one's own machine, and to nobody else. Knows nothing of what is on it.
//!
//! One process, one address with a random token in it. A request is answered where it names this host, carries the
//! token and comes from the page itself; all others are refused before anything is done for them. No path leads to a
//! file.

mod address;
mod guard;
mod serve;

pub use address::{Address, code, open};
pub use guard::Refusal;
pub use serve::{Failure, Options, USUAL, serve};

/// What is served.
pub trait Desk: Send + Sync + 'static {
    /// The page as it is first seen.
    ///
    /// # Errors
    /// A sentence for whoever waits for it.
    fn page(&self) -> Result<Page, String>;

    /// The answer to something that the page asks, as JSON; `None` where there is no such question.
    /// May take long: what is not wanted any more is for the desk to find out.
    fn ask(&self, question: &str, body: &[u8]) -> Option<Vec<u8>>;
}

/// A page, with what its policy must allow.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Page {
    /// The page in HTML.
    pub html: String,
    /// Digests of the scripts that may run, as `sha256-...`.
    pub scripts: Vec<String>,
}
