"""Writes the drawings and machine-sized text of a pack from its job.json with general-purpose libraries, as a measure of speed.

usage: python write_pack.py JOB_JSON OUT

The same files as the program's own pack: parts and sheets as DXF (ezdxf, release 2000) and SVG (the standard library's XML), one
text of moves per program, the lists as CSV. It derives, lays out, offsets and proves nothing. Prints one line of JSON: seconds
from before reading to after the last file, without the time to start and import; files; bytes.
"""

import csv
import json
import math
import sys
import time
import xml.etree.ElementTree as ET
from pathlib import Path

import ezdxf

PASS_MM = 4.0


def turned(vertices, placement):
    """Vertices of a part's contour where the sheet has them."""
    angle = math.radians(placement["turn_deg"])
    c, s = round(math.cos(angle)), round(math.sin(angle))
    return [(x * c - y * s + placement["x_mm"], x * s + y * c + placement["y_mm"], b) for x, y, b in vertices]


def write_dxf(path, contours):
    doc = ezdxf.new("R2000", setup=False)
    doc.units = 4
    space = doc.modelspace()
    for layer, vertices in contours:
        if layer not in doc.layers:
            doc.layers.add(layer)
        space.add_lwpolyline(vertices, format="xyb", close=True, dxfattribs={"layer": layer})
    doc.saveas(path)


def svg_path(vertices, height):
    words = [f"M{vertices[0][0]:.4f} {height - vertices[0][1]:.4f}"]
    for (x0, y0, bulge), (x1, y1, _) in zip(vertices, vertices[1:] + vertices[:1]):
        if abs(bulge) < 1e-9:
            words.append(f"L{x1:.4f} {height - y1:.4f}")
        else:
            radius = math.hypot(x1 - x0, y1 - y0) * (1 + bulge * bulge) / (4 * abs(bulge))
            words.append(f"A{radius:.4f} {radius:.4f} 0 0 {0 if bulge > 0 else 1} {x1:.4f} {height - y1:.4f}")
    return " ".join(words) + " Z"


def write_svg(path, width, height, contours):
    root = ET.Element("svg", xmlns="http://www.w3.org/2000/svg", width=f"{width}mm", height=f"{height}mm",
                      viewBox=f"0 0 {width} {height}")
    for layer, vertices in contours:
        ET.SubElement(root, "path", {"d": svg_path(vertices, height), "fill": "none", "stroke": "#000",
                                     "stroke-width": "0.05", "data-layer": layer})
    ET.ElementTree(root).write(path, encoding="utf-8", xml_declaration=True)


def write_moves(path, contours, thickness):
    lines = ["G21 G17 G90 G94", "G0 Z25"]
    passes = max(1, math.ceil(thickness / PASS_MM))
    for _, vertices in contours:
        lines.append(f"G0 X{vertices[0][0]:.3f} Y{vertices[0][1]:.3f}")
        for step in range(1, passes + 1):
            lines.append(f"G1 Z{thickness * (1 - step / passes):.3f} F600")
            for (x0, y0, bulge), (x1, y1, _) in zip(vertices, vertices[1:] + vertices[:1]):
                if abs(bulge) < 1e-9:
                    lines.append(f"G1 X{x1:.3f} Y{y1:.3f} F3000")
                else:
                    k = (1 / bulge - bulge) / 4
                    i, j = (x1 - x0) / 2 - (y1 - y0) * k, (y1 - y0) / 2 + (x1 - x0) * k
                    lines.append(f"{'G3' if bulge > 0 else 'G2'} X{x1:.3f} Y{y1:.3f} I{i:.3f} J{j:.3f}")
        lines.append("G0 Z25")
    path.write_text("\n".join(lines) + "\nM2\n", encoding="ascii")


def main(job_file: Path, out: Path) -> None:
    begun = time.perf_counter()
    job = json.loads(job_file.read_text(encoding="utf-8"))
    for folder in ("parts", "sheets", "gcode"):
        (out / folder).mkdir(parents=True, exist_ok=True)
    parts = {part["id"]: part for part in job["parts"]}
    for part in job["parts"]:
        contours = [(c["layer"], [tuple(v) for v in c["vertices"]]) for c in part["contours"]]
        stem = out / part["files"][0].rsplit(".", 1)[0]
        write_dxf(stem.with_suffix(".dxf"), contours)
        write_svg(stem.with_suffix(".svg"), part["x_mm"], part["y_mm"], contours)
    on_sheet = {}
    for sheet in job["sheets"]:
        contours = [
            (c["layer"], turned(c["vertices"], placement))
            for placement in sheet["placements"]
            for c in parts[placement["part"]]["contours"]
        ]
        on_sheet[sheet["board"], sheet["number"]] = contours
        stem = out / sheet["files"][0].rsplit(".", 1)[0]
        write_dxf(stem.with_suffix(".dxf"), contours)
        write_svg(stem.with_suffix(".svg"), sheet["length_mm"], sheet["width_mm"], contours)
    for program in job["programs"]:
        contours = on_sheet[program["board"], program["sheet"]]
        write_moves(out / program["file"], contours, program["thickness_mm"])
    with open(out / "cut-list.csv", "w", newline="", encoding="utf-8") as file:
        rows = csv.writer(file)
        rows.writerow(["id", "name", "board", "quantity", "length_mm", "width_mm"])
        rows.writerows([p[k] for k in ("id", "name", "board", "quantity", "length_mm", "width_mm")] for p in job["parts"])
    (out / "job.json").write_text(json.dumps(job, indent=1), encoding="utf-8")
    seconds = time.perf_counter() - begun
    written = [p for p in out.rglob("*") if p.is_file()]
    print(json.dumps({"seconds": seconds, "files": len(written), "bytes": sum(p.stat().st_size for p in written)}))


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
