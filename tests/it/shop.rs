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
    for card in describe::cards(&shop) {
        let keys: Vec<&str> = card.rows.iter().map(|row| row.key.as_str()).collect();
        for key in &keys {
            let source = card.basis.get(*key).unwrap_or_else(|| panic!("{} {}: {key} has no source", card.kind, card.id));
            assert!(source.len() > 5 && source != "no source given", "{} {}: {key}: {source}", card.kind, card.id);
        }
        for key in card.basis.keys() {
            assert!(keys.contains(&key.as_str()), "{} {}: {key} is not shown", card.kind, card.id);
        }
        eprintln!("{}", describe::text(&card));
    }
    eprintln!("{}", describe::list(&shop));
    assert!(with("").findings.iter().all(|f| f.severity != Severity::Stop));
}
