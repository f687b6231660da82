//! A lesson file.

#![no_main]

#[path = "../laws/mod.rs"]
mod laws;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| laws::on_text(bytes, laws::lesson::holds));
