"""Large invented shops, for benchmarks and tests: the same seed, the same shop.

Sizes are drawn so that they suit each other as they do in a real shop; no figure is taken from a real press or die.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import numpy as np

from deflect.faults import OutputRefused
from deflect.outputs import aside, shown, why_not

_NOTE = "Invented for a benchmark: the Fernhollow body shop, made larger. No figure is taken from a real one."
# Dies that differ in base, pattern and place; the last share of a shop's dies are as broken files are.
_OPERATIONS = ("trim", "form", "restrike", "draw", "pierce")
_DIE_METALS = ("ductile iron GJS-600-3", "ductile iron GJS-500-7", "cast iron GJL-250")


def invent_shop(folder: Path, dies: int, presses: int, seed: int, broken: int = 0) -> tuple[Path, Path]:
    """Write ``dies`` and ``presses`` case files into two folders; ``broken`` of the dies cannot be read.

    Returns the folders of dies and presses.  Raises OutputRefused where the folder is not empty.
    """
    die_folder, press_folder = folder / "dies", folder / "presses"
    if any(place.exists() and any(place.iterdir()) for place in (die_folder, press_folder)):
        raise OutputRefused(f"{shown(folder)} holds dies or presses already: choose an empty folder")
    random = np.random.default_rng(seed)
    try:
        _write(press_folder, "press", presses, lambda k: _press(random, k))
        _write(die_folder, "die", dies, lambda k: _die(random, k) if k < dies - broken else _broken(random, k))
    except (OSError, ValueError) as error:
        raise OutputRefused(f"{shown(folder)} cannot be written: {why_not(error)}") from None
    return die_folder, press_folder


def _write(folder: Path, kind: str, count: int, text: Callable[[int], str]) -> None:
    digits = len(str(max(count - 1, 1)))
    files = [f"{kind}-{k:0{digits}d}.toml" for k in range(count)]
    with aside(folder) as ready:
        for k, file in enumerate(files):
            (ready / file).write_text(text(k), encoding="utf-8", newline="\n")
        for file in files:
            os.replace(ready / file, folder / file)


def _press(random: np.random.Generator, k: int) -> str:
    length = int(random.integers(14, 23)) * 200
    width = int(random.integers(round(length * 0.5 / 100), round(length * 0.62 / 100) + 1)) * 100
    rated = round(length * width / 1e6 * random.uniform(0.9, 1.6), 1)
    thickness = int(random.integers(20, 36)) * 10
    opening_x = round(length * random.uniform(0.5, 0.65) / 50) * 50
    opening_y = round(width * random.uniform(0.45, 0.6) / 50) * 50
    stiffness = int(random.integers(30, 120))
    shut = int(random.integers(11, 16)) * 100
    cushion = f'\n[press.cushion]\nforce = "{rated / 4:.1f} MN"\n' if random.random() < 0.6 else ""
    holes = (
        '\n[press.bolster.pin_holes]\npitch = "150 mm"\ndiameter = "50 mm"\n'
        f'region = {{x = "0 mm", y = "0 mm", length = "{opening_x - opening_x % 150} mm", '
        f'width = "{opening_y - opening_y % 150} mm"}}\n'
        if cushion
        else ""
    )
    dish = round(random.uniform(0, 0.12), 2)
    return f"""# {_NOTE}

[press]
name = "Invented press {k}"
rated_force = "{rated} MN"
permitted_offset = {{x = "{length // 10} mm", y = "{width // 12} mm"}}
shut_height = "{shut} mm"
slide_adjustment = "{shut // 3} mm"

[press.bolster]
length = "{length} mm"
width = "{width} mm"
thickness = "{thickness} mm"
dish = "{dish:.2f} mm"
material = "steel S355"
t_slots = {{width = "36 mm", pitch = "{int(random.choice([100, 200, 200, 300]))} mm", direction = "y"}}
permitted_mass = "{int(random.integers(20, 45))} t"
{holes}
[press.slide]
length = "{length - 100} mm"
width = "{width - 100} mm"
t_slots = {{width = "36 mm", pitch = "200 mm", direction = "y"}}
permitted_mass = "{int(random.integers(8, 20))} t"

[press.bed]
opening = {{length = "{opening_x} mm", width = "{opening_y} mm"}}
hold_downs = {{number = {int(random.choice([8, 12, 16]))}, preload = "200 kN", stiffness = "1500 kN/mm"}}

[press.bed.land]
stiffness = "{stiffness} to {2 * stiffness} N/mm3"

[press.acceptance]
slope = "{random.choice([0.125, 0.17, 0.25])} mm/m"
loaded_share = "60 %"
{cushion}"""


def _die(random: np.random.Generator, k: int) -> str:
    operation = str(random.choice(_OPERATIONS))
    length = int(random.integers(7, 16)) * 200
    width = round(length * random.uniform(0.45, 0.6) / 50) * 50
    thickness = int(random.integers(15, 50)) * 10
    area = length * width / 1e6
    force = round(area * random.uniform(0.8, 2.2), 2)
    height, upper = thickness + 200, int(random.integers(40, 60)) * 10
    cushion = (
        f'cushion_force = "{force * 0.2:.2f} MN"\ncushion_pins = [["0 mm", "0 mm"]]\n' if operation == "draw" else ""
    )
    reach = (
        f'[die.placing]\nx = "{int(random.integers(-1, 2)) * 200} mm"\ny = "{int(random.integers(-2, 3)) * 50} mm"\n'
    )
    slots = ", ".join(
        f'["{x} mm", "{y} mm"]'
        for y in (-(width // 2 - 40), width // 2 - 40)
        for x in (-(length // 2 // 200 * 200 - 200), -200, 200, length // 2 // 200 * 200 - 200)
    )
    half = "\n".join(
        f'[die.{name}.flange]\nthickness = "70 mm"\nslot_width = "36 mm"\nslots = [{slots}]\n'
        for name in ("lower", "upper")
    )
    return f"""# {_NOTE}

[die]
name = "Invented die {k}"
operation = "{operation}"
working_force = "{force} MN"
{cushion}closed_height = "{height + upper - 5} mm"

[die.base]
length = "{length} mm"
width = "{width} mm"
thickness = "{thickness} mm"
material = "{random.choice(_DIE_METALS)}"

[die.lower]
height = "{height} mm"

[die.upper]
height = "{upper} mm"

{half}
{reach}
{_forces(random, operation, length, width)}
[die.sheet]
thickness = "{random.choice([0.8, 1.0, 1.5, 2.0])} mm"
tensile_strength = "{int(random.choice([300, 450, 780]))} MPa"
"""


def _forces(random: np.random.Generator, operation: str, length: int, width: int) -> str:
    share = random.uniform(0.5, 0.9)
    a, b = round(length * share / 2), round(width * share / 2)
    if operation in ("trim", "pierce"):
        points = f'["{-a} mm", "{-b} mm"], ["{a} mm", "{-b} mm"], ["{a} mm", "{b} mm"], ["{-a} mm", "{b} mm"]'
        return f'[[die.forces]]\nkind = "line"\nclosed = true\npoints = [{points}]\n'
    place = f'x = "{int(random.integers(-2, 3)) * 40} mm"\ny = "0 mm"\nlength = "{a} mm"\nwidth = "{b} mm"\n'
    return f'[[die.forces]]\nkind = "patch"\n{place}share = "100 %"\n'


def _broken(random: np.random.Generator, k: int) -> str:
    """A die whose file cannot be read: a unit that is none, or a line cut short."""
    text = _die(random, k)
    return text.replace('working_force = "', 'working_force = "about ') if k % 2 else text[: len(text) // 2]
