//! Any bytes end in a reading or a fault, never a panic.
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    let _ = baywright::proof::read_gcode::read(bytes);
});
