//! Seasons held against other ways to decide them.

mod brute;
mod changes;
mod follow;
mod general;
mod yard;
