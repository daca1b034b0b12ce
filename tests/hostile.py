"""A journal that someone wrote to do harm: payloads wherever a text may stand, in settings, entries, logs and file names."""

from __future__ import annotations

import json
from pathlib import Path

from balance.simulated_brewery import BREWERY, Habits
from history.told import texts

#: Were any of it taken for markup, a template or a script, it would set `window.ran`, or leave an element of its own.
MARKUP = (
    "</title></script></style><script>window.ran=1</script><img src=x onerror=window.ran=1>"
    "<svg onload=window.ran=1>\" onfocus='window.ran=1' autofocus x=\"{{ 7*7 }}{% set a = 1 %}${7*7}`--><!--"
)
#: The same for where a style sheet, an address, a table or a script's own text would take it in.
TURNS = [
    "javascript:window.ran=1",
    "');window.ran=1;('",
    "\u2028window.ran=1//",
    "=1+1",
    "</textarea>*/}",
    "ever \u202esdrawkcab",
    "&lt;b&gt;",
]
LINKS = [
    "javascript:window.ran=1",
    "JaVaScRiPt:window.ran=1",
    "java&#115;cript:window.ran=1",
    "data:text/html,<script>window.ran=1</script>",
    "data:image/svg+xml,<svg/onload=window.ran=1>",
    "vbscript:window.ran=1",
    "file:///etc/passwd",
    "blob:x",
    "//elsewhere.example/x",
    "https://elsewhere.example/\"onclick='window.ran=1'",
    '#"><script>window.ran=1</script>',
    "?<script>",
]
_SVG = "<svg xmlns='http://www.w3.org/2000/svg' width='9' height='9' onload='window.ran=1'><script>window.ran=1</script></svg>"


def prose() -> str:
    """Links, pictures, markup, a table and a heading, all hostile."""
    led = "\n\n".join(f"[here]({link}) ![there]({link}) <{link}> [by name][{n}]" for n, link in enumerate(LINKS))
    named = "\n".join(f"[{n}]: <{link}>" for n, link in enumerate(LINKS))
    table = f"| {MARKUP.replace('|', '')} | b |\n|:-:|-|\n" + "| <script>window.ran=1</script> | `</script>` |\n" * 9
    deep = "> " * 40 + "- " * 40 + MARKUP
    fence = f'```"><script>window.ran=1</script>\n{MARKUP}\n```'
    picture = f'![{MARKUP.replace("[", "").replace("]", "")}](picture.svg "{MARKUP.replace(chr(34), "")}")'
    return "\n\n".join([f"# {MARKUP}", MARKUP, led, named, table, deep, fence, picture, "ever \u202esdrawkcab"])


def _fields(n: int) -> str:
    """What is added to the front matter of entry `n`: a text that is hostile in some way, in every field that takes one."""
    text = json.dumps(MARKUP if n % 2 else TURNS[n // 2 % len(TURNS)])
    lever = json.dumps("<b onclick=window.ran=1>lever</b>")
    return (
        f"style: {text}\ntags: [{text}, plain]\npractice: {{{lever}: {n % 3}, {text}: {text}}}\n"
        f"tasting: [{{on: 2030-01-01, words: {text}, faults: [{text}]}}]\nwater: {{name: {text}}}\n"
    )


def _entry(n: int, text: str) -> str:
    title = json.dumps(MARKUP if n % 2 else TURNS[n // 2 % len(TURNS)])
    head, rest = text.split("grains:", 1)
    lines = [f"title: {title}" if line.startswith("title:") else line for line in head.splitlines()]
    named = rest.replace("mash:", f"  - {{malt: {json.dumps(MARKUP)}, weight: 1 g}}\nmash:", 1) if n % 3 == 0 else rest
    front = "\n".join(lines) + f"\n{_fields(n)}grains:{named}"
    # one page shows what prose may do, the next one what becomes of it beside others
    return front + "\n" + (prose() if n <= 2 else MARKUP)


def hostile_journal(root: Path, many: int = 8) -> None:
    """Write it under `root`: batches, one that is planned, and one that can't be read."""
    entries, name = root / "entries", json.dumps(MARKUP)
    entries.mkdir()
    (root / "secret.txt").write_text("secret")
    (entries / "picture.svg").write_text(_SVG)
    (entries / "brewery.yaml").write_text(
        f'name: {name}\naddress: "https://brewing.example/a\'b<script>/"\n{BREWERY}brewhouses: {{{name}: {{name: {name}}}}}\n'
    )
    (entries / "malts.yaml").write_text(
        f"{name}: {{name: {name}, maltster: {name}, lot: {name}, kind: pale malt, extract: 80 %, price: 1}}\n"
    )
    for n, text in enumerate(texts(many, Habits()), start=1):
        (entries / f"{n:02d} <img src=x onerror=window.ran=1>.md").write_text(_entry(n, text))
    (entries / "planned.md").write_text(f"---\nbatch: 98\n{_planned(name)}---\n{prose()}")
    unknown = f"batch: {name}\n{name}: {name}\ntitle: {name}\nstyle: [{name}]\nunits: {name}\n"
    (entries / "broken.md").write_text(f"---\n{unknown}---\n[out](../../secret.txt) ![out](/etc/passwd)\n")
    column, script = MARKUP.replace(",", ""), "<script>window.ran=1</script>"
    for number, cell in ((99, script), (100, "66.1")):
        log = f"{column},time (min),temperature (degC)\n{column},0,66\n{script},10,{cell}\n"
        (entries / f"{number}.csv").write_text(log)
        fields = f"batch: {number}\ntitle: Logged\nbrewed: 2030-01-01\nmash: {{log: {number}.csv}}\n"
        (entries / f"{number}.md").write_text(f"---\n{fields}---\n[the log]({number}.csv) [picture](picture.svg)\n")


def _planned(name: str) -> str:
    """The front matter of a brew to come, with a text wherever its sheet shows one."""
    return f"""
title: {name}
brewed: 2099-01-01
grains: [{{malt: {name}, weight: 4 kg}}]
target: {{gravity: 1.050, volume: 18 L}}
mash: {{liquor: 12 L, additions: [{{addition: {name}, amount: 1 g}}]}}
lauter: {{method: bag}}
boil: {{time: 60 min, hops: [{{hop: {name}, weight: 1 g, boiled: 5 min}}]}}
fermenter: {{yeast: {name}}}
""".lstrip()
