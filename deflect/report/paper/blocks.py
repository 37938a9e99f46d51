"""A section of the document as plain data for the printer: what the page shows, the paper shows.

Only the tags of our own sections are known.  Text stays text: nothing of it is markup for the printer.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from html.parser import HTMLParser
from types import MappingProxyType
from typing import Any

from markupsafe import Markup

Block = dict[str, Any]
_VOID = frozenset(("br", "hr", "meta"))
_INLINE = MappingProxyType({"b": "bold", "strong": "loud", "i": "italic", "em": "italic", "code": "code",
                            "small": "small", "span": "plain", "a": "plain"})  # fmt: skip
_INKS = MappingProxyType({"currentColor": "#1d242b", "var(--dim)": "#5b666d", "var(--paper)": "#ffffff",
                          "var(--soft)": "#eef0ee"})  # fmt: skip
_SVG = re.compile(r"<svg .*?</svg>", re.DOTALL)
_BOX = re.compile(r'viewBox="\S+ \S+ (\S+) ')
# Width of the document's figures, as their boxes tell it; shortest and longest text that counts for a column, in
# characters, and the power by which longer ones count less.
_FULL_WIDTH, _SHORTEST, _LONGEST, _DAMPED = 640.0, 9, 120, 0.7
_TELLING = ("holds", "breaks", "undecided", "not-checked", "worse", "dim", "sum", "fit", "fit-with-measures", "not-fit")


@dataclass
class _Node:
    tag: str
    attributes: Mapping[str, str | None]
    parts: list[_Node | str] = field(default_factory=list)

    @property
    def classes(self) -> list[str]:
        return (self.attributes.get("class") or "").split()


class _Tree(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.top = _Node("top", {})
        self._open = [self.top]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        node = _Node(tag, dict(attrs))
        self._open[-1].parts.append(node)
        if tag not in _VOID:
            self._open.append(node)

    def handle_endtag(self, tag: str) -> None:
        while len(self._open) > 1:
            if self._open.pop().tag == tag:
                return

    def handle_data(self, data: str) -> None:
        self._open[-1].parts.append(data)


def blocks(fragment: Markup) -> list[Block]:
    """A fragment's paragraphs, lists, tables, boxes and figures, in order."""
    pictures: list[str] = []

    def kept(found: re.Match[str]) -> str:
        pictures.append(_printable(found[0]))
        return f'<svg data-place="{len(pictures) - 1}"></svg>'

    tree = _Tree()
    tree.feed(_SVG.sub(kept, str(fragment)))
    tree.close()
    return _blocks(tree.top, pictures)


def _printable(svg: str) -> str:
    """A figure of the page as a file of its own, in the inks of paper."""
    for ink, printed in _INKS.items():
        svg = svg.replace(ink, printed)
    return svg.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)


def _blocks(node: _Node, pictures: list[str]) -> list[Block]:
    found: list[Block] = []
    loose: list[dict[str, Any]] = []

    def close() -> None:
        if any(run["text"].strip() for run in loose):
            found.append({"kind": "text", "runs": _trimmed(loose)})
        loose.clear()

    for part in node.parts:
        if isinstance(part, str) or part.tag in _INLINE or part.tag == "br":
            loose.extend(_runs(part, frozenset()))
            continue
        close()
        found.extend(_block(part, pictures))
    close()
    return found


def _block(node: _Node, pictures: list[str]) -> list[Block]:
    match node.tag:
        case "p" | "figcaption" | "caption" | "summary":
            style = {"p": "text", "summary": "note"}.get(node.tag, "caption")
            runs = _trimmed([run for part in node.parts for run in _runs(part, frozenset())])
            return [{"kind": style, "runs": runs}] if runs else []
        case "h1" | "h2" | "h3" | "h4":
            return [{"kind": "heading", "level": int(node.tag[1]), "runs": _inner(node)}]
        case "ul" | "ol":
            items = [_blocks(part, pictures) for part in node.parts if isinstance(part, _Node)]
            return [{"kind": "list", "numbered": node.tag == "ol", "items": items}]
        case "table":
            return _table(node, pictures)
        case "svg":
            svg = pictures[int(node.attributes["data-place"] or 0)]
            return [{"kind": "figure", "svg": svg, "share": _share(svg)}]
        case "div" if {"verdict", "cautions"} & set(node.classes):
            style = "verdict" if "verdict" in node.classes else "cautions"
            tone = next((c for c in node.classes if c in _TELLING), "")
            return [{"kind": "box", "style": style, "tone": tone, "body": _blocks(node, pictures)}]
        case _:
            return _blocks(node, pictures)


def _table(node: _Node, pictures: list[str]) -> list[Block]:
    caption = [block for part in node.parts if isinstance(part, _Node) and part.tag == "caption"
               for block in _block(part, pictures)]  # fmt: skip
    rows = [
        [_cell(cell, pictures) for cell in row.parts if isinstance(cell, _Node) and cell.tag in ("td", "th")]
        for row in _descendants(node, "tr")
    ]
    rows = [row for row in rows if row]
    if not rows:
        return caption
    return [*caption, {"kind": "table", "widths": _widths(rows), "rows": rows}]


def _share(svg: str) -> float:
    """Share of the page's width that a figure takes: a small one stays small."""
    box = _BOX.search(svg)
    return 1.0 if box is None else min(1.0, float(box[1]) / _FULL_WIDTH)


def _widths(rows: list[list[dict[str, Any]]]) -> list[float]:
    """Widths of the columns against each other: by their longest texts, but less than in proportion."""
    widths = [_SHORTEST] * max(sum(cell["span"] for cell in row) for row in rows)
    for row in rows:
        column = 0
        for cell in row:
            if cell["span"] == 1:
                widths[column] = max(widths[column], min(_length(cell["body"]), _LONGEST))
            column += cell["span"]
    return [round(width**_DAMPED, 2) for width in widths]


def _length(inner: Any) -> int:
    """Characters in blocks."""
    if isinstance(inner, list):
        return sum(map(_length, inner))
    if isinstance(inner, dict):
        return len(inner["text"]) if "text" in inner else sum(_length(v) for v in inner.values() if isinstance(v, list))
    return 0


def _cell(node: _Node, pictures: list[str]) -> dict[str, Any]:
    return {
        "head": node.tag == "th",
        "right": bool({"n", "r"} & set(node.classes)),
        "tone": next((c for c in node.classes if c in _TELLING), ""),
        "span": int(node.attributes.get("colspan") or 1),
        "body": _blocks(node, pictures),
    }


def _descendants(node: _Node, tag: str) -> list[_Node]:
    found: list[_Node] = []
    for part in node.parts:
        if isinstance(part, _Node):
            found += [part] if part.tag == tag else _descendants(part, tag)
    return found


def _inner(node: _Node) -> list[dict[str, Any]]:
    return _trimmed([run for part in node.parts for run in _runs(part, frozenset())])


def _runs(part: _Node | str, styles: frozenset[str]) -> list[dict[str, Any]]:
    if isinstance(part, str):
        return [{"text": re.sub(r"[ \t\n\r\f]+", " ", part), "styles": sorted(styles - {"plain"})}]
    if part.tag == "br":
        return [{"text": "\n", "styles": []}]
    inner = styles | {_INLINE.get(part.tag, "plain")} | {c for c in part.classes if c in _TELLING}
    own = [run for one in part.parts for run in _runs(one, frozenset(inner))]
    return [{"text": "\n", "styles": []}, *own] if "sum" in part.classes else own


def _trimmed(runs: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Runs without blanks at their ends, equal styles joined."""
    joined: list[dict[str, Any]] = []
    for run in runs:
        if joined and joined[-1]["styles"] == run["styles"]:
            joined[-1] = run | {"text": joined[-1]["text"] + run["text"]}
        elif run["text"]:
            joined.append(dict(run))
    if joined:
        joined[0]["text"] = joined[0]["text"].lstrip()
        joined[-1]["text"] = joined[-1]["text"].rstrip()
    return [run for run in joined if run["text"]]
