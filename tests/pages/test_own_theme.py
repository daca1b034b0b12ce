"""A brewer's own theme: templates that change a part, style sheets that are added, files that go along, and what can be wrong."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from pages.seen import BREWERY, LITTLE, WHOLE, Seen, head, see
from texts import entry

from journal.pages.themes_folder import themes_folder
from journal.problems import Problem
from journal.publishing import BuildOutcome, build, understand
from journal.publishing.cache import InProcessCache

ROOT = Path(__file__).parents[2]

#: What the same journal comes to is worked out once.
MEMORY = InProcessCache()
BLOCK = '{{% extends "built-in/{0}.html.j2" %}}\n{{% block {1} %}}\n{2}\n{{% endblock %}}\n'


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    (tmp_path / "entries").mkdir()
    (tmp_path / "entries" / "brewery.yaml").write_text(f"theme: mine\n{BREWERY}", "utf-8")
    (tmp_path / "entries" / "malts.yaml").write_text("meadow-pale: {kind: pale malt, extract: 81 %}\n", "utf-8")
    (tmp_path / "entries" / "30.md").write_text(entry(LITTLE, head=head("30", "Little", "2025-12-30")), "utf-8")
    (tmp_path / "entries" / "31.md").write_text(entry(WHOLE, head=head("31")), "utf-8")
    put(tmp_path, "theme.yaml", "on: almanac\n")
    return tmp_path


def put(root: Path, name: str, text: str | bytes) -> Path:
    """A file of the theme called mine."""
    path = root / "themes" / "mine" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return path


def built(root: Path, theme: str | None = None) -> BuildOutcome:
    return build(root, root / "site", theme=theme, memory=MEMORY)


def seen(root: Path, name: str) -> Seen:
    assert built(root).published
    return see((root / "site" / f"{name}.html").read_text("utf-8"))


def of_theme(root: Path, outcome: BuildOutcome) -> set[Problem]:
    """What a build told beyond what is said of the journal."""
    return set(outcome.problems) - set(understand(root, memory=MEMORY).problems)


def fault(root: Path) -> Problem:
    """The one problem of the theme, which kept the site from being built."""
    outcome = built(root)
    assert not outcome.published
    (problem,) = of_theme(root, outcome)
    return problem


def test_one_block_changes_and_the_rest_stays(journal: Path) -> None:
    put(
        journal,
        "batch.html.j2",
        BLOCK.format("batch", "lead", "<p>In {{ page.brewed.text }} we brewed.</p>{{ super() }}"),
    )
    page = seen(journal, "batches/31")
    assert "In 11 April 2026 we brewed." in page.text
    assert "h-chain" in page.ids
    assert "we brewed" not in seen(journal, "batches").text


def test_a_block_of_the_base_changes_every_page(journal: Path) -> None:
    put(journal, "base.html.j2", BLOCK.format("base", "colophon", "<footer>Kept dry.</footer>"))
    for name in ("index", "batches/31", "trends", "cautions"):
        assert "Kept dry." in seen(journal, name).text


def test_a_part_stands_in_for_the_built_in_one(journal: Path) -> None:
    put(journal, "parts/navigation.html.j2", "<nav>Only <a href='{{ up }}batches.html'>batches</a>.</nav>\n")
    assert "Only batches." in seen(journal, "batches/31").text


def test_names_that_the_built_in_template_imports_are_there_in_its_blocks(journal: Path) -> None:
    put(journal, "batch.html.j2", BLOCK.format("batch", "head", "<h1>{{ day(page.brewed) }}</h1>"))
    assert "11 April 2026" in seen(journal, "batches/31").text


def test_style_sheets_come_after_the_built_in_ones_and_replace_none(journal: Path) -> None:
    put(journal, "look.css", ":root { --accent: #123456; }")
    put(journal, "print.css", ":root { --accent: #000000; }")
    page = seen(journal, "batches/31")
    sheets = [(link["href"], link.get("media", "")) for link in page.all("link") if link["rel"] == "stylesheet"]
    assert sheets[-2:] == [("../assets/own-look.css", "screen"), ("../assets/own-print.css", "print")]
    assert ("../assets/diary.css", "") in sheets[:-2]
    assert (journal / "site/assets/look.css").read_text("utf-8") != ":root { --accent: #123456; }"
    assert (journal / "site/assets/own-look.css").read_text("utf-8") == ":root { --accent: #123456; }"


def test_other_files_go_along_and_replace_those_of_their_name(journal: Path) -> None:
    put(journal, "fonts/hand.woff2", b"\0font")
    put(journal, "keys.js", "// no shortcut\n")
    put(journal, ".hidden", "no")
    assert built(journal).published
    assets = journal / "site" / "assets"
    assert (assets / "fonts/hand.woff2").read_bytes() == b"\0font"
    assert (assets / "keys.js").read_text("utf-8") == "// no shortcut\n"
    assert not (assets / ".hidden").exists()
    assert not (assets / "theme.yaml").exists()


def test_a_font_of_the_theme_may_be_loaded_and_none_from_elsewhere(journal: Path) -> None:
    policy = next(m["content"] for m in seen(journal, "index").all("meta") if "http-equiv" in m)
    assert "font-src 'self' file:;" in policy


def test_a_page_follows_its_theme_from_build_to_build(journal: Path) -> None:
    """The key of a page that is kept from the last build changes with the theme."""
    for words in ("one", "two"):
        put(journal, "batch.html.j2", BLOCK.format("batch", "lead", f"<p>Theme {words}.</p>"))
        assert f"Theme {words}." in seen(journal, "batches/31").text
    (journal / "themes/mine/batch.html.j2").unlink()
    assert "Theme two." not in seen(journal, "batches/31").text
    assert "look.css" in "".join(seen(journal, "batches/31").hrefs)


def test_the_option_goes_before_brewery_yaml(journal: Path) -> None:
    put(journal, "look.css", "")
    assert built(journal, "notebook").published
    assert not (journal / "site/assets/own-look.css").exists()


# what can be wrong


def test_a_name_that_no_theme_has_is_shown_where_it_stands(journal: Path) -> None:
    (journal / "entries" / "brewery.yaml").write_text("name: Us\ntheme: almanack\n", "utf-8")
    problem = fault(journal)
    assert (problem.code, problem.file_name, problem.line) == ("theme-unknown", "entries/brewery.yaml", 2)
    assert problem.hint == "Did you mean almanac? Themes here: almanac, mine, notebook."


@pytest.mark.everyday(1)
@pytest.mark.parametrize("name", ["bones", "../entries", "", "."])
def test_no_other_folder_is_taken_for_a_theme(journal: Path, name: str) -> None:
    outcome = built(journal, name)
    assert not outcome.published
    assert [p.code for p in of_theme(journal, outcome)] == ["theme-unknown"]


def test_a_folder_without_its_settings_says_what_to_write(journal: Path) -> None:
    (journal / "themes/mine/theme.yaml").unlink()
    assert "holds no theme.yaml; write one that says on: notebook" in fault(journal).hint


@pytest.mark.everyday(1)
@pytest.mark.parametrize(
    ("text", "code", "line"),
    [
        ("\non: ledger\n", "theme-unknown", 2),
        ("look: almanac\n", "unknown-field", 1),
        ("on: [almanac]\n", "wrong-shape", 1),
        ("- almanac\n", "wrong-shape", 1),
        ("on: mine\n", "theme-unknown", 1),
        ("", "wrong-shape", 1),
        ("on: {\n", "yaml-syntax", 1),
    ],
)
def test_settings_that_say_nothing_useful_are_told(journal: Path, text: str, code: str, line: int) -> None:
    put(journal, "theme.yaml", text)
    outcome = built(journal)
    problems = {(p.code, p.file_name, p.line) for p in of_theme(journal, outcome)}
    assert (code, "themes/mine/theme.yaml", line) in problems
    assert not outcome.published


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("fine\n{% if page %}\n", 2, "can't be read"),
        ("fine\n{{ page.title|shouted }}\n", 2, "no filter named 'shouted'"),
        ("{{ page.title\n", 1, "can't be read"),
        ('\n{% include "parts/nummer.html.j2" %}\n', 2, "no template is called “parts/nummer.html.j2”"),
        ('{% extends "batch.html.j2" %}\n', 1, "asks for itself"),
    ],
)
def test_a_template_that_cant_be_read_is_told_with_its_line(journal: Path, text: str, line: int, words: str) -> None:
    put(journal, "batch.html.j2", text)
    problem = fault(journal)
    assert (problem.code, problem.file_name, problem.line) == ("template-broken", "themes/mine/batch.html.j2", line)
    assert words in problem.message


@pytest.mark.everyday(1)
@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("{{ page.tittle }}", 3, "'BatchModel' has no attribute 'tittle'"),
        ("\n{{ nothing }}", 4, "'nothing' is undefined"),
        ("{{ 1 // 0 }}", 3, "zero"),
        ("{% include ['a.j2', 'b.j2'] %}", 3, "none of the templates given were found: a.j2, b.j2"),
        ("{{ link(page.nothing, up) }}", 3, "'BatchModel' has no attribute 'nothing'"),
        ("{% from 'parts/number.html.j2' import nmber %}{{ nmber(1) }}", 3, "does not export the requested name"),
        ("{{ ''.__class__.__mro__ }}", 3, "unsafe"),
        ("{{ page.__init__.__globals__ }}", 3, "unsafe"),
        ("{% for n in range(1000000000) %}{% endfor %}", 3, "Range too big"),
    ],
)
def test_a_template_that_breaks_on_a_page_is_told_with_the_entry(
    journal: Path, text: str, line: int, words: str
) -> None:
    put(journal, "batch.html.j2", BLOCK.format("batch", "lead", text))
    problem = fault(journal)
    assert (problem.code, problem.file_name, problem.line) == ("template-broken", "themes/mine/batch.html.j2", line)
    assert words in problem.message
    assert "it broke the page of entries/30.md and 1 other" in problem.message


def test_a_template_that_breaks_on_a_page_of_no_entry_is_told_with_the_page(journal: Path) -> None:
    put(journal, "home.html.j2", BLOCK.format("home", "head", "{{ page.nothing }}"))
    assert fault(journal).message.endswith("it broke index.html")


def test_a_part_that_lacks_what_the_built_in_templates_take_from_it_is_told(journal: Path) -> None:
    put(journal, "parts/recorded.html.j2", "{% macro other() %}{% endmacro %}\n")
    problem = fault(journal)
    assert (problem.code, problem.file_name) == ("template-broken", "themes/mine/parts/recorded.html.j2")
    assert "does not export the requested name 'group'" in problem.message


def test_templates_that_extend_one_another_in_a_circle_are_told(journal: Path) -> None:
    put(journal, "batch.html.j2", '{% extends "base.html.j2" %}\n')
    put(journal, "base.html.j2", '{% extends "batch.html.j2" %}\n')
    outcome = built(journal)
    assert not outcome.published
    told = [p for p in outcome.problems if p.code == "template-broken"]
    assert told
    assert all("in a circle" in p.message for p in told)


def test_every_broken_template_is_told_in_one_go(journal: Path) -> None:
    put(journal, "batch.html.j2", BLOCK.format("batch", "lead", "{{ page.nothing }}"))
    put(journal, "home.html.j2", BLOCK.format("home", "head", "{{ page.nothing }}"))
    problems = built(journal).problems
    assert [p.file_name for p in problems if p.code == "template-broken"] == [
        "themes/mine/home.html.j2",
        "themes/mine/batch.html.j2",
    ]


def test_a_block_that_is_not_there_is_told_and_one_inside_another_is_not(journal: Path) -> None:
    put(journal, "batch.html.j2", BLOCK.format("batch", "lead", "{% block own %}mine{% endblock %}"))
    assert "mine" in seen(journal, "batches/31").text
    put(journal, "batch.html.j2", BLOCK.format("batch", "leed", "mine"))
    problem = fault(journal)
    assert (problem.code, problem.line) == ("block-unknown", 2)
    assert problem.place is not None
    assert problem.place.text == "leed"
    assert "Did you mean lead?" in problem.hint


def test_a_block_of_the_base_is_known_in_a_page_that_extends_it(journal: Path) -> None:
    put(journal, "batch.html.j2", BLOCK.format("batch", "colophon", "<footer>mine</footer>"))
    assert "mine" in seen(journal, "batches/31").text


def test_a_template_that_nothing_asks_for_is_a_warning(journal: Path) -> None:
    put(journal, "batchs.html.j2", "<p>Never seen.</p>\n")
    put(journal, "base.html.j2", BLOCK.format("base", "colophon", '{% include "parts/mine.html.j2" %}'))
    put(journal, "parts/mine.html.j2", "Seen.")
    outcome = built(journal)
    assert outcome.published
    (problem,) = of_theme(journal, outcome)
    assert (problem.code, problem.file_name) == ("template-unused", "themes/mine/batchs.html.j2")
    assert "batch" in problem.hint


def test_a_file_that_is_no_text_is_told(journal: Path) -> None:
    put(journal, "batch.html.j2", b"\xff\xfe\0")
    assert (fault(journal).code, fault(journal).file_name) == ("template-unreadable", "themes/mine/batch.html.j2")


def test_a_link_out_of_the_folder_is_not_followed(journal: Path) -> None:
    (journal / "secret.css").write_text("body { color: red; }")
    (journal / "themes" / "mine" / "look.css").symlink_to(journal / "secret.css")
    problem = fault(journal)
    assert (problem.code, problem.file_name) == ("template-unreadable", "themes/mine/look.css")
    assert "leads out of the theme's folder" in problem.message


@pytest.mark.skipif(os.getuid() == 0, reason="everything can be read by root")
def test_a_file_that_may_not_be_read_is_told(journal: Path) -> None:
    put(journal, "look.css", "").chmod(0)
    assert fault(journal).code == "template-unreadable"


def test_a_pipe_is_no_part_of_a_theme(journal: Path) -> None:
    os.mkfifo(journal / "themes" / "mine" / "look.css")
    assert fault(journal).code == "template-unreadable"


def test_the_old_site_stays_when_a_theme_breaks(journal: Path) -> None:
    assert built(journal).published
    before = {path: path.read_bytes() for path in (journal / "site").rglob("*") if path.is_file()}
    put(journal, "batch.html.j2", BLOCK.format("batch", "lead", "{{ page.nothing }}"))
    assert not built(journal).published
    assert {path: path.read_bytes() for path in (journal / "site").rglob("*") if path.is_file()} == before


@pytest.mark.long
def test_pages_set_by_several_processes_tell_what_is_broken(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for number in range(32, 80):
        (journal / "entries" / f"{number}.md").write_text(entry(LITTLE, head=head(str(number))), "utf-8")
    put(journal, "batch.html.j2", BLOCK.format("batch", "lead", "{{ page.nothing }}"))
    monkeypatch.setattr("journal.publishing.worker_pool.processors", lambda: 2)
    problem = fault(journal)
    assert "it broke the page of entries/30.md and 49 others" in problem.message
    assert problem.line == 3


# what the page of help says of it


def _section() -> str:
    help_page = ROOT / "journal" / "pages" / "how_to" / "change-the-look.md"
    return help_page.read_text("utf-8").split("## Your own theme")[1]


def test_the_help_lists_every_block() -> None:
    listed = {
        name: words.split(", ") for name, words in re.findall(r"^\| `([\w-]+)` \| (.+) \|$", _section(), re.MULTILINE)
    }
    templates = {path.name.removesuffix(".html.j2"): path for path in (themes_folder() / "bones").glob("*.j2")}
    blocks = {name: re.findall(r"{% block (\w+) %}", path.read_text("utf-8")) for name, path in templates.items()}
    shared = blocks["base"]
    own = {name: [each for each in found if name == "base" or each not in shared] for name, found in blocks.items()}
    assert listed == own, "the table in journal/pages/how_to/change-the-look.md lists the blocks of each template"


def test_the_theme_of_the_help_works(journal: Path) -> None:
    examples = dict(re.findall(r"```(\w+)\n(.*?)```", _section(), re.DOTALL))
    put(journal, "theme.yaml", examples["yaml"])
    put(journal, "colours.css", examples["css"])
    put(journal, "batch.html.j2", examples["jinja"])
    page = seen(journal, "batches/31")
    assert "Brewed by two, on 11 April 2026." in page.text
    assert "malt’s extract went into the fermenter" in page.text
    assert "../assets/own-colours.css" in page.hrefs


@pytest.mark.everyday(1)
@pytest.mark.parametrize(
    "inside",
    [
        "{% for a in range(99999) %}{% for b in range(99999) %}{% endfor %}{% endfor %}",
        "{% for a in range(99999) %}{{ 'x' * 99999 }}{% endfor %}",
        "{{ 'x' * 10 ** 9 }}",
        "{{ 9 ** (9 ** 9) }}",
        "{{ [1] * 10 ** 10 }}",
        "{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}",
        "{% if 1 %}" * 300 + "{% endif %}" * 300,
    ],
    ids=["time", "output", "product", "power", "list", "itself", "depth"],
)
def test_a_template_that_never_ends_is_told_like_any_other(
    inside: str, journal: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("journal.pages.render.SECONDS", 0.5)
    monkeypatch.setattr("journal.pages.limits.LONGEST", 1_000_000)
    put(journal, "batch.html.j2", BLOCK.format("batch", "lead", inside))
    outcome = built(journal)
    assert not outcome.published
    assert {p.code for p in of_theme(journal, outcome)} == {"template-broken"}


@pytest.mark.parametrize("name", ["a'b.html.j2", "a\nb.html.j2", "é.j2", "a b.html.j2", '"""+1+""".j2'])
def test_a_templates_name_is_of_plain_signs(name: str, journal: Path) -> None:
    """CVE-2024-56201: a name became part of the code that a template is compiled to."""
    put(journal, name, "{{ 1 }}")
    outcome = built(journal)
    assert not outcome.published
    (problem,) = of_theme(journal, outcome)
    assert problem.code == "template-unreadable"
    assert "other signs than plain ones" in problem.message
