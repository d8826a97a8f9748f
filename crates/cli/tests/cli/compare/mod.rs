//! `compare`: each kind of change by its own line, and files that cannot be read.

mod changes;
mod figures;
mod files;
mod support;
