"""Case files: TOML → model, with every mistake told at once.

read_press, read_die, read and read_case make model values of files or of demo cases;
schema and template help to write such files; demo_cases lists those that come along.
"""

from deflect.casefile.kinds import CaseKind
from deflect.casefile.names import demo_cases
from deflect.casefile.reading import Written, read, read_case, read_die, read_press
from deflect.casefile.schema import schema
from deflect.casefile.template import template

__all__ = ["CaseKind", "Written", "demo_cases", "read", "read_case", "read_die", "read_press", "schema", "template"]
