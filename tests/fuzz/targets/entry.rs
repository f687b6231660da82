//! A reading typed into the form of the weigh-in.

#![no_main]

#[path = "../laws/mod.rs"]
mod laws;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| laws::on_text(bytes, laws::entry::holds));
