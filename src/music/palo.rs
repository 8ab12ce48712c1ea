//! Filled from `src/data/palos.toml`.
