"""``python -m bench [subject ...]``: every bench/measure_<subject>.py, each with ``measure(report)``."""

import importlib
import os
import pkgutil
import sys

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the command line does, before numpy is imported

import bench
from bench.report import Report


def main() -> int:
    """Run the measurements asked for (all by default)."""
    found = [m.name for m in pkgutil.iter_modules(bench.__path__) if m.name.startswith("measure_")]
    subjects = sorted(name.removeprefix("measure_") for name in found)
    asked = sys.argv[1:] or subjects
    report = Report()
    for subject in asked:
        if subject not in subjects:
            print(f"bench: no measurement {subject}; there are {', '.join(subjects)}", file=sys.stderr)
            return 1
        print(f"-- {subject}", flush=True)
        importlib.import_module(f"bench.measure_{subject}").measure(report)
    print(f"{len(report.rows)} measured, {report.over} over their limit")
    return 1 if report.over else 0


if __name__ == "__main__":
    sys.exit(main())
