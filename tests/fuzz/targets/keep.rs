//! A save over a yard's own text.

#![no_main]

#[path = "../laws/mod.rs"]
mod laws;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| laws::on_text(bytes, laws::keep::holds));
