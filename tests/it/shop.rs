//! The shop's profiles, against the standards they quote.

use baywright::diag::{Checked, Severity, Texts};
use baywright::shop::{describe, load, Shop};

fn built_in() -> Shop {
    let loaded = load(&Texts::default(), &[]);
    assert!(loaded.findings.is_empty(), "{:#?}", loaded.findings);
    loaded.value.unwrap()
}

fn with(text: &str) -> Checked<Shop> {
    let mut texts = Texts::default();
    let id = texts.add("mine.toml", text);
    load(&texts, &[id])
}

#[test]
fn built_in_profiles_load_without_a_finding_and_every_value_has_a_source() {
    let shop = built_in();
    for entry in describe::entries(&shop) {
        let keys: Vec<&str> = entry.rows.iter().map(|row| row.key.as_str()).collect();
        for key in &keys {
            let source = entry.basis.get(*key).unwrap_or_else(|| panic!("{} {}: {key} has no source", entry.kind, entry.id));
            assert!(source.len() > 5 && source != "no source given", "{} {}: {key}: {source}", entry.kind, entry.id);
        }
        for key in entry.basis.keys() {
            assert!(keys.contains(&key.as_str()), "{} {}: {key} is not shown", entry.kind, entry.id);
        }
        eprintln!("{}", describe::text(&entry));
    }
    eprintln!("{}", describe::list(&shop));
    assert!(with("").findings.iter().all(|f| f.severity != Severity::Stop));
}
