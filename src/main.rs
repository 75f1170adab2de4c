//! Hands over to the commands and turns their outcome into an exit code.

fn main() -> std::process::ExitCode {
    brimline::cli::main()
}
