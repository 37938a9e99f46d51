"""Case files: TOML → model, with every mistake told at once.

read_measured makes a press and what was measured on it, calibrated_text writes a press file that remembers it;
read_press, read_die, read and read_case make model values of files or of demo cases;
schema and template help to write such files; demo_cases lists those that come along;
Changes are made to a file before it is read.
"""

from deflect.casefile.changes import Changes
from deflect.casefile.kinds import CaseKind
from deflect.casefile.measured import calibrated_text, read_measured
from deflect.casefile.names import demo_cases
from deflect.casefile.reading import Written, read, read_case, read_die, read_press
from deflect.casefile.schema import schema
from deflect.casefile.template import template

__all__ = [
    "CaseKind",
    "Changes",
    "Written",
    "calibrated_text",
    "demo_cases",
    "read",
    "read_case",
    "read_die",
    "read_measured",
    "read_press",
    "schema",
    "template",
]
