"""Spoilt and hostile templates of a brewer's own: each is set or told with its place, soon, and none gets out of its sandbox."""

from __future__ import annotations

import random
import shutil
import tempfile
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from unittest.mock import patch

from long.mutators import spoil_bytes
from publishing.test_build import ENTRY

from journal.problems import INTERNAL
from journal.publishing import build
from journal.publishing.cache import InProcessCache

DEFAULT = 500
BONES = Path(__file__).parents[2] / "themes" / "bones"
#: Seconds of processor time for one page, here, and for one journal with its three dozen pages.
_LIMIT, _SLOW = 0.5, 6.0
#: What would get out, never end, or want all there is.
HOSTILE = (
    "{{ ''.__class__.__mro__[1].__subclasses__() }}",
    "{{ page.__init__.__globals__ }}",
    "{{ cycler.__init__.__globals__.os.popen('id').read() }}",
    "{{ self.__init__.__globals__ }}",
    "{{ ''|attr('__class__') }}",
    "{{ '%s'|format|attr('__func__') }}",
    "{% set f = '{0.__class__}'.format %}{{ f(page) }}",
    "{{ page.batches.append(1) }}",
    "{% include '/etc/passwd' %}",
    "{% include '../../secret' %}",
    "{% import 'built-in/base.html.j2' as x %}{{ x.__loader__ }}",
    "{{ lipsum(n=100000) }}",
    "{% for a in range(99999) %}{% for b in range(99999) %}{% endfor %}{% endfor %}",
    "{% for a in range(99999) %}{% for b in range(9999) %}{{ 'x' * 1000 }}{% endfor %}{% endfor %}",
    "{{ 'x' * 10**9 }}",
    "{{ 9**(9**9) }}",
    "{{ [1] * 10**10 }}",
    "{{ 10**9 * 'x' }}",
    "{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}",
    "{% set ns = namespace(x='a') %}{% for i in range(24) %}{% set ns.x = ns.x ~ ns.x %}{% endfor %}{{ ns.x|length }}",
    "{{ '%0999999d'|format(1) }}",
    "{{ 'x'|center(9999999) }}",
    "{% if 1 %}" * 300 + "{% endif %}" * 300,
    "{{ " + "(" * 300 + "1" + ")" * 300 + " }}",
    "{% extends 'batch.html.j2' %}",
    "{{ debug() }}",
    "{% raise %}",
    "{{ 1/0 }}",
    "{{ nothing.at.all }}",
)


def _template(chance: random.Random, names: list[str]) -> str:
    """A built-in template with something hostile in it, or spoilt."""
    text = (BONES / chance.choice(names)).read_text("utf-8")
    if chance.random() < 0.6:
        at = chance.randrange(len(text))
        return text[:at] + chance.choice(HOSTILE) + text[at:]
    others = [hostile.encode() for hostile in HOSTILE]
    return spoil_bytes(text.encode(), chance, others).decode("utf-8", "replace")


def run(many: int, seed: int) -> Iterator[str]:
    """What came of them, the slowest, and what failed."""
    chance, came, failed, slowest = random.Random(seed), Counter[str](), Counter[str](), (0.0, "")
    names = [path.relative_to(BONES).as_posix() for path in sorted(BONES.rglob("*.j2"))]
    memory = InProcessCache()
    with (
        tempfile.TemporaryDirectory(prefix="wortbook-themes-") as folder,
        patch("journal.pages.render.SECONDS", _LIMIT),
    ):
        root = Path(folder) / "journal"
        (root / "entries").mkdir(parents=True)
        for number in (1, 2):
            (root / "entries" / f"{number:02d}.md").write_text(ENTRY.format(number=number), "utf-8")
        (Path(folder) / "secret").write_text("a secret of this machine", "utf-8")
        theme = root / "themes" / "mine"
        for number in range(many):
            shutil.rmtree(theme, ignore_errors=True)
            name = (
                chance.choice(names)
                if chance.random() < 0.9
                else chance.choice(["a'b.j2", "a\nb.html.j2", "é.j2", "..j2"])
            )
            (theme / name).parent.mkdir(parents=True)
            (theme / "theme.yaml").write_text("on: notebook\n", "utf-8")
            (theme / name).write_text(_template(chance, names), "utf-8")
            shutil.rmtree(root / "site", ignore_errors=True)
            started = time.process_time()
            try:
                outcome = build(root, root / "site", theme="mine", memory=memory)
                ours = [problem.message for problem in outcome.problems if problem.code == INTERNAL]
                came["set" if outcome.published else "told"] += 1
                if ours:
                    failed[ours[0]] += 1
                if any(b"a secret of this machine" in path.read_bytes() for path in root.glob("site/**/*.html")):
                    failed["GOT OUT"] += 1
            except Exception as error:  # noqa: BLE001  # whatever it is, it is what is looked for
                at = traceback.extract_tb(error.__traceback__)[-1]
                failed[f"{type(error).__name__} at {at.filename}:{at.lineno}"] += 1
            memory.next_round()
            slowest = max(slowest, (time.process_time() - started, f"{name!r}, number {number}"))
    for what, count in failed.items():
        yield f"FAILED {what}, {count} times"
    yield f"{many} themes: {'; '.join(f'{name} {count}' for name, count in sorted(came.items()))}; failed {failed.total()}"
    yield f"slowest {slowest[0]:.2f} s ({slowest[1]}){'; TOO SLOW' if slowest[0] > _SLOW else ''}"
