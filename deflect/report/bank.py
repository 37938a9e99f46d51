"""The judgement bank as a page: what a tool room says, what the adviser says, where they differ and why."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from deflect.checks.bank import Answer, Compared
from deflect.findings import Verdict
from deflect.outputs import put

PAGE, ANSWERS = "bank.md", "bank.json"
_NONE = "nothing"
_OPENING = """\
# Judgement bank

Situations of the invented Fernhollow body shop: a demo die on a demo press, changed in a few keys
(`cases/bank/situations.toml`). What a tool room would say of each (common practice, no source) was written down before
any was solved. Nothing was tuned to it, neither tool nor expectation: where both differ, both stand here, with a reason
where one can be seen (`cases/bank/remarks.toml`). Solved at the usual values and at both corners of the ranges.

The tool's main fault agrees where the one that was expected is among the rules that break or are left undecided, or,
of a verdict for want of data, among those that could not be asked. Its first choice is the first remedy of its list.

Written by `python -m deflect.report bank`.
"""


def page(compared: Sequence[Compared], remarks: Mapping[str, str]) -> str:
    """The page as Markdown."""
    lines = [_OPENING, "## In short", ""]
    for point in ("verdict", "main fault", "first choice", "never first"):
        lines.append(f"* {point}: {sum(one.points[point] for one in compared)} of {len(compared)} agree")
    lines += [f"* in all four: {sum(one.agrees for one in compared)} of {len(compared)}", ""]
    lines += ["| situation | user | tool room: verdict, fault, first | tool: verdict, faults, first | differ in |"]
    lines += ["|---|---|---|---|---|"]
    for one in compared:
        said, answer = one.situation.said, one.answer
        apart = ", ".join(point for point, agrees in one.points.items() if not agrees)
        lines.append(
            f"| {one.situation.id} | {one.situation.user} "
            f"| {said.verdict.value}, {said.fault or 'none'}, {said.first or _NONE} "
            f"| {answer.verdict.value}, {' + '.join(answer.faults) or 'none'}, {answer.first or _NONE} "
            f"| {apart or '–'} |"
        )
    lines += ["", "## Where they differ", ""]
    for one in compared:
        if not one.agrees:
            lines += [*_told(one), f"Why: {remarks.get(one.situation.id, 'no reason is seen yet.')}", ""]
    lines += ["## Where they agree", ""]
    for one in compared:
        if one.agrees:
            lines += _told(one)
    return "\n".join(lines).rstrip() + "\n"


def _told(one: Compared) -> list[str]:
    situation, said = one.situation, one.situation.said
    return [
        f"### {situation.id}",
        f"`{situation.die}` on `{situation.press}`. {situation.story}",
        "",
        f"Tool room: **{said.verdict.value}**, fault {said.fault or 'none'}, first {said.first or _NONE}, never first "
        f"{said.never_first}. {said.because}",
        "",
        f"Tool: **{one.answer.verdict.value}**, faults {', '.join(one.answer.faults) or 'none'}, remedies in its "
        f"order: {', '.join(one.answer.remedies) or _NONE}.",
        "",
    ]


def kept(folder: Path) -> dict[str, Answer]:
    """The answers of an earlier run, by situation; none where there was none."""
    file = folder / ANSWERS
    if not file.is_file():
        return {}
    rows = json.loads(file.read_text(encoding="utf-8"))
    return {
        name: Answer(Verdict(row["verdict"]), tuple(row["faults"]), tuple(row["remedies"]), row["input_hash"])
        for name, row in rows.items()
    }


def write(compared: Sequence[Compared], remarks: Mapping[str, str], folder: Path) -> Path:
    """Write page and answers. Returns the page's path."""
    answers = {one.situation.id: _row(one.answer) for one in compared}
    put(folder / ANSWERS, json.dumps(answers, indent=1) + "\n")
    put(folder / PAGE, page(compared, remarks))
    return folder / PAGE


def _row(answer: Answer) -> dict[str, object]:
    return {
        "verdict": answer.verdict.value,
        "faults": list(answer.faults),
        "remedies": list(answer.remedies),
        "input_hash": answer.input_hash,
    }


def shown(compared: Iterable[Compared]) -> list[str]:
    """A line a situation for the terminal."""
    return [
        f"{one.situation.id}: {'agrees' if one.agrees else 'differs'}; {one.answer.verdict.value}, "
        f"{', '.join(one.answer.faults) or 'no fault'}, first {one.answer.first or _NONE}"
        for one in compared
    ]
