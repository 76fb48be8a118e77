//! Any `job.json` ends in a verdict, never a panic.
#![no_main]

use std::collections::BTreeMap;

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| {
    let files = BTreeMap::from([("job.json".to_owned(), bytes.to_vec())]);
    let verdict = baywright::proof::prove(&files);
    assert!(!verdict.to_json().is_empty());
});
