"""Reads a pack with libraries that know nothing of the program that wrote it, and compares what they see with job.json.

usage: python read_pack.py PACK

DXF by ezdxf (with its auditor) and by GDAL through fiona; SVG by svgpathtools, svgelements and cairosvg; G-code by pygcode;
a laser's files by ezdxf, svgpathtools and cairosvg; lists and saw plans by the standard library; the build book by html5lib, pypdf
and a browser. Prints a table, then `N passed, N failed`; the exit code is 0 only when nothing failed.
"""

import csv
import json
import sys
from pathlib import Path

import book_files
import dxf_files
import gcode_files
import laser_files
import saw_files
import svg_files
from expected import Expected, Line
from report import Report


def main(pack: Path) -> int:
    """A pack, and the coupons in it, each a small pack of its own."""
    report = Report()
    coupons = sorted(p.parent for p in pack.glob("coupon/*/job.json"))
    one_pack(report, pack, coupons)
    book_files.read(report, pack)
    for coupon in coupons:
        one_pack(report, coupon, [])
    return report.finish()


def one_pack(report: Report, pack: Path, apart: list) -> None:
    """Reads one pack; the folders `apart` are looked at by themselves."""
    text = (pack / "job.json").read_text(encoding="utf-8")

    def refuse(word):
        raise ValueError(f"{word} in job.json")

    job = json.loads(text, parse_constant=refuse)
    report.check("job.json", "version 1, millimetres", job["version"] == 1 and job["units"] == "mm")
    lists(report, pack, job)
    expected = Expected(job)
    for part in job["parts"]:
        report.guard("job.json", holes, report, part, expected.parts[part["id"]])
    seen = {"job.json", "cut-list.csv", "hardware.csv", "offcuts.csv", "mock-up.html", "proof.json", "proof.txt", *book_files.NAMES}
    for owner, drawing in expected.drawings():
        for name in owner["files"]:
            seen.add(name)
            path = pack / name
            if not report.check(name, "is there", path.is_file()):
                continue
            reader = dxf_files.read if name.endswith(".dxf") else svg_files.read
            report.guard(name, reader, report, path, name, job, drawing)
    laser_files.read(report, pack, job, expected)
    saw_files.read(report, pack, job, expected)
    for name in laser_files.names(job) + saw_files.names(job):
        seen.add(name)
        report.check(name, "is there", (pack / name).is_file())
    for program in job["programs"]:
        name = program["file"]
        seen.add(name)
        if report.check(name, "is there", (pack / name).is_file()):
            report.guard(name, gcode_files.read, report, pack / name, name, job, program)
    own = (p for p in pack.rglob("*") if p.is_file() and not any(p.is_relative_to(folder) for folder in apart))
    files = {p.relative_to(pack).as_posix() for p in own}
    report.check("pack", "no file that job.json does not name", files <= seen, ", ".join(sorted(files - seen)))


def holes(report: Report, part: dict, lines: list) -> None:
    """A round feature's place and diameter are those of its circle."""
    circles = [(line.bounds(), line.layer) for line in lines if line.round]
    features = [f for f in part["features"] if f["diameter_mm"] is not None]
    report.check("job.json", f"as many circles as round features in {part['id']}", len(circles) == len(features))
    for f in features:
        (x, y), r = f["at_mm"], f["diameter_mm"] / 2
        found = any(max(abs(b[0] - x + r), abs(b[1] - y + r), abs(b[2] - x - r), abs(b[3] - y - r)) < 0.0006 for b, _ in circles)
        report.check("job.json", f"{part['id']} {f['id']} is where its circle is", found)


def lists(report: Report, pack: Path, job: dict) -> None:
    with open(pack / "cut-list.csv", newline="", encoding="utf-8") as file:
        rows = list(csv.DictReader(file, strict=True))
    parts = {p["id"]: p for p in job["parts"]}
    report.check("cut-list.csv", "names every part once", sorted(r["id"] for r in rows) == sorted(parts))
    total = sum(int(r["quantity"]) for r in rows)
    report.check("cut-list.csv", "quantities add up", total == job["totals"]["parts"], f"{total}")
    for row in rows:
        part = parts.get(row["id"], {})
        same = all(abs(float(row[k]) - part.get(k, -1)) <= 0.0051 for k in ("length_mm", "width_mm"))
        report.check("cut-list.csv", f"size of {row['id']}", same)
    with open(pack / "hardware.csv", newline="", encoding="utf-8") as file:
        pieces = sum(int(r["quantity"]) for r in csv.DictReader(file, strict=True))
    wanted = sum(h["quantity"] for h in job["hardware"])
    report.check("hardware.csv", "quantities add up", pieces == wanted, f"{pieces}")
    with open(pack / "offcuts.csv", newline="", encoding="utf-8") as file:
        for row in csv.DictReader(file, strict=True):
            report.guard("offcuts.csv", offcut, report, job, row)
    for part in job["parts"]:
        copies = [p["copy"] for s in job["sheets"] for p in s["placements"] if p["part"] == part["id"]]
        report.check("job.json", f"every copy of {part['id']} lies somewhere, once",
                     sorted(copies) == list(range(1, part["quantity"] + 1)), f"{copies}")


def offcut(report: Report, job: dict, row: dict) -> None:
    """A piece to keep lies on its sheet, clear of every part."""
    sheet = next(s for s in job["sheets"] if (s["board"], s["number"]) == (row["board"], int(row["sheet"])))
    x, y, w, h = (float(row[k]) for k in ("x_mm", "y_mm", "length_mm", "width_mm"))
    on = x + w <= sheet["length_mm"] + 0.05 and y + h <= sheet["width_mm"] + 0.05
    report.check("offcuts.csv", f"{row['id']} lies on its sheet", on and min(w, h) > 0)
    outlines = {p["id"]: [c for c in p["contours"] if c["operation"] == "through-outside"] for p in job["parts"]}
    for p in sheet["placements"]:
        for c in outlines[p["part"]]:
            b = Line(c["layer"], c["vertices"]).placed(p).bounds()
            apart = b[2] <= x + 0.05 or b[0] >= x + w - 0.05 or b[3] <= y + 0.05 or b[1] >= y + h - 0.05
            report.check("offcuts.csv", f"{row['id']} is clear of {p['part']}", apart)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    sys.exit(main(Path(sys.argv[1])))
