//! The `spareframe` command.

use std::process::ExitCode;

fn main() -> ExitCode {
    spareframe::app::guarded(|| spareframe::app::run(std::env::args_os()))
}
