"""A setting of the sliders, solved, as plain numbers for the lesson page."""

from __future__ import annotations

from typing import Any

import numpy as np

from deflect.desk.lesson.teaching import Setting, case_of
from deflect.desk.picture import arrows, picture
from deflect.mechanics.analysis import governing_sag_of
from deflect.mechanics.glance import Pressed, rise, walk

Plain = dict[str, Any]
SHARES = (0.0, 0.1, 0.25, 0.5, 0.75, 1.0)
"""Shares of the rated working force at which a setting is solved; between them the page draws straight lines."""
COARSER = 1.5
"""The lesson's mesh against the usual one: five times as quick; what that costs is measured and told in the page."""


def solved(setting: Setting, with_walk: bool = True, coarser: float = COARSER) -> Plain:
    """Everything that the page shows of a setting: pictures at every share, numbers, walk."""
    case = case_of(setting)
    pressed = rise(case, SHARES, coarser)
    first = picture(pressed[-1].solution)
    kept = {key: first[key] for key in ("bolster", "opening", "die", "x", "y", "posts", "keys", "forces")}
    cut = first["cuts"]["x"]
    told: Plain = kept | {
        "setting": _setting(setting),
        "force": case.die.working_force / 1e6,
        "place": cut["place"],
        "lands": cut["lands"],
        "half": cut["half"],
        "arrows": arrows(case, "x"),
        "states": [_state(one) for one in pressed],
    }
    if with_walk:
        told["walk"] = walked(setting, coarser)
    return told


def walked(setting: Setting, coarser: float = COARSER) -> Plain:
    """Creep of the free die in µm a stroke, and what keys or cones take in kN."""
    found = walk(case_of(setting), coarser)
    return {
        "creep": round(float(np.hypot(*found.creep)) * 1e3, 3),
        "to_right": found.creep[0] >= 0,
        "holds": [[name, round(force / 1e3, 1)] for name, _, force in found.holds],
    }


def _state(pressed: Pressed) -> Plain:
    solution = pressed.solution
    told = picture(solution)
    cut = told["cuts"]["x"]
    return {
        "table": cut["table"],
        "under": cut["under"],
        "gap": told["gap"],
        "greatest": told["greatest"],
        "at": told["at"],
        "contact": round(solution.contact_share, 4),
        "sag": round(governing_sag_of(solution.sag), 5),
        "face": round(solution.face.error_range, 5),
        "breathing": round(pressed.breathing, 5),
    }


def _setting(setting: Setting) -> Plain:
    return {
        "bolster": setting.bolster,
        "opening": setting.opening,
        "base": setting.base,
        "spread": setting.spread,
        "switch": setting.switch,
    }
