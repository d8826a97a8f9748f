//! Spareframe.
fn main() {}
