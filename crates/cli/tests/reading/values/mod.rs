//! Exact values: what the reader makes of a text, figure by figure.

mod frames;
mod limits;
mod others;
mod support;
