//! A scenario's text, changed in place: `change` says what changes and checks what came of it, `edits` changes the text
//! and nothing else in it, `layout` knows where things stand, `new` how they are written.

mod change;
mod edits;
mod layout;
mod new;

pub(crate) use change::{Change, Step, What, apply};
pub(crate) use edits::{Edits, entries};
pub(crate) use new::{New, quoted};
pub(crate) use same::same;

mod same;
