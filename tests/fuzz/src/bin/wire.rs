//! The engine on the target `wire`. Never here: what is asked of the bytes.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| evenrow_fuzz::wire(bytes));
