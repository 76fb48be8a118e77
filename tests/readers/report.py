"""Collects checks, prints them as a table."""

import traceback


class Report:
    def __init__(self):
        self.rows = {}
        self.faults = []
        self.passed = 0

    def check(self, file: str, what: str, good: bool, detail: str = "") -> bool:
        row = self.rows.setdefault(file, [0, 0])
        row[0 if good else 1] += 1
        if good:
            self.passed += 1
        else:
            self.faults.append(f"{file}: {what}" + (f" ({detail})" if detail else ""))
        return good

    def guard(self, file: str, function, *args) -> None:
        """Runs a reader; one that throws is a fault of the file, not the end of the reading."""
        try:
            function(*args)
        except Exception as error:  # noqa: BLE001: any reader may throw anything at a bad file
            where = traceback.extract_tb(error.__traceback__)[-1]
            self.check(file, "can be read", False, f"{type(error).__name__}: {error} at {where.name}")

    def finish(self) -> int:
        width = max(len(name) for name in self.rows)
        print(f"{'file':<{width}}  passed  failed")
        for name, (good, bad) in sorted(self.rows.items()):
            print(f"{name:<{width}}  {good:>6}  {bad:>6}")
        for fault in self.faults:
            print("FAULT", fault)
        print(f"{self.passed} passed, {len(self.faults)} failed")
        return 1 if self.faults else 0
