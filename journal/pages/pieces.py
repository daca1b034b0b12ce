"""Pieces of HTML that stand on a batch's page by the hundred.

Templates take them from `parts/number.html.j2` and `parts/working.html.j2` as they would a macro; set by plain functions they take a
fifth of a macro's time, and they are a third of all that is set. Texts are escaped here. The parts of a number are not: all
of them come from `measures.wording`, whose digits and units hold nothing to escape.
"""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup, escape

from journal.pages.models.batch import FigureRow, Working
from journal.pages.models.common import Link, Number

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


#: What templates reach them by.
PIECES = {"number": number, "column": column, "link": link, "links": links, "terms": terms, "doubts": doubts}
