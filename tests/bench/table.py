"""A table of benchmark runs, with ratios.  Of one core, processor time; of other programs and of pages, wall time."""

from __future__ import annotations

import json
import sys
import time
from pathlib import Path
from typing import Any

import numpy as np

_HOW = """\
python -m pytest -n 0 tests/bench --ignore tests/bench/test_calculix_speed.py --ignore tests/bench/test_start_up.py \\
  --benchmark-only --benchmark-timer=time.process_time --benchmark-json=processor.json
python -m pytest -n 0 tests/bench/test_calculix_speed.py tests/bench/test_start_up.py tests/desk/test_pace.py \\
  --benchmark-only --benchmark-json=wall.json
python tests/bench/table.py processor.json wall.json > reports/speed.md"""
_HEAD = f"""\
# How long it takes

Measured values of ours, on one machine; the ratios travel, the seconds do not.  Made by

```
{_HOW}
```

The floor is one sparse factorisation and one answer of each body by a general-purpose sparse solver, on the same
mesh: nobody who solves the two plates can go below it.
"""
_YARD = 1000  # rows of the square matrices that measure the machine
_COUNTED = 5_000_000


def yardstick() -> str:
    """How quick this machine is at what a check does: dense products, and plain Python."""
    square = np.random.default_rng(0).random((_YARD, _YARD))
    _ = square @ square
    start = time.perf_counter()
    _ = square @ square
    dense = 2 * _YARD**3 / (time.perf_counter() - start) / 1e9
    start, total = time.perf_counter(), 0
    for k in range(_COUNTED):
        total += k
    return (
        f"{dense:.0f} GFlop/s in a dense product on one core; {time.perf_counter() - start:.2f} s to count to 5 million"
    )


def seconds(value: float) -> str:
    return f"{value:.2f} s" if value >= 1 else f"{1e3 * value:.3g} ms"


def growth(runs: list[dict[str, Any]]) -> list[str]:
    """Rows of one size each; cold and re-solve as ratios to the floor of the same size."""
    sizes: dict[str, dict[str, dict[str, Any]]] = {}
    for run in runs:
        name, _, size = run["name"].partition("[")
        sizes.setdefault(size.rstrip("]"), {})[name] = run
    lines = [
        "| patch, element (mm) | contact patches | ports | unknowns | floor | cold check | over floor | new place "
        "| new force | cold over new force |",
        "|---|---|---|---|---|---|---|---|---|---|",
    ]
    for size, by_name in sizes.items():
        info = by_name["test_floor"]["extra_info"]
        floor, cold, place, force = (
            by_name[name]["stats"]["median"]
            for name in ("test_floor", "test_cold_check", "test_new_position", "test_new_force")
        )
        lines.append(
            f"| {size.replace('patch ', '').replace(' mesh ', ' ')} | {info['contact patches']} | {info['ports']} "
            f"| {info['unknowns of the plates']} | {seconds(floor)} | {seconds(cold)} | {cold / floor:.0f} "
            f"| {seconds(place)} | {seconds(force)} | {cold / force:.0f} |"
        )
    return lines


def others(runs: list[dict[str, Any]]) -> list[str]:
    lines = ["| what | median | least | over a new force | rounds |", "|---|---|---|---|---|"]
    unit = next((r["stats"]["median"] for r in runs if r["fullname"].endswith("check_speed.py::test_new_force")), None)
    for run in sorted(runs, key=lambda r: r["stats"]["median"]):
        stats = run["stats"]
        file = Path(run["fullname"].split("::")[0]).stem.removeprefix("test_")
        ratio = "" if unit is None else f"{stats['median'] / unit:.3g}"
        name = run["name"].removeprefix("test_").replace("_", " ")
        lines.append(
            f"| {file}: {name} | {seconds(stats['median'])} | {seconds(stats['min'])} | {ratio} | {stats['rounds']} |"
        )
    return lines


def started(runs: list[dict[str, Any]]) -> list[str]:
    rows = [(run["param"], seconds(run["stats"]["median"])) for run in runs]
    return ["| until | median |", "|---|---|", *(f"| {name} | {took} |" for name, took in rows)]


def pace(runs: list[dict[str, Any]]) -> list[str]:
    """What the page itself measured, from the event to the drawn picture."""
    lines = ["| event | median | at most |", "|---|---|---|"]
    for run in runs:
        name, told = run["name"].removeprefix("test_").replace("_", " "), run["extra_info"]
        lines.append(f"| {name} | {told['in the page, ms']:.0f} ms | {told['at most, ms']:.0f} ms |")
    return lines


def beside(runs: list[dict[str, Any]]) -> list[str]:
    """The same sag, as near to the converged solids, by this program and by a general-purpose solid solver."""
    by_name = {run["name"].removeprefix("test_"): run for run in runs}
    lines = ["| what | wall time | the solid solver takes so many times as long | sag, mm |", "|---|---|---|---|"]
    solid = by_name.get("calculix")
    for name, run in by_name.items():
        took = run["stats"]["median"]
        times = "" if solid is None or run is solid else f"{solid['stats']['median'] / took:.3g}"
        sag = run["extra_info"].get("sag, mm")
        lines.append(
            f"| {name.replace('_', ' ')} | {seconds(took)} | {times} | {'' if sag is None else f'{sag:.4f}'} |"
        )
    if solid is None:
        lines += ["", "The solid solver (Debian: calculix-ccx) was not there."]
    return lines


# Files of benchmarks with a table of their own: its heading, and what makes its rows.
_TABLES = {
    "test_growth": ("Growth", growth),
    "test_calculix": ("Beside a general-purpose three-dimensional solver with contact", beside),
    "test_start_up": ("From the command's start, wall time on one core", started),
    "test_pace": ("From an event to its picture on the desk, in a real browser", pace),
}


def main() -> None:
    """Of one run, or of several, each in a file."""
    files = [json.loads(Path(name).read_text(encoding="utf-8")) for name in sys.argv[1:]]
    runs = [one for file in files for one in file["benchmarks"]]
    lines = [_HEAD]
    for file, (heading, table) in _TABLES.items():
        here = [one for one in runs if file in one["fullname"]]
        runs = [one for one in runs if one not in here]
        lines += [f"## {heading}", "", *table(here), ""] if here else []
    lines += ["## Everything else, processor time on one core", "", *others(runs), "", "## The machine", ""]
    sys.stdout.write("\n".join([*lines, yardstick(), ""]))


if __name__ == "__main__":
    main()
