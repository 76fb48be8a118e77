//! A share of the spoiling at scale (`cargo bench --bench spoil` has all of it): every kind on a sample made through the library.

#[path = "../../spoil/drawings.rs"]
mod drawings;
#[path = "../../spoil/held.rs"]
mod held;
#[path = "../../spoil/jobs.rs"]
mod jobs;
#[path = "../../spoil/kinds.rs"]
mod kinds;
#[path = "../../support/made.rs"]
mod made;
#[path = "../../spoil/pack.rs"]
mod pack;
#[path = "../../spoil/program.rs"]
mod program;
#[path = "../../spoil/programs.rs"]
mod programs;

#[test]
fn samples_spoilt_in_every_way_are_caught() {
    let files = pack::made("panels-only").expect("the sample can be made");
    assert!(baywright::proof::prove(&files).passed);
    let mut wrong = Vec::new();
    let rows = kinds::table(&[("panels-only", files)], 2, "", |line| wrong.push(line));
    assert!(wrong.is_empty(), "{wrong:#?}");
    let tried = rows.values().filter(|row| row.tried > 0).count();
    assert!(tried >= 40, "only {tried} of {} kinds found a place", kinds::KINDS.len());
    assert!(rows.values().map(|row| row.caught).sum::<usize>() > tried);
}
