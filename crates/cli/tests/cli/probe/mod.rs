//! `probe` at the command line: alternatives, wishes, what is wrong, files and widths.

mod alternatives;
mod files;
mod support;
mod wishes;
mod wrong;
