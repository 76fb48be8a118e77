"""G-code through pygcode, with arcs, depths, rapids and bounds followed here."""

from math import hypot

import pygcode


def read(report, path, name, job, program):
    text = path.read_bytes().decode("ascii")
    inch = job["cut_file_units"] == "in"
    scale = 25.4 if inch else 1.0
    sheet = next(s for s in job["sheets"] if s["board"] == program["board"] and s["number"] == program["sheet"])
    for fact in (job["revision"], "real thickness", "tool centre"):
        report.check(name, f"heading says {fact}", fact in text)
    state = Walk(report, name, program, scale)
    modal = None
    section, spun, turning = 1, False, False
    for number, raw in enumerate(text.splitlines(), 1):
        line = raw.strip()
        if not line or line == "%" or line.startswith("O"):
            continue
        block = pygcode.Line(line).block
        words = {w.letter: w.value for w in block.words if w.letter not in "GMN"}
        codes = [f"G{w.value_str.lstrip('0') or '0'}" for w in block.words if w.letter == "G"]
        codes += [f"M{w.value_str.lstrip('0') or '0'}" for w in block.words if w.letter == "M"]
        # The next cutter is put in where the file stops after the spindle has run and stands.
        spun, turning = spun or "M3" in codes, "M3" in codes or (turning and "M5" not in codes)
        if "M0" in codes and spun and not turning:
            section, spun = section + 1, False
            state.at["Z"] = None
        for code in codes:
            if code in ("G0", "G1", "G2", "G3", "G80", "G81", "G83"):
                modal = code
            state.note(code)
        if any(c in ("G4", "G10", "G28", "G30", "G53", "G92") for c in codes):
            continue
        if any(letter in words for letter in "XYZ"):
            state.move(number, modal, words, section == program["section"])
    state.finish(inch, sheet)


class Walk:
    """The tool's tip, in mm."""

    def __init__(self, report, name, program, scale):
        self.report, self.name, self.program, self.scale = report, name, program, scale
        self.at = {"X": None, "Y": None, "Z": None}
        self.codes = []
        self.moves = 0
        self.low = {"X": float("inf"), "Y": float("inf"), "Z": float("inf")}
        self.high = {"X": float("-inf"), "Y": float("-inf"), "Z": float("-inf")}

    def note(self, code):
        self.codes.append(code)

    def move(self, number, modal, words, mine):
        if not mine:
            self.at.update({letter: words[letter] * self.scale for letter in "XYZ" if letter in words})
            return
        report, name, scale = self.report, self.name, self.scale
        target = dict(self.at)
        for letter in "XYZ":
            if letter in words:
                target[letter] = words[letter] * scale
        if self.moves == 0:
            up = modal == "G0" and set(words) & set("XYZ") == {"Z"}
            report.check(name, "first move is straight up", up, f"line {number}")
        self.moves += 1
        top = self.program["clearance_mm"] - self.zero()
        if modal == "G0" and (target["X"], target["Y"]) != (self.at["X"], self.at["Y"]):
            high = min(self.at["Z"] if self.at["Z"] is not None else top, target["Z"] if target["Z"] is not None else top)
            report.check(name, "no rapid sideways below clearance", high >= top - 0.001, f"line {number}")
        if modal in ("G2", "G3"):
            good = "R" not in words and ("I" in words or "J" in words)
            report.check(name, "arcs give their centre", good, f"line {number}")
            cx = self.at["X"] + words.get("I", 0.0) * scale
            cy = self.at["Y"] + words.get("J", 0.0) * scale
            first, last = hypot(self.at["X"] - cx, self.at["Y"] - cy), hypot(target["X"] - cx, target["Y"] - cy)
            limit = 0.0002 * 25.4 if scale != 1.0 else 0.002
            report.check(name, "both radii of an arc agree", abs(first - last) <= limit, f"line {number}: {first} {last}")
            report.check(name, "an arc ends elsewhere than it starts",
                         hypot(target["X"] - self.at["X"], target["Y"] - self.at["Y"]) > 1e-6, f"line {number}")
        if modal in ("G81", "G83"):
            self.see({**target})
            target["Z"] = max(words.get("R", 0.0) * scale, self.at["Z"] or 0.0)
        self.at = target
        self.see(target)

    def see(self, point):
        # At clearance height the tool may pass beyond the sheet: the park position belongs to the machine.
        height = point["Z"]
        clear = height is not None and height + self.zero() >= self.program["clearance_mm"] - 0.01
        for letter, value in point.items():
            if value is not None and (letter == "Z" or not clear):
                self.low[letter] = min(self.low[letter], value)
                self.high[letter] = max(self.high[letter], value)

    def zero(self):
        """Height of the program's zero over the spoilboard."""
        return self.program["thickness_mm"] if self.program["z_zero"] == "sheet-top" else 0.0

    def finish(self, inch, sheet):
        report, name, program = self.report, self.name, self.program
        report.check(name, "moves", self.moves > 0)
        report.check(name, "states its unit", ("G20" in self.codes, "G21" in self.codes) == (inch, not inch))
        for code in ("G17", "G90", "G94", "G40", "G80"):
            report.check(name, f"states {code}", code in self.codes)
        report.check(name, "ends", self.codes[-1] in ("M30", "M2"), self.codes[-1] if self.codes else "")
        deepest = self.low["Z"] + self.zero()
        report.check(name, "never below the floor", deepest >= -program["floor_mm"] - 0.001, f"{deepest}")
        reach = program["cutter"]["diameter_mm"] + 1.0
        inside = all(-reach <= self.low[a] and self.high[a] <= size + reach
                     for a, size in (("X", sheet["length_mm"]), ("Y", sheet["width_mm"])))
        report.check(name, "stays on the sheet", inside, f"{self.low} {self.high}")
