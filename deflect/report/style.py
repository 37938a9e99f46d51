"""How the document looks: on a screen by day and by night, and on A4 paper."""

STYLE = """
:root { color-scheme: light dark; --ink: #1d242b; --paper: #fdfdfb; --soft: #eef0ee; --line: #c4cac7; --dim: #5b666d;
  --accent: #0b5c7a; --good: #1b6e3c; --warn: #8a5a00; --bad: #a3201d; --open: #6a3d8f; --caution: #fff4d6; }
@media (prefers-color-scheme: dark) { :root { --ink: #e4e8ea; --paper: #15191c; --soft: #20272b; --line: #414b51;
  --dim: #a0abb1; --accent: #7cc4e0; --good: #7fd19b; --warn: #f0c060; --bad: #ff8f85; --open: #cda6ee;
  --caution: #3a3014; } }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 62rem; padding: 1.2rem 1.4rem 3rem; background: var(--paper); color: var(--ink);
  font: 16px/1.5 "Liberation Sans", "DejaVu Sans", sans-serif; overflow-wrap: break-word; }
h1, .free td { overflow-wrap: anywhere; }
h1 { font-size: 1.7rem; line-height: 1.2; margin: .2rem 0 .6rem; }
h1 .on { font-weight: normal; color: var(--dim); }
h2 { font-size: 1.2rem; margin: 2.2rem 0 .5rem; padding-top: .5rem; border-top: 2px solid var(--line); }
h3 { font-size: 1rem; margin: 1.2rem 0 .3rem; }
p, ul, ol { margin: .4rem 0; }
table { border-collapse: collapse; width: 100%; margin: .5rem 0; font-size: .9rem; }
th, td { text-align: left; vertical-align: top; padding: .28rem .55rem; border-bottom: 1px solid var(--line); }
th { font-weight: 600; background: var(--soft); }
td.r { text-align: right; font-variant-numeric: tabular-nums; min-width: 8rem; }
td.s { white-space: nowrap; }
td.n, th.n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
ul.sums { font-size: .9rem; margin: .1rem 0 .2rem; padding-left: 1.1rem; }
.cautions > ul > li { margin-bottom: .5rem; }
.wide { overflow-x: auto; }
caption { text-align: left; }
summary { cursor: pointer; color: var(--dim); }
.dim, small, caption, figcaption { color: var(--dim); font-size: .85rem; }
figure { margin: .8rem 0; }
figure svg { width: 100%; height: auto; display: block; }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 1rem; }
.verdict { border: 3px solid currentColor; border-radius: 6px; padding: .7rem 1rem; margin: .4rem 0 1rem; }
.verdict strong { font-size: 1.5rem; display: block; }
.verdict * { color: inherit; }
.cautions { background: var(--caution); border-left: 6px solid var(--warn); padding: .6rem 1rem; margin: 1rem 0; }
.fit, .holds { color: var(--good); }
.fit-with-measures { color: var(--warn); }
.not-fit, .breaks { color: var(--bad); }
.undecided { color: var(--open); }
.reported, .not-checked { color: var(--dim); }
.holds, .breaks, .undecided, .worse { font-weight: 600; }
.worse { color: var(--bad); }
code, .sum { font-family: "Liberation Mono", "DejaVu Sans Mono", monospace; font-size: .88em; }
.sum { display: block; padding: .15rem 0 .15rem 1.2rem; }
footer { margin-top: 2.5rem; color: var(--dim); font-size: .8rem; border-top: 1px solid var(--line); }
@page { size: A4; margin: 14mm; }
@media print {
  :root { color-scheme: light; --ink: #000; --paper: #fff; --soft: #f2f2f2; --line: #aaa; --dim: #444;
    --accent: #0b5c7a; --good: #1b6e3c; --warn: #8a5a00; --bad: #a3201d; --open: #6a3d8f; --caution: #fff4d6; }
  body { max-width: none; padding: 0; font-size: 10pt; print-color-adjust: exact; -webkit-print-color-adjust: exact; }
  h2, h3 { break-after: avoid; }
  figure { break-before: avoid; }
  figure, tr, .verdict, .cautions { break-inside: avoid; }
  .wide { overflow: visible; }
  thead { display: table-header-group; }
}
"""
