"""DXF through ezdxf with its auditor, and through GDAL."""

import warnings
from collections import Counter

import ezdxf
import ezdxf.bbox
import fiona

from expected import Line, all_near, bounds_of, near, paired

NOTE = "NOTE-DO-NOT-CUT"


def read(report, path, name, job, drawing):
    scale = 25.4 if job["cut_file_units"] == "in" else 1.0
    by_ezdxf(report, path, name, job, drawing, scale)
    by_gdal(report, path, name, drawing, scale)


def by_ezdxf(report, path, name, job, drawing, scale):
    document = ezdxf.readfile(path)
    audit = document.audit()
    report.check(name, "the auditor finds no error", not audit.errors, str([e.message for e in audit.errors][:2]))
    report.check(name, "the auditor mends nothing", not audit.fixes, str([e.message for e in audit.fixes][:2]))
    header = document.header
    if job["dxf_release"] == 12:
        report.check(name, "is release 12", document.dxfversion == "AC1009", document.dxfversion)
    else:
        report.check(name, "is release 2000", document.dxfversion == "AC1015", document.dxfversion)
        wanted = (1, 0) if scale != 1.0 else (4, 1)
        report.check(name, "names its unit", (header["$INSUNITS"], header["$MEASUREMENT"]) == wanted)
    comments = path.read_text(encoding="ascii").split("SECTION", 1)[0]
    for words in (job["revision"], "real thickness", "finished edge"):
        report.check(name, f"heading says {words}", words in comments)
    entities = list(document.modelspace())
    layers = drawing.by_layer()
    cut = [e for e in entities if e.dxf.layer != NOTE]
    kinds = {e.dxftype() for e in cut}
    report.check(name, "cut layers hold only closed polylines and circles", kinds <= {"LWPOLYLINE", "POLYLINE", "CIRCLE"}, str(kinds))
    used = {e.dxf.layer for e in entities}
    report.check(name, "layers in use are those of job.json", used - {NOTE} == set(layers), str(used ^ set(layers)))
    declared = {layer.dxf.name for layer in document.layers} - {"0", "Defpoints"}
    report.check(name, "only layers in use are declared", declared == used, str(declared ^ used))
    alphabet = set("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789$-_")
    report.check(name, "layer names are plain", all(len(n) <= 31 and set(n) <= alphabet for n in used))
    for layer, lines in layers.items():
        found = [line_of(e, scale) for e in cut if e.dxf.layer == layer]
        compare(report, name, f"ezdxf, {layer}", found, lines)
    for e in cut:
        if e.dxftype() in ("LWPOLYLINE", "POLYLINE"):
            closed = e.closed if e.dxftype() == "LWPOLYLINE" else e.is_closed
            report.check(name, "every polyline has its closed flag", bool(closed))
            v = line_of(e, 1.0).vertices
            steps = [abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in zip(v, v[1:] + v[:1])]
            report.check(name, "no vertex twice", min(steps) > 1e-7)
    box = ezdxf.bbox.extents(cut)
    low, high = box.extmin, box.extmax
    mine = bounds_of(drawing.lines)
    report.check(name, "ezdxf's own bounds", all_near([c * scale for c in (low.x, low.y, high.x, high.y)], mine, 0.05))
    if drawing.is_sheet:
        mine = (min(0, mine[0]), min(0, mine[1]), max(drawing.size[0], mine[2]), max(drawing.size[1], mine[3]))
    stated = [header["$EXTMIN"][0], header["$EXTMIN"][1], header["$EXTMAX"][0], header["$EXTMAX"][1]]
    report.check(name, "extents in the header", all_near([c * scale for c in stated], mine, 0.002), f"{stated} {mine}")


def line_of(entity, scale):
    layer = entity.dxf.layer
    if entity.dxftype() == "CIRCLE":
        x, y, r = entity.dxf.center.x * scale, entity.dxf.center.y * scale, entity.dxf.radius * scale
        return Line(layer, [(x - r, y, 1.0), (x + r, y, 1.0)], True)
    if entity.dxftype() == "LWPOLYLINE":
        points = entity.get_points("xyb")
    else:
        points = [(v.dxf.location.x, v.dxf.location.y, v.dxf.get("bulge", 0.0)) for v in entity.vertices]
    return Line(layer, [(x * scale, y * scale, b) for x, y, b in points])


def compare(report, name, what, found, wanted):
    """Same number of lines, and pairwise the same area, length and bounds."""
    if not report.check(name, f"{what}: {len(wanted)} lines", len(found) == len(wanted), f"{len(found)}"):
        return
    keyed = lambda lines: [(line.area(), line.bounds(), line) for line in lines]
    for a, b in paired(keyed(found), keyed(wanted)):
        report.check(name, f"{what}: round shapes", a.round == b.round)
        report.check(name, f"{what}: area", near(a.area(), b.area(), 1e-6, 1e-4), f"{a.area()} {b.area()}")
        report.check(name, f"{what}: length", near(a.length(), b.length(), 1e-6, 1e-4), f"{a.length()} {b.length()}")
        report.check(name, f"{what}: bounds", all_near(a.bounds(), b.bounds(), 0.002), f"{a.bounds()} {b.bounds()}")


def by_gdal(report, path, name, drawing, scale):
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with fiona.open(path) as source:
            features = [(f.properties["Layer"], f.geometry.type, f.geometry.coordinates) for f in source]
    cut = [f for f in features if f[0] != NOTE]
    wanted = Counter(line.layer for line in drawing.lines)
    report.check(name, "GDAL counts as many lines per layer", Counter(f[0] for f in cut) == wanted)
    report.check(name, "GDAL sees closed lines", all(k == "Polygon" or c[0][:2] == c[-1][:2] for _, k, c in cut))
    for layer, lines in drawing.by_layer().items():
        mine = sum(line.area() for line in lines)
        theirs = sum(shoelace(k, c) for l, k, c in cut if l == layer) * scale * scale
        # GDAL draws arcs as chords of about four degrees: a full circle loses 0.08 %.
        report.check(name, f"GDAL's area on {layer}", near(mine, theirs, 1.5e-3), f"{theirs} {mine}")


def shoelace(kind, coordinates):
    ring = coordinates[0] if kind == "Polygon" else coordinates
    points = [(p[0], p[1]) for p in ring]
    return abs(sum(x * y1 - x1 * y for (x, y), (x1, y1) in zip(points, points[1:] + points[:1]))) / 2
