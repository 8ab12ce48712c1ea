use std::process::ExitCode;

/// Reading makes and drops many small lists and words, and this allocator is quick at it.
#[global_allocator]
static MEMORY: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() -> ExitCode {
    compasario::commands::main()
}
