"""A study as one self-contained page: the matrix of verdicts, and every row, to be sorted and filtered."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass

from markupsafe import Markup

from deflect.faults import printable
from deflect.findings import Warned
from deflect.report import versions
from deflect.report.markup import render
from deflect.report.style import STYLE
from deflect.study.rows import COLUMNS, NUMBERS, Row

# Heads of the columns that the page shows, in its order; the others are in the export.
HEADS = {
    "die": "Die", "press": "Press", "verdict": "Verdict", "stage": "Stage", "reasons": "Why",
    "breaks": "Mounting breaks",
    "not_checked": "Not checked", "working_force_kn": "Force, kN", "sag_mm": "Sag, mm", "gap_mm": "Gap, mm",
    "contact_percent": "Contact, %", "pressure_mpa": "Pressure, MPa", "breathing_um": "Breathing, µm",
    "creep_bound_um": "Bound of creep, µm a stroke", "may_slide": "May slide", "creep_um": "Creep, µm a stroke",
    "creep_low_um": "Creep, low", "creep_high_um": "Creep, high", "face_mm": "Face error, mm", "remedy": "Best remedy",
    "remedy_size": "How much", "message": "Message",
}  # fmt: skip
# Verdict, its sign in the matrix, its class.
SIGNS = {
    "fit": ("●", "fit"), "clear": ("○", "fit"), "fit with measures": ("◐", "fit-with-measures"),
    "open": ("?", "undecided"), "undecided": ("?", "undecided"), "beyond a limit": ("×", "not-fit"),
    "not fit": ("×", "not-fit"), "does not go in": ("▬", "not-fit"), "refused": ("!", "reported"),
    "failed": ("!", "reported"),
}  # fmt: skip
_LONGEST = 300
# Rows that the page shows at once.
_AT_ONCE = 200

_PAGE = """\
<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="generator" content="deflect {{ version }}">
<title>{{ dies }} dies on {{ presses }} presses</title>
<style>{{ style }}
body { max-width: none; }
.matrix { overflow: auto; max-height: 70vh; }
.matrix table { width: auto; font-size: .8rem; }
.matrix td { text-align: center; cursor: pointer; padding: .1rem .35rem; }
.matrix th { position: sticky; top: 0; } .matrix th.up { writing-mode: vertical-rl; transform: rotate(180deg); }
.matrix tr > th:first-child { left: 0; z-index: 1; }
#rows th { cursor: pointer; white-space: nowrap; } #rows td { max-width: 22rem; }
input, select, button { font: inherit; padding: .2rem .4rem; }
</style>
</head>
<body>
<header><h1>{{ dies }} dies on {{ presses }} presses</h1></header>
<main>
<p>{{ summary }}{% if filters %} Rows with {{ filters }}.{% endif %}</p>
<p>A <b>screening</b> row asks the rules that need no solving (mounting, hold-down, keys, ribs, shear force) and solves
the usual values of sag, gap and contact. It is <i>clear</i> where every number keeps half of its limit and no such rule
is broken or undecided, <i>beyond a limit</i> where a number passes twice its limit, else <i>open</i>. Face, stress,
clearance and match are not asked: clear is no verdict. Of creep it tells a bound only, the extent of the breathing over
the die, and that only while the side thrust stays below what friction holds; else the die <i>may slide</i>. It is no
creep. A <b>full</b> row is a check with its ranges and its best remedy.</p>
<h2>Verdicts</h2>
<p>{% for verdict, sign, kind in signs %}
<span class="{{ kind }}"><b>{{ sign }}</b> {{ verdict }}</span>&ensp;{% endfor %}
Touch a cell to see its row.</p>
<div class="matrix" id="matrix"></div>
<h2>Rows</h2>
<p><label>Search <input id="words" size="24"></label>
<label>Verdict <select id="verdict"><option value="">all</option></select></label>
<span id="count"></span> <button id="more">show more</button></p>
<div class="wide"><table id="rows"><thead><tr></tr></thead><tbody></tbody></table></div>
<h2>Cautions in full</h2>
{% for caution in cautions %}
<div class="cautions"><h3>{{ caution.heading }}</h3><p>{{ caution.words }}</p><p>{{ caution.defer }}</p></div>
{% endfor %}
</main>
<footer>Written by deflect {{ version }}. One file, no network.</footer>
<script type="application/json" id="data">{{ data }}</script>
<script>{{ script }}</script>
</body>
</html>
"""
_SCRIPT = """
"use strict";
const data = JSON.parse(document.getElementById("data").textContent);
const at = Object.fromEntries(data.columns.map((c, k) => [c, k]));
const show = document.createElement.bind(document);
let sorted = [at.die, 1], most = data.at_once;
function cell(tag, text, kind) { const c = show(tag); c.textContent = text; if (kind) c.className = kind; return c; }
function told(row, k) { const v = row[k]; return v === null ? "" : data.numbers.includes(data.columns[k]) ?
  Number(v).toPrecision(4).replace(/\\.?0+$/, "") : v; }
const words = document.getElementById("words"), verdict = document.getElementById("verdict");
for (const v of [...new Set(data.rows.map(r => r[at.verdict]))].sort()) verdict.append(new Option(v, v));
const head = document.querySelector("#rows thead tr");
data.columns.forEach((c, k) => { const th = cell("th", data.heads[c]); th.onclick = () => {
  sorted = [k, sorted[0] === k ? -sorted[1] : 1]; fill(); }; head.append(th); });
function chosen() {
  const w = words.value.toLowerCase().split(/\\s+/).filter(Boolean), v = verdict.value;
  return data.rows.filter(r => (!v || r[at.verdict] === v) && w.every(x => r.join(" ").toLowerCase().includes(x)));
}
function fill() {
  const [k, way] = sorted, rows = chosen();
  rows.sort((a, b) => { const x = a[k], y = b[k];
    if (x === y) return 0; if (x === null || x === "") return 1; if (y === null || y === "") return -1;
    return (x < y ? -1 : 1) * way; });
  const body = document.querySelector("#rows tbody"); body.replaceChildren();
  for (const r of rows.slice(0, most)) { const tr = show("tr");
    r.forEach((v, i) => tr.append(cell("td", told(r, i), i === at.verdict ? (data.signs[v] || ["", ""])[1] :
      data.numbers.includes(data.columns[i]) ? "n" : ""))); body.append(tr); }
  document.getElementById("count").textContent = `${Math.min(most, rows.length)} of ${rows.length} rows`;
  document.getElementById("more").hidden = rows.length <= most;
}
words.oninput = verdict.onchange = () => { most = data.at_once; fill(); };
document.getElementById("more").onclick = () => { most += 5 * data.at_once; fill(); };
function matrix() {
  const dies = [...new Set(data.rows.map(r => r[at.die]))].sort();
  const presses = [...new Set(data.rows.map(r => r[at.press]))].sort();
  const by = new Map(data.rows.map(r => [r[at.die] + "\\n" + r[at.press], r[at.verdict]]));
  const table = show("table"), top = show("tr"); top.append(cell("th", ""));
  for (const p of presses) top.append(cell("th", p, "up"));
  table.append(top);
  for (const d of dies) { const tr = show("tr"); tr.append(cell("th", d));
    for (const p of presses) { const v = by.get(d + "\\n" + p), sign = data.signs[v] || ["", ""];
      const c = cell("td", sign[0], sign[1]); if (v) { c.title = `${d} on ${p}: ${v}`;
        c.onclick = () => { words.value = `${d} ${p}`; verdict.value = ""; most = data.at_once; fill();
          document.getElementById("rows").scrollIntoView(); }; }
      tr.append(c); } table.append(tr); }
  document.getElementById("matrix").append(table);
}
matrix(); fill();
"""


@dataclass(frozen=True)
class Standing:
    """A caution that holds whatever die and press."""

    heading: str
    words: str
    defer: str


def page(rows: Iterable[Row], cautions: tuple[Warned, ...], filters: tuple[str, ...] = ()) -> str:
    """All rows as HTML text."""
    listed = list(rows)
    columns = [name for name in COLUMNS if name in HEADS]
    columns.sort(key=list(HEADS).index)
    data = {
        "columns": columns,
        "heads": HEADS,
        "numbers": list(NUMBERS),
        "signs": SIGNS,
        "at_once": _AT_ONCE,
        "rows": [[_plain(getattr(row, name)) for name in columns] for row in listed],
    }
    shown = {row.verdict for row in listed}
    return str(
        render(
            _PAGE,
            version=versions.own(),
            style=Markup(STYLE),
            dies=len({row.die for row in listed}),
            presses=len({row.press for row in listed}),
            summary=summary(listed),
            filters=" and ".join(filters),
            signs=[(verdict, *sign) for verdict, sign in SIGNS.items() if verdict in shown],
            cautions=[Standing(c.heading, " ".join(c.words), c.defer) for c in cautions],
            # Nothing in the data can end the element that holds it.
            data=Markup(json.dumps(data, ensure_ascii=False).replace("<", "\\u003c")),
            script=Markup(_SCRIPT),
        )
    )


def summary(rows: Iterable[Row]) -> str:
    """How many rows of each verdict, the commonest first."""
    count: dict[str, int] = {}
    for row in rows:
        count[row.verdict] = count.get(row.verdict, 0) + 1
    told = ", ".join(f"{number} {verdict}" for verdict, number in sorted(count.items(), key=lambda one: -one[1]))
    return f"{sum(count.values())} pairs: {told or 'none'}."


def _plain(value: object) -> object:
    return printable(value, _LONGEST) if isinstance(value, str) else value
