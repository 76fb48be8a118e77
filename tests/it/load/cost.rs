//! Cost at the maker's own prices.

use super::support::{judged, near, one_drawer, BOARDS};
use baywright::design::BoardId;
use baywright::fit::load::{add_up, SheetsUsed};

#[test]
fn sheets_hardware_and_machine_time_are_added_up() {
    let text = format!(
        "{}{}[prices]\ncurrency = \"crowns\"\nmachine_hour = 60\neach = {{ \"side-mount-500\" = 30, \"pan-screw-4.0\" = 0.1 }}\n",
        BOARDS.replacen("readings = [15", "stock = [{ length = 2440, width = 1220, price = 61.5 }]\nreadings = [15", 1),
        one_drawer("", "")
    );
    let judged = judged(&text);
    let sheets =
        [SheetsUsed { board: BoardId(0), stock: 0, count: 2 }, SheetsUsed { board: BoardId(1), stock: 0, count: 1 }];
    let (cost, page) = add_up(&judged.design, &judged.report.hardware, Some(&sheets), Some(1800.0));
    near(cost.boards, 123.0, 1e-12, "two sheets at 61.5");
    near(cost.machine, 30.0, 1e-12, "half an hour at 60");
    let screws: u32 =
        judged.report.hardware.iter().filter(|h| h.profile == "pan-screw-4.0").map(|h| h.quantity + h.spare).sum();
    near(cost.hardware, 30.0 + 0.1 * f64::from(screws), 1e-9, "slides and screws");
    near(cost.total(), 153.0 + cost.hardware, 1e-9, "together");
    assert!(cost.unpriced.iter().any(|u| u == "board front"), "{:?}", cost.unpriced);
    assert!(
        page.lines.iter().any(|l| l.contains("2 x carcass 2440 x 1220 mm at 61.5 crowns = 123 crowns")),
        "{:?}",
        page.lines
    );
    // Without prices nothing is made up.
    let none = super::support::judged(&format!("{BOARDS}{}", one_drawer("", "")));
    let (cost, _) = add_up(&none.design, &none.report.hardware, None, None);
    assert_eq!(cost.total(), 0.0);
    assert!(!cost.unpriced.is_empty());
}
