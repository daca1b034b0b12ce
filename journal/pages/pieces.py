"""Pieces of HTML that stand on a batch's page by the hundred.

Templates take them from `number.html.j2`, `working.html.j2` and `recorded.html.j2` among the parts, as they would a macro; set by plain
functions they take a fifth of a macro's time, and they are a third of all that is set. Texts are escaped here, and each piece is marked
as markup once. The parts of a number are not escaped: all of them come from `measures.wording`, whose digits and units hold nothing to
escape.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from markupsafe import Markup

from journal.pages.escaped import escaped
from journal.pages.grist import Lab, LabGroup
from journal.pages.model import Link, Number
from journal.pages.parts.recorded import Piece, Recorded
from journal.pages.parts.working import FigureRow, Term, Working

_NONE = Markup('<span class="n none">–</span>')


def number(n: Number) -> Markup:
    """A number cut at its decimal point, so that a column can stand on it."""
    sd = f' <span class="sd">± {n.sd}</span>' if n.sd else ""
    unit = f' <span class="u">{n.unit}</span>' if n.unit else ""
    return Markup(  # noqa: S704  # see above
        f'<span class="n"><span class="i">{n.whole}</span><span class="f">{n.fraction}</span>{sd}{unit}</span>'
    )


def column(n: Number | None) -> Markup:
    """A number for a column: every part keeps its place, even where it is empty; a dash where there is none."""
    return _NONE if n is None else Markup(_column(n))  # noqa: S704  # see above


def _column(n: Number) -> str:
    sd = f"± {n.sd}" if n.sd else ""
    # its decimals: what the style sheet makes up to a column's
    decimals = max(len(n.fraction) - 1, 0)
    return (
        f'<span class="n"><span class="i">{n.whole}</span><span class="f d{decimals}">{n.fraction}</span>'
        f' <span class="sd">{sd}</span> <span class="u">{n.unit}</span></span>'
    )


def link(to: Link, up: str) -> Markup:
    """Words that lead somewhere, or the words alone."""
    return Markup(_link(to, up))  # noqa: S704  # see above


def _link(to: Link, up: str) -> str:
    if not to.href:
        return escaped(to.words)
    root = "" if to.href.startswith("#") else up
    return f'<a href="{escaped(root + to.href)}">{escaped(to.words)}</a>'


def links(several: Iterable[Link], up: str) -> Markup:
    """Several of them in a line, with commas."""
    return Markup(", ".join([_link(to, up) for to in several]))  # noqa: S704  # see above


@lru_cache(maxsize=1024)  # one figure or reading is put into many formulas
def _term(term: Term) -> str:
    """One thing that a formula takes: a figure of the page, a number, a list."""
    words = escaped(term.words)
    named = f'<a href="#{escaped(term.anchor)}">{words}</a>' if term.anchor else words
    if term.rows:
        listed = "".join([f"<li>{escaped(row)}</li>\n" for row in term.rows])
        return f"<li>{named}:\n<ul>\n{listed}</ul>\n</li>\n"
    value = "" if term.text == term.words else f' <span class="value">{escaped(term.text)}</span>'
    return f"<li>{named}{value}</li>\n"


def _terms(working: Working) -> str:
    """What a formula takes."""
    if not working.terms:
        return ""
    return f'<dt>With</dt>\n<dd>\n<ul class="terms">\n{"".join(map(_term, working.terms))}</ul>\n</dd>\n'


@lru_cache(maxsize=1024)  # most readings bring some doubt to many figures
def _doubted(reading: Link, written: str, up: str) -> str:
    return f'<tr><th scope="row">{_link(reading, up)}</th><td class="written">{escaped(written)}</td>'


def _doubts(row: FigureRow, up: str) -> str:
    """Which readings a figure's uncertainty comes from, a line each."""
    if not row.working.doubts:
        return ""
    lines = [
        f'{_doubted(reading, written, up)}<td class="figure">± {sd}</td><td class="figure">{share} %</td></tr>\n'
        for reading, written, sd, share in row.working.doubts
    ]
    return (
        f"<dt>The {'recorded ' if row.recorded else ''}± comes from</dt>\n<dd>\n"
        f'<table class="doubts" aria-label="± of {escaped(row.words)}">\n'
        '<thead><tr><th scope="col">reading</th><th scope="col">as written</th>'
        '<th scope="col">brings</th><th scope="col">share</th></tr></thead>\n<tbody>\n'
        f"{''.join(lines)}</tbody>\n</table>\n</dd>\n"
    )


def body(row: FigureRow, up: str) -> Markup:
    """What a figure opens to: its formula in words and in numbers, its result, its source, its doubts."""
    return Markup(_body(row, up))  # noqa: S704  # see above


def _body(row: FigureRow, up: str) -> str:
    working = row.working
    remark = f'<p class="remark">{escaped(row.remark)}</p>\n' if row.remark else ""
    numbers = f'<dt>Numbers</dt><dd class="formula">{escaped(working.numbers)}</dd>\n' if working.numbers else ""
    result = f'<dd class="result">{escaped(working.result)}</dd>\n'
    if row.recorded:
        results = (
            f'<dt>As recorded</dt>{result}<dt>Reconciled</dt><dd><span class="result">{escaped(row.number.text)}</span>, '
            "with the other readings</dd>\n"
        )
    else:
        results = f"<dt>Result</dt>{result}"
    return (
        f'<div class="working">\n<p class="meaning">{escaped(row.meaning)} '
        f'<a href="{up}figures.html#{row.name}" aria-label="What it is: {escaped(row.words)}">What it is</a></p>\n{remark}<dl>\n'
        f'<dt>Formula</dt><dd class="formula">{escaped(working.formula)}</dd>\n{numbers}{_terms(working)}{results}'
        f"<dt>Source</dt><dd>{escaped(working.source)}</dd>\n{_doubts(row, up)}</dl>\n</div>"
    )


def figure_row(row: FigureRow, up: str) -> Markup:
    """A figure that opens to its working."""
    return Markup(  # noqa: S704  # see above
        f'<details class="opens" id="{row.name}">\n<summary><span class="words">{escaped(row.words)}</span> '
        f"{_column(row.number)}</summary>\n{_body(row, up)}\n</details>"
    )


def _piece(piece: Piece) -> str:
    """One value as recorded: what it is, the brewer's writing, what it counts as."""
    what = f'<span class="what">{escaped(piece.words)}</span> ' if piece.words else ""
    counted = f' <span class="counted">{_column(piece.counted)}</span>' if piece.counted else ""
    by = f' <span class="by">{escaped(piece.by)}</span>' if piece.by else ""
    written = f'<span class="written">{escaped(piece.written)}</span>'
    return f'<span class="piece" id="{escaped(piece.anchor)}">{what}{written}{counted}{by}</span>\n'


def _lab(lab: Lab) -> str:
    place = f' id="{escaped(lab.anchor)}"' if lab.anchor else ""
    return f"<span{place}>{escaped(lab.words)} {number(lab.number)}</span>"


def _labs(groups: Iterable[LabGroup]) -> str:
    """A malt's laboratory values, by their origin."""
    told = [f"{', '.join(map(_lab, group.labs))} from {escaped(group.origin)}" for group in groups]
    return f'<p class="labs">\n{"; ".join(told)}</p>\n' if told else ""


def recorded_row(row: Recorded, batch: str, up: str) -> Markup:
    """A line of what was recorded; `batch` is the page that says what is odd about it."""
    # a single value bears the line's anchor itself
    alone = len(row.pieces) == 1 and row.pieces[0].anchor == row.anchor
    place = "" if alone else f' id="{escaped(row.anchor)}"'
    line = f'<span class="aside">line </span>{row.line}' if row.line else ""
    odd = f' <a class="aside-note" href="{up}{escaped(batch)}#odd">flagged</a>' if row.odd else ""
    return Markup(  # noqa: S704  # see above
        f'<li class="row{" odd" if row.odd else ""}"{place}>\n<span class="line">{line}</span>\n'
        f'<span class="label">{_link(row.label, up)}{odd}</span>\n'
        f'<span class="pieces">\n{"".join(map(_piece, row.pieces))}</span>\n{_labs(row.labs)}</li>'
    )


#: What templates reach them by.
PIECES = {
    "number": number,
    "column": column,
    "link": link,
    "links": links,
    "body": body,
    "figure_row": figure_row,
    "recorded_row": recorded_row,
}
