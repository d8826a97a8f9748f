//! What the writers show of one plan, and what is read back of it.

mod hands;
mod headline;
mod read_back;
mod support;
