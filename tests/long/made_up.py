"""YAML and prose that hypothesis makes up."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import seed as hypothesis_seed
from hypothesis import strategies as st
from long.mutators import NAMES, SIGNS, Chance, quantity


def _documents() -> st.SearchStrategy[str]:
    """Front matter and settings in flow style, of fields that are known and values that are not."""
    words = st.sampled_from(NAMES) | st.text(max_size=8)
    values = (
        st.builds(lambda n: quantity(Chance(n)), st.integers(0, 10**6)) | st.text(max_size=20) | st.sampled_from(SIGNS)
    )
    trees = st.recursive(
        values,
        lambda inner: (
            st.lists(inner, max_size=3).map(lambda items: f"[{', '.join(items)}]")
            | st.lists(st.tuples(words, inner), max_size=4).map(
                lambda pairs: "{" + ", ".join(f"{k}: {v}" for k, v in pairs) + "}"
            )
        ),
        max_leaves=6,
    )
    fields = st.lists(st.tuples(words, trees), max_size=5).map(lambda pairs: "".join(f"{k}: {v}\n" for k, v in pairs))
    head = st.just("batch: 1\ntitle: T\nbrewed: 2026-01-01\n") | st.just("")
    return st.tuples(head, fields).map("".join) | st.text(max_size=80)


def _prose() -> st.SearchStrategy[str]:
    pieces = [
        "[a]",
        "(",
        ")",
        "neighbour.md",
        "![",
        "]",
        "<",
        ">",
        "\n",
        "http://",
        "//",
        "[",
        " ",
        "|",
        "\\",
        "%0",
        "\n\n",
        "> ",
    ]
    pieces += [
        "[x](http://[)",
        "`",
        "```\n",
        "# ",
        "- ",
        "1. ",
        "\t",
        "[r]: x",
        "&#0;",
        "&amp;",
        "*",
        "_",
        "|---|",
        "mailto:",
        "<http:",
    ]
    return st.lists(st.sampled_from(pieces) | st.text(max_size=4), max_size=25).map("".join)


def texts(many: int, seed: int) -> Iterator[tuple[str, str]]:
    """Pairs of YAML and prose that hypothesis makes up, as many as are asked for."""
    made: list[tuple[str, str]] = []

    @hypothesis_seed(seed)
    @settings(
        max_examples=many,
        database=None,
        phases=[Phase.generate],
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(_documents(), _prose())
    def collect(document: str, prose: str) -> None:
        made.append((document, prose))

    if many:
        collect()
    yield from islice(made, many)
