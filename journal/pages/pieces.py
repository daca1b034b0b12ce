"""Pieces of HTML that stand on a batch's page by the hundred.

Templates take them from `parts/number.html.j2` and `parts/working.html.j2` as they would a macro; set by plain functions they take a
fifth of a macro's time, and they are a third of all that is set. Texts are escaped here. The parts of a number are not: all
of them come from `measures.wording`, whose digits and units hold nothing to escape.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from markupsafe import Markup, escape

from journal.pages.model import Link, Number
from journal.pages.parts.working import FigureRow, Working

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
    if n is None:
        return _NONE
    sd = f"± {n.sd}" if n.sd else ""
    return Markup(  # noqa: S704  # see above
        f'<span class="n"><span class="i">{n.whole}</span><span class="f">{n.fraction}</span>'
        f' <span class="sd">{sd}</span> <span class="u">{n.unit}</span></span>'
    )


def link(to: Link, up: str) -> Markup:
    """Words that lead somewhere, or the words alone."""
    if not to.href:
        return escape(to.words)
    root = "" if to.href.startswith("#") else up
    return Markup(f'<a href="{escape(root + to.href)}">{escape(to.words)}</a>')  # noqa: S704  # see above


def links(several: Iterable[Link], up: str) -> Markup:
    """Several of them in a line, with commas."""
    return Markup(", ").join(link(to, up) for to in several)


def terms(working: Working) -> Markup:
    """What a formula takes: figures of the page, numbers, lists."""
    if not working.terms:
        return Markup()
    items = []
    for words, text, anchor, rows in working.terms:
        named = f'<a href="#{escape(anchor)}">{escape(words)}</a>' if anchor else escape(words)
        if rows:
            listed = "".join(f"<li>{escape(row)}</li>\n" for row in rows)
            items.append(f"<li>{named}:\n<ul>\n{listed}</ul>\n</li>\n")
        else:
            value = "" if text == words else f' <span class="value">{escape(text)}</span>'
            items.append(f"<li>{named}{value}</li>\n")
    return Markup(f'<dt>With</dt>\n<dd>\n<ul class="terms">\n{"".join(items)}</ul>\n</dd>\n')  # noqa: S704  # see above


def doubts(row: FigureRow, up: str) -> Markup:
    """Which readings a figure's uncertainty comes from, a line each."""
    if not row.working.doubts:
        return Markup()
    lines = [
        f'<tr><th scope="row">{link(reading, up)}</th><td class="written">{escape(written)}</td>'
        f'<td class="figure">± {sd}</td><td class="figure">{share} %</td></tr>\n'
        for reading, written, sd, share in row.working.doubts
    ]
    return Markup(  # noqa: S704  # see above
        f"<dt>The {'recorded ' if row.recorded else ''}± comes from</dt>\n<dd>\n"
        '<table class="doubts">\n<thead><tr><th scope="col">reading</th><th scope="col">as written</th>'
        '<th scope="col">brings</th><th scope="col">share</th></tr></thead>\n<tbody>\n'
        f"{''.join(lines)}</tbody>\n</table>\n</dd>\n"
    )


#: Of texts that are the same on every batch's page.
_known = lru_cache(maxsize=1024)(escape)


def body(row: FigureRow, up: str) -> Markup:
    """What a figure opens to: its formula in words and in numbers, its result, its source, its doubts."""
    working = row.working
    remark = f'<p class="remark">{_known(row.remark)}</p>\n' if row.remark else ""
    numbers = f'<dt>Numbers</dt><dd class="formula">{escape(working.numbers)}</dd>\n' if working.numbers else ""
    result = f'<dd class="result">{escape(working.result)}</dd>\n'
    if row.recorded:
        results = (
            f'<dt>As recorded</dt>{result}<dt>Reconciled</dt><dd><span class="result">{escape(row.number.text)}</span>, '
            "with the other readings</dd>\n"
        )
    else:
        results = f"<dt>Result</dt>{result}"
    return Markup(  # noqa: S704  # see above
        f'<div class="working">\n<p class="meaning">{_known(row.meaning)} '
        f'<a href="{up}figures.html#{row.name}">What it is</a></p>\n{remark}<dl>\n'
        f'<dt>Formula</dt><dd class="formula">{_known(working.formula)}</dd>\n{numbers}{terms(working)}{results}'
        f"<dt>Source</dt><dd>{_known(working.source)}</dd>\n{doubts(row, up)}</dl>\n</div>"
    )


def figure_row(row: FigureRow, up: str) -> Markup:
    """A figure that opens to its working."""
    return Markup(  # noqa: S704  # see above
        f'<details class="opens" id="{row.name}">\n<summary><span class="words">{_known(row.words)}</span> '
        f"{column(row.number)}</summary>\n{body(row, up)}\n</details>"
    )


#: What templates reach them by.
PIECES = {"number": number, "column": column, "link": link, "links": links, "body": body, "figure_row": figure_row}
