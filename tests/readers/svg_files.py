"""SVG through svgpathtools (true arcs), svgelements (page and units) and cairosvg (the picture's physical size)."""

import io
import struct
import xml.etree.ElementTree as ET
from math import cos, radians, sin

import cairosvg
import svgelements
import svgpathtools

from expected import all_near, near, paired

SVG = "{http://www.w3.org/2000/svg}"
RANKS = ["MARK", "FOLD", "DRILL", "COUNTERSINK", "POCKET", "THROUGH-INSIDE", "THROUGH-OUTSIDE"]


def read(report, path, name, job, drawing):
    inch = job["cut_file_units"] == "in"
    scale = 25.4 if inch else 1.0
    root = ET.parse(path).getroot()
    page(report, root, name, drawing, "in" if inch else "mm", scale)
    words = "".join(root.itertext())
    for fact in (job["revision"], "real thickness", "finished edge"):
        report.check(name, f"heading says {fact}", fact in words)
    for note in [g for g in root if g.get("id") == "note"]:
        report.check(name, "notes only on a sheet", drawing.is_sheet)
        root.remove(note)
    groups = [g for g in root if g.tag == SVG + "g"]
    report.check(name, "no transform on anything that is cut", not any(e.get("transform") for e in root.iter()))
    drawn = {e.tag for g in groups for e in g.iter()}
    report.check(name, "cut lines are paths in groups", drawn <= {SVG + "g", SVG + "path"}, str(drawn))
    paths = []
    for group in groups:
        ranks = []
        for layer in group:
            layer_name = layer.get("data-layer")
            plain = layer_name.removeprefix("UNDER-")
            ranks.append(next(i for i, r in enumerate(RANKS) if plain.startswith(r)))
            paths += [(layer_name, p) for p in layer]
        report.check(name, "marks, inner cuts, outline, in this order", ranks == sorted(ranks) and ranks[-1] == 6, str(ranks))
    hair = all(p.get("fill") == "none" and 0 < float(p.get("stroke-width")) * scale <= 0.0501 for _, p in paths)
    report.check(name, "hairlines without fill", hair)
    for layer, lines in drawing.by_layer().items():
        found = [measure(p.get("d"), drawing.size[1], scale) for l, p in paths if l == layer]
        compare(report, name, f"svgpathtools, {layer}", found, lines)
    report.check(name, "no line too many", len(paths) == len(drawing.lines), f"{len(paths)}")
    by_svgelements(report, path, name, drawing)
    picture(report, path, name, drawing)


def page(report, root, name, drawing, unit, scale):
    box = [float(v) for v in root.get("viewBox").split()]
    sizes = [root.get("width"), root.get("height")]
    report.check(name, "page size has the unit", all(s.endswith(unit) for s in sizes), str(sizes))
    numbers = [float(s.removesuffix(unit)) for s in sizes]
    report.check(name, "viewBox has the same numbers", box == [0, 0, *numbers], str(box))
    report.check(name, "page is as large as the part or sheet", all_near([n * scale for n in numbers], drawing.size, 0.001))


def measure(d, height, scale):
    """Area, length and bounds (y up, mm) of a path, from the library's own reading of its arcs."""
    path = svgpathtools.parse_path(d)
    twice, length = 0.0, 0.0
    for s in path:
        length += s.length()
        if isinstance(s, svgpathtools.Arc):
            r, c = s.radius.real, s.center
            t0, sweep = radians(s.theta), radians(s.delta)
            t1 = t0 + sweep
            twice += r * r * sweep + r * (c.real * (sin(t1) - sin(t0)) - c.imag * (cos(t1) - cos(t0)))
        else:
            a, b = s.start, s.end
            twice += a.real * b.imag - b.real * a.imag
    x0, x1, y0, y1 = path.bbox()
    closed = abs(path[-1].end - path[0].start) < 1e-9
    bounds = (x0 * scale, height - y1 * scale, x1 * scale, height - y0 * scale)
    return abs(twice) / 2 * scale * scale, length * scale, bounds, closed


def compare(report, name, what, found, wanted):
    if not report.check(name, f"{what}: {len(wanted)} lines", len(found) == len(wanted), f"{len(found)}"):
        return
    mine = [(line.area(), line.bounds(), line) for line in wanted]
    for (area, length, bounds, closed), line in paired([(f[0], f[2], f) for f in found], mine):
        report.check(name, f"{what}: closed", closed)
        report.check(name, f"{what}: area", near(area, line.area(), 1e-6, 1e-4), f"{area} {line.area()}")
        report.check(name, f"{what}: length", near(length, line.length(), 1e-6, 1e-4), f"{length} {line.length()}")
        report.check(name, f"{what}: bounds", all_near(bounds, line.bounds(), 0.002), f"{bounds} {line.bounds()}")


def by_svgelements(report, path, name, drawing):
    """The whole length of all cuts, through a reader that works in pixels of 1/96 inch."""
    document = svgelements.SVG.parse(str(path), ppi=96)
    cuts = [e for e in document.elements() if isinstance(e, svgelements.Path) and e.values.get("data-feature")]
    length = sum(e.length(error=1e-6) for e in cuts) / 96 * 25.4
    wanted = sum(line.length() for line in drawing.lines)
    report.check(name, "svgelements measures the same length", near(length, wanted, 1e-5), f"{length} {wanted}")


def picture(report, path, name, drawing):
    """One pixel per mm: the picture is as many pixels as the part is mm."""
    png = cairosvg.svg2png(url=str(path), dpi=25.4)
    width, height = struct.unpack(">II", io.BytesIO(png).getvalue()[16:24])
    report.check(name, "picture has the physical size", all_near((width, height), drawing.size, 1.01), f"{width} x {height}")
