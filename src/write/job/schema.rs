//! The shape of `job.json`, key by key; the meaning of the keys is in the parent's doc comment.

use crate::units::decimal;
use serde::{Serialize, Serializer};

/// A number at fixed precision, as the program's one formatter prints it; `null` when it is not finite.
#[derive(Clone, Copy, Debug)]
pub(super) struct Number {
    pub(super) value: f64,
    pub(super) places: usize,
}

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        // Whole numbers below this are exact in both types.
        const WHOLE: f64 = 9_007_199_254_740_992.0;
        match decimal(self.value, self.places).parse::<f64>() {
            Ok(rounded) if rounded.is_finite() => {
                if rounded.fract() == 0.0 && rounded.abs() < WHOLE {
                    serializer.serialize_i64(rounded as i64)
                } else {
                    serializer.serialize_f64(rounded)
                }
            }
            _ => serializer.serialize_none(),
        }
    }
}

/// `[x, y, bulge]`.
pub(super) type VertexRow = [Number; 3];

#[derive(Debug, Serialize)]
pub(super) struct Document<'a> {
    pub(super) version: u32,
    pub(super) title: &'a str,
    pub(super) revision: &'a str,
    pub(super) units: &'static str,
    pub(super) cut_file_units: &'static str,
    pub(super) dxf_release: u32,
    pub(super) machine: Machine<'a>,
    pub(super) boards: Vec<Board<'a>>,
    pub(super) parts: Vec<Part<'a>>,
    pub(super) sheets: Vec<Sheet<'a>>,
    pub(super) programs: Vec<Program<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) laser: Option<Laser<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) saw: Option<Saw<'a>>,
    pub(super) hardware: Vec<Hardware>,
    pub(super) findings: Vec<Finding<'a>>,
    pub(super) ledger: Vec<LedgerLine<'a>>,
    pub(super) assumptions: &'a [String],
    pub(super) overrides: Vec<Override<'a>>,
    pub(super) totals: Totals,
}

#[derive(Debug, Serialize)]
pub(super) struct Machine<'a> {
    pub(super) id: &'a str,
    pub(super) name: &'a str,
    pub(super) process: &'static str,
    pub(super) travel_mm: Option<[Number; 3]>,
    pub(super) kerf_mm: Option<Number>,
}

#[derive(Debug, Serialize)]
pub(super) struct Laser<'a> {
    pub(super) kerf_mm: Number,
    pub(super) compensated: bool,
    pub(super) lines: LaserLines<'a>,
    pub(super) sheets: Vec<LaserSheet<'a>>,
}

#[derive(Debug, Serialize)]
pub(super) struct LaserLines<'a> {
    pub(super) mark: LineStyle<'a>,
    pub(super) fold: LineStyle<'a>,
    pub(super) opening: LineStyle<'a>,
    pub(super) outline: LineStyle<'a>,
}

#[derive(Debug, Serialize)]
pub(super) struct LineStyle<'a> {
    pub(super) layer: &'a str,
    pub(super) colour: &'a str,
    pub(super) number: u8,
}

#[derive(Debug, Serialize)]
pub(super) struct LaserSheet<'a> {
    pub(super) board: &'a str,
    pub(super) sheet: u32,
    pub(super) files: Vec<String>,
    pub(super) run_s: Number,
}

#[derive(Debug, Serialize)]
pub(super) struct Board<'a> {
    pub(super) name: &'a str,
    pub(super) material: &'a str,
    pub(super) nominal_mm: Number,
    pub(super) thickness_mm: Thickness,
    pub(super) readings_mm: Vec<Number>,
    pub(super) density_kg_m3: Number,
}

#[derive(Debug, Serialize)]
pub(super) struct Thickness {
    pub(super) min: Number,
    pub(super) mean: Number,
    pub(super) max: Number,
}

#[derive(Debug, Serialize)]
pub(super) struct Part<'a> {
    pub(super) id: &'a str,
    pub(super) name: &'a str,
    pub(super) unit: &'a str,
    pub(super) hand: &'static str,
    pub(super) board: &'a str,
    pub(super) quantity: usize,
    pub(super) panels: Vec<&'a str>,
    pub(super) face_up: &'static str,
    pub(super) length_mm: Number,
    pub(super) width_mm: Number,
    pub(super) x_mm: Number,
    pub(super) y_mm: Number,
    pub(super) grain: &'static str,
    pub(super) thickness_mm: Number,
    pub(super) thickness_max_mm: Number,
    pub(super) area_mm2: Number,
    pub(super) mass_kg: Number,
    pub(super) edges: Vec<Edge<'a>>,
    pub(super) files: Vec<String>,
    pub(super) features: Vec<Feature<'a>>,
    pub(super) contours: Vec<ContourRow<'a>>,
    pub(super) seats: Vec<Seat<'a>>,
}

#[derive(Debug, Serialize)]
pub(super) struct Edge<'a> {
    #[serde(rename = "edge")]
    pub(super) which: &'static str,
    pub(super) joint: &'a str,
    pub(super) mate: &'a str,
}

#[derive(Debug, Serialize)]
pub(super) struct Feature<'a> {
    pub(super) id: &'a str,
    pub(super) operation: &'static str,
    pub(super) side: &'static str,
    pub(super) depth_mm: Option<Number>,
    pub(super) diameter_mm: Option<Number>,
    pub(super) at_mm: Option<[Number; 2]>,
    pub(super) purpose: &'static str,
}

#[derive(Debug, Serialize)]
pub(super) struct ContourRow<'a> {
    pub(super) feature: &'a str,
    pub(super) operation: &'static str,
    pub(super) side: &'static str,
    pub(super) depth_mm: Option<Number>,
    pub(super) layer: String,
    pub(super) island: bool,
    pub(super) vertices: Vec<VertexRow>,
}

#[derive(Debug, Serialize)]
pub(super) struct Seat<'a> {
    pub(super) feature: &'a str,
    pub(super) mate: &'a str,
    pub(super) vertices: Vec<VertexRow>,
}

#[derive(Debug, Serialize)]
pub(super) struct Sheet<'a> {
    pub(super) board: &'a str,
    pub(super) number: u32,
    pub(super) length_mm: Number,
    pub(super) width_mm: Number,
    pub(super) files: Vec<String>,
    pub(super) placements: Vec<Placement<'a>>,
    pub(super) offcut_mm: Option<Offcut>,
    pub(super) used_ratio: Number,
}

#[derive(Debug, Serialize)]
pub(super) struct Placement<'a> {
    pub(super) part: &'a str,
    pub(super) copy: u32,
    pub(super) x_mm: Number,
    pub(super) y_mm: Number,
    pub(super) turn_deg: u32,
    pub(super) flipped: bool,
    pub(super) tabs: usize,
    pub(super) inside: Option<Inside<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub(super) held: Vec<Held<'a>>,
}

#[derive(Debug, Serialize)]
pub(super) struct Inside<'a> {
    pub(super) part: &'a str,
    pub(super) copy: u32,
    pub(super) feature: &'a str,
}

#[derive(Debug, Serialize)]
pub(super) struct Held<'a> {
    pub(super) feature: &'a str,
    pub(super) tabs: usize,
    pub(super) length_mm: Number,
    pub(super) height_mm: Number,
    pub(super) way_mm: Number,
}

#[derive(Debug, Serialize)]
pub(super) struct Offcut {
    pub(super) x: Number,
    pub(super) y: Number,
    pub(super) length: Number,
    pub(super) width: Number,
}

#[derive(Debug, Serialize)]
pub(super) struct Program<'a> {
    pub(super) file: &'a str,
    pub(super) section: u32,
    pub(super) board: &'a str,
    pub(super) sheet: u32,
    pub(super) side: &'static str,
    pub(super) order: u32,
    pub(super) cutter: Cutter<'a>,
    pub(super) set_up: SetUp,
    pub(super) rpm: Number,
    pub(super) z_zero: &'static str,
    pub(super) clearance_mm: Number,
    pub(super) floor_mm: Option<Number>,
    pub(super) thickness_mm: Number,
    pub(super) run_s: Number,
    pub(super) times: Vec<Time>,
    pub(super) restarts: Vec<Restart<'a>>,
}

#[derive(Debug, Serialize)]
pub(super) struct SetUp {
    pub(super) number: u32,
    pub(super) of: u32,
    pub(super) pins_mm: Vec<[Number; 2]>,
    pub(super) pin_diameter_mm: Option<Number>,
    pub(super) screws_mm: Vec<[Number; 2]>,
    pub(super) screw_head_mm: Option<[Number; 2]>,
}

#[derive(Debug, Serialize)]
pub(super) struct Time {
    pub(super) work: &'static str,
    pub(super) s: Number,
}

#[derive(Debug, Serialize)]
pub(super) struct Restart<'a> {
    pub(super) number: u32,
    pub(super) line: usize,
    pub(super) label: &'a str,
}

#[derive(Debug, Serialize)]
pub(super) struct Saw<'a> {
    pub(super) kerf_mm: Number,
    pub(super) trim_mm: Number,
    pub(super) turns: u32,
    pub(super) sheets: Vec<SawSheet<'a>>,
}

#[derive(Debug, Serialize)]
pub(super) struct SawSheet<'a> {
    pub(super) board: &'a str,
    pub(super) number: u32,
    pub(super) cuts: usize,
    pub(super) stages: u32,
    pub(super) fence_settings: usize,
    pub(super) rip_widths: usize,
    pub(super) files: Vec<String>,
}

#[derive(Debug, Serialize)]
pub(super) struct Cutter<'a> {
    pub(super) name: &'a str,
    pub(super) id: &'a str,
    pub(super) diameter_mm: Number,
    pub(super) flutes: u32,
    pub(super) chip_max_mm: Option<Number>,
    pub(super) centre_cutting: bool,
    pub(super) first_pass_max_mm: Number,
    pub(super) pass_max_mm: Number,
}

#[derive(Debug, Serialize)]
pub(super) struct Hardware {
    pub(super) name: String,
    pub(super) profile: String,
    pub(super) quantity: u32,
    pub(super) unit: String,
    pub(super) place: String,
    pub(super) mass_kg: Option<Number>,
}

#[derive(Debug, Serialize)]
pub(super) struct Finding<'a> {
    pub(super) code: &'static str,
    pub(super) severity: crate::diag::Severity,
    pub(super) message: &'a str,
    pub(super) limit: Option<&'a str>,
    pub(super) parts: &'a [String],
    pub(super) place: Option<Place>,
    pub(super) remedy: &'a str,
}

#[derive(Debug, Serialize)]
pub(super) struct Place {
    pub(super) file: String,
    pub(super) line: usize,
    pub(super) column: usize,
}

#[derive(Debug, Serialize)]
pub(super) struct LedgerLine<'a> {
    pub(super) gap: &'a str,
    pub(super) nominal_mm: Number,
    pub(super) worst_min_mm: Number,
    pub(super) worst_max_mm: Number,
    pub(super) rss_min_mm: Number,
    pub(super) rss_max_mm: Number,
    pub(super) required_min_mm: Number,
    pub(super) required_max_mm: Number,
    pub(super) source: &'a str,
    pub(super) verdict: &'static str,
    pub(super) contributors: Vec<Contributor<'a>>,
}

#[derive(Debug, Serialize)]
pub(super) struct Contributor<'a> {
    pub(super) source: &'a str,
    pub(super) sensitivity: Number,
    pub(super) reach_mm: Number,
    pub(super) share: Number,
}

#[derive(Debug, Serialize)]
pub(super) struct Override<'a> {
    pub(super) code: &'a str,
    pub(super) part: Option<&'a str>,
    pub(super) reason: &'a str,
}

#[derive(Debug, Serialize)]
pub(super) struct Totals {
    pub(super) parts: usize,
    pub(super) different_parts: usize,
    pub(super) sheets: usize,
    pub(super) programs: usize,
    pub(super) parts_mass_kg: Number,
    pub(super) parts_centre_mm: Option<[Number; 3]>,
    pub(super) hardware_mass_kg: Option<Number>,
    pub(super) sheet_area_m2: Number,
    pub(super) used_ratio: Number,
    pub(super) run_s: Number,
}
