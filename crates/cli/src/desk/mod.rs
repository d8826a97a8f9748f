//! A scenario on the desk: what can be turned on the page, what a finished colony or box writes down, what is saved, and what the
//! last change did. Reads and writes no file.

mod asked;
mod colony;
mod dials;
mod did;
mod figure;
mod finish;
mod save;

pub(crate) use asked::{Ask, Finish, State};
pub(crate) use dials::dials;
pub(crate) use did::{Did, did, verdict};
pub(crate) use finish::{finished_box, finished_colony, for_today};
pub(crate) use save::{Line, edited, lines};
