//! A reading typed into the form of the weigh-in.

#![no_main]

#[path = "../laws/mod.rs"]
mod laws;
#[path = "../laws/entry.rs"]
mod entry;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| laws::on_text(bytes, entry::holds));
