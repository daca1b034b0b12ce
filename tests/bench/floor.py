"""The least that any tool must do with a journal, to hold ours against: `python tests/bench/floor.py JOURNAL OUT`.

For each entry: parse its YAML with the C loader, render its Markdown, fill one small template, write one file. No places,
no checks, no figures, no charts.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

import yaml
from jinja2 import Environment
from markdown_it import MarkdownIt

PAGE = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>{{ fields.title }}</title></head>
<body><h1>{{ fields.title }}</h1><p>{{ fields.brewed }}, {{ fields.style }}</p>
<ul>{% for grain in fields.grains %}<li>{{ grain.malt }}: {{ grain.weight }}</li>{% endfor %}</ul>
{{ prose|safe }}</body></html>
"""


def main(journal: Path, out: Path) -> None:
    """Write a page an entry to `out` and print the seconds it took, imports left out."""
    started = time.perf_counter()
    template = Environment(autoescape=True).from_string(PAGE)
    markdown = MarkdownIt("commonmark", {"html": False}).enable("table")
    out.mkdir(parents=True, exist_ok=True)
    entries = sorted((journal / "entries").rglob("*.md"))
    for entry in entries:
        _, front_matter, prose = entry.read_text("utf-8").split("---\n", 2)
        fields = yaml.load(front_matter, yaml.CSafeLoader)
        page = template.render(fields=fields, prose=markdown.render(prose))
        (out / f"{entry.stem}.html").write_text(page, "utf-8")
    print(f"{len(entries)} entries in {time.perf_counter() - started:.2f} s")


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
