//! Hands over to the commands and turns their outcome into an exit code.

/// Pages, rows and JSON lines are many small short-lived pieces of memory; building the demo spent a sixth of its time in the
/// system's allocator.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> std::process::ExitCode {
    brimline::cli::main()
}
