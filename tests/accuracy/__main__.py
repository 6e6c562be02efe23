"""Measure everything again on simulated truth and print it: `python -m tests.accuracy [MODULE ...]`.

Takes some minutes. The suite runs small versions of the same measurements.
"""

import sys
from importlib import import_module

# In the order printed.
MODULES = ("calibration", "region_statistic", "weak_readings", "strand_mix", "fading", "forecasting", "nets")


def main(names: list[str]) -> int:
    unknown = [name for name in names if name not in MODULES]
    if unknown:
        print(f"no such table: {', '.join(unknown)}; there are {', '.join(MODULES)}", file=sys.stderr)
        return 2
    for name in names or MODULES:
        for table in import_module(f"tests.accuracy.{name}").tables():
            print(table.text(), end="\n\n", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
