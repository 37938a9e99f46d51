"""A number by which two reports can tell whether they rest on the same case files."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable

from deflect.casefile.changes import AS_WRITTEN, Changes
from deflect.casefile.document import Document


def input_hash(documents: Iterable[Document], changes: Iterable[Changes] = ()) -> str:
    """SHA-256 (FIPS 180-4) over the texts as read and what was changed of them, 64 hexadecimal digits.

    Line ends and a mark at the start of a file do not count: they differ from one computer to the next.
    """
    found = hashlib.sha256()
    parts = [document.text.replace("\r\n", "\n") for document in documents]
    parts += [json.dumps([one.values, one.without], sort_keys=True) for one in changes if one != AS_WRITTEN]
    for part in parts:
        # Each text apart, so that a line that moves from one file to the next is noticed.
        found.update(hashlib.sha256(part.encode()).digest())
    return found.hexdigest()
