"""What the report says of numbers that have not settled on any mesh."""

from __future__ import annotations

from deflect.findings import Advice
from deflect.report.data import as_json
from deflect.report.sections import evidence


def test_the_report_says_which_numbers_have_not_settled(advice: Advice) -> None:
    text = " ".join(str(evidence.fragment(advice)).split())
    assert "twice more with finer patches" in text
    assert "<b>Not settled: greatest gap.</b> Read it with that error; still finer patches were too many" in text
    assert '<tr><th>Greatest gap</th><td class="n">0.004 mm</td><td>no</td></tr>' in text
    assert '<tr><th>Table sag</th><td class="n">0.001 mm</td><td>yes</td></tr>' in text


def test_the_data_say_so_as_well(advice: Advice) -> None:
    told = as_json(advice)["mesh_error"]
    assert told["not_settled"] == ["gap"]
    assert (told["finer_meshes"], told["finest_is_capped"]) == (2, True)
