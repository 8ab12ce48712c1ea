use std::process::ExitCode;

fn main() -> ExitCode {
    compasario::commands::main()
}
