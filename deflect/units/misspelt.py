"""What a word that is not known was most likely meant to be."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches

_LIKE = 0.6
"""Likeness by which words are sifted first, for it is quick: whatever is near by its slips is more alike than that."""
_LETTERS_PER_SLIP = 3
"""Letters of the longer word for each slip: with more slips than that, two words have nothing to do with each other."""
_LEAST_BEGINNING = 2
"""Letters of a word that another may go on from."""


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that takes the fewest slips to become ``word``, or None where none is near.

    Near is a word with few slips for its length, and one that goes on where the other ends ("thick", "width_mm").
    Capitals do not count.
    """
    folded = {name.casefold(): name for name in known}
    typed = word.casefold()
    alike = get_close_matches(typed, folded, n=max(len(folded), 1), cutoff=_LIKE)
    near = [(slips, name) for name in alike if (slips := _slips(typed, name)) <= _most(typed, name)]
    return folded[min(near, key=lambda found: found[0])[1]] if near else None


def _most(one: str, other: str) -> int:
    """Slips up to which two words count as near."""
    shorter, longer = sorted((one, other), key=len)
    goes_on = len(shorter) >= _LEAST_BEGINNING and longer.startswith(shorter)
    return len(longer) - len(shorter) if goes_on else len(longer) // _LETTERS_PER_SLIP


def _slips(one: str, other: str) -> int:
    """Letters left out, put in, taken for another, or swapped with the next, that lie between two words.

    Source: Damerau, A technique for computer detection and correction of spelling errors, Comm. ACM 7 (1964) 171
    (from memory); no letter is touched twice.
    """
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, a in enumerate(one, 1):
        before, above, row = row, before, [i]
        for j, b in enumerate(other, 1):
            slips = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (a != b))
            if i > 1 and j > 1 and a == other[j - 2] and b == one[i - 2]:
                slips = min(slips, above[j - 2] + 1)
            row.append(slips)
    return row[-1]
