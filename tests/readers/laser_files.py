"""A laser's files through ezdxf, svgpathtools and cairosvg: every line half a kerf off its edge, in order, at its physical size.

What the moved line must measure is worked out from the finished edge alone: moved outwards by d, corners kept sharp, an outline of
area A and length P has the area A + P d + d^2 T and the length P + 2 d T, where T sums tan(turn / 2) over its corners and half the
sweep over its arcs (Steiner's formula with mitres).
"""

import struct
import xml.etree.ElementTree as ET
from math import atan, atan2, cos, pi, sin, tan

import cairosvg
import ezdxf

import svg_files
from dxf_files import line_of
from expected import all_near, near, paired

ORDER = ["mark", "fold", "opening", "outline"]
KINDS = {"mark": "mark", "fold": "fold", "through-outside": "outline"}
SHARPEST = 150 * pi / 180
"""A corner that turns further keeps its round join."""


def names(job: dict) -> list:
    return [name for sheet in job.get("laser", {}).get("sheets", []) for name in sheet["files"]]


def read(report, pack, job: dict, expected) -> None:
    """Every sheet of a laser's pack; nothing for another pack."""
    if "laser" not in job:
        return
    laser = job["laser"]
    report.check("job.json", "no programs beside a laser", not job["programs"])
    for burnt in laser["sheets"]:
        sheet = next(s for s in job["sheets"] if (s["board"], s["number"]) == (burnt["board"], burnt["sheet"]))
        wanted = lines(job, laser, sheet, expected)
        for name in burnt["files"]:
            reader = by_ezdxf if name.endswith(".dxf") else by_svg
            report.guard(name, reader, report, pack / name, name, job, sheet, wanted)


def kind(operation: str) -> str:
    return KINDS.get(operation, "opening")


def lines(job, laser, sheet, expected) -> dict:
    """By kind: (area, length, bounds) that each line must have."""
    half = laser["kerf_mm"] / 2 if laser["compensated"] else 0.0
    by = {"mark": 0.0, "fold": 0.0, "opening": -half, "outline": half}
    wanted = {k: [] for k in ORDER}
    parts = {p["id"]: p for p in job["parts"]}
    for p in sheet["placements"]:
        for contour, line in zip(parts[p["part"]]["contours"], expected.parts[p["part"]]):
            what = kind(contour["operation"])
            wanted[what].append(moved(line.placed(p), by[what]))
    return {k: v for k, v in wanted.items() if v}


def moved(line, d: float):
    b = line.bounds()
    turning = turns(line)
    bounds = (b[0] - d, b[1] - d, b[2] + d, b[3] + d)
    return line.area() + line.length() * d + turning * d * d, line.length() + 2 * turning * d, bounds


def turns(line) -> float:
    """The sum over corners and arcs, for a line walked counter-clockwise."""
    parts, total, signed = list(line.segments()), 0.0, 0.0
    for i, (x, y, x1, y1, b) in enumerate(parts):
        sweep = 4 * atan(b)
        u, v, u1, v1, c = parts[(i + 1) % len(parts)]
        leaving = atan2(y1 - y, x1 - x) + sweep / 2
        arriving = atan2(v1 - v, u1 - u) - 2 * atan(c)
        turn = atan2(sin(arriving - leaving), cos(arriving - leaving))
        signed += sweep + turn
        total += sweep / 2 + (turn / 2 if abs(turn) > SHARPEST else tan(turn / 2))
    return total if signed > 0 else -total


def compare(report, name, what, found, wanted) -> None:
    if not report.check(name, f"{what}: {len(wanted)} lines", len(found) == len(wanted), f"{len(found)}"):
        return
    keyed = lambda lines: [(f[0], f[2], f) for f in lines]
    for (area, length, bounds), (area0, length0, bounds0) in paired(keyed(found), keyed(wanted)):
        report.check(name, f"{what}: bounds half a kerf off", all_near(bounds, bounds0, 0.003), f"{bounds} {bounds0}")
        report.check(name, f"{what}: area", near(area, area0, 2e-5, 2e-3), f"{area} {area0}")
        report.check(name, f"{what}: length", near(length, length0, 2e-5, 2e-3), f"{length} {length0}")


def heading(report, name, job, words: str) -> None:
    laser = job["laser"]
    held = "holds: the beam's centre" if laser["compensated"] else "holds: the finished edge"
    for fact in (job["revision"], "real thickness", held, "stay with a running laser", "never burn film-faced"):
        report.check(name, f"heading says {fact}", fact in words)


def by_ezdxf(report, path, name, job, sheet, wanted) -> None:
    document = ezdxf.readfile(path)
    audit = document.audit()
    report.check(name, "the auditor finds and mends nothing", not audit.errors and not audit.fixes)
    if job["dxf_release"] != 12:
        report.check(name, "is in mm", document.header["$INSUNITS"] == (1 if job["cut_file_units"] == "in" else 4))
    heading(report, name, job, path.read_text(encoding="ascii").split("SECTION", 1)[0])
    entities = list(document.modelspace())
    layers = {k: job["laser"]["lines"][k] for k in wanted}
    report.check(name, "nothing but lines to burn", {e.dxf.layer for e in entities} == {s["layer"] for s in layers.values()})
    for what, style in layers.items():
        found = [line_of(e, 1.0) for e in entities if e.dxf.layer == style["layer"]]
        compare(report, name, f"ezdxf, {what}", [(f.area(), f.length(), f.bounds()) for f in found], wanted[what])
        report.check(name, f"{what} has its colour", document.layers.get(style["layer"]).dxf.color == style["number"])


def by_svg(report, path, name, job, sheet, wanted) -> None:
    root = ET.parse(path).getroot()
    size = (sheet["length_mm"], sheet["width_mm"])
    report.check(name, "page is the sheet", (root.get("width"), root.get("height")) == tuple(f"{s:g}mm" for s in size))
    heading(report, name, job, "".join(root.itertext()))
    groups = [g for g in root if g.tag == svg_files.SVG + "g"]
    tags = {e.tag for g in groups for e in g.iter()}
    report.check(name, "nothing but lines to burn", tags <= {svg_files.SVG + "g", svg_files.SVG + "path"}, str(tags))
    report.check(name, "no transform", not any(e.get("transform") for e in root.iter()))
    kinds = {style["layer"]: k for k, style in job["laser"]["lines"].items()}
    found = {}
    for group in groups:
        ranks = []
        for layer in group:
            what = kinds[layer.get("data-layer")]
            ranks.append(ORDER.index(what))
            for p in layer:
                area, length, bounds, closed = svg_files.measure(p.get("d"), size[1], 1.0)
                report.check(name, "closed", closed)
                report.check(name, f"{what} has its colour", p.get("stroke") == job["laser"]["lines"][what]["colour"])
                found.setdefault(what, []).append((area, length, bounds))
        report.check(name, "marks, folds, openings, outline", ranks == sorted(ranks) and ranks[-1] == 3, str(ranks))
    report.check(name, "every part once", len(groups) == len(sheet["placements"]))
    for what in set(found) | set(wanted):
        compare(report, name, f"svgpathtools, {what}", found.get(what, []), wanted.get(what, []))
    png = cairosvg.svg2png(url=str(path), dpi=96)
    pixels = struct.unpack(">II", png[16:24])
    physical = [s / 25.4 * 96 for s in size]
    report.check(name, "96 pixels per inch", all_near(pixels, physical, 1.01), f"{pixels} {physical}")
