"""Why a rule came out as it did, and the list of all rules, remedies and cautions."""

from __future__ import annotations

from deflect.advice import all_cautions, all_remedies, all_rules
from deflect.findings import Advice, Finding, Rule
from deflect.report.headlines import value_shown
from deflect.report.wording import bound, sentence


def explain(advice: Advice, rule_id: str) -> str | None:
    """Question, formula, this case's numbers, source, and an example on either side; None: no such rule."""
    rule = next((r for r in all_rules() if r.id == rule_id), None)
    if rule is None:
        return None
    finding = next((f for f in advice.assessment.findings if f.rule.id == rule_id), None)
    lines = [
        f"{rule.title} ({rule.id})",
        f"  asks      {rule.question}",
        f"  formula   {rule.formula}",
        *_numbers(rule, finding, advice),
        f"  why       {rule.why}",
        f"  source    {rule.source}",
        f"  breaks    for example {rule.breaks}",
        f"  holds     for example {rule.holds}",
    ]
    cautions = "; ".join(c.heading for c in advice.cautions)
    return "\n".join([*lines, f"  mind      {cautions}: see the cautions of the check"])


def _numbers(rule: Rule, finding: Finding | None, advice: Advice) -> list[str]:
    if finding is None:
        return ["  here      it does not apply to this die"]
    if finding.reading is None:
        return [f"  here      {finding.status.value}: {sentence(finding.reason)}"]
    reading, told = finding.reading, value_shown(finding, advice.assessment.analysis)
    lines = [f"  here      {told}, {bound(reading.limit, rule.unit, reading.at_most)}: {finding.status.value}"]
    return lines + [f"            {sentence(text)}" for text in (reading.where, reading.note) if text]


def listing() -> str:
    """Every rule, remedy and caution, a line each, with its source and tag."""
    lines = ["rules"]
    lines += [f"  {r.id:<20} {r.question}\n{'':<23}source: {r.source}" for r in all_rules()]
    lines += ["remedies"]
    lines += [
        f"  {r.id:<20} {r.title}; {r.effort}; {r.stage.value}\n{'':<23}source: {r.source}" for r in all_remedies()
    ]
    lines += ["cautions (always said, and never switched off)"]
    lines += [f"  {c.id}" for c in all_cautions()]
    return "\n".join(lines)
