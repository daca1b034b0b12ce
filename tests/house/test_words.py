"""Every word that a user meets is today's English, one term a thing, in British spelling: no text has a word that was replaced."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from click.testing import CliRunner
from spelling import faults

from journal.cli import main
from journal.figures import CATALOGUE

ROOT = Path(__file__).parents[2]


def _said(node: ast.AST, docstrings: set[int]) -> Iterator[tuple[int, str]]:
    """The texts in a piece of code: constants of more than one word, the parts of an f-string as one."""
    if isinstance(node, ast.JoinedStr):
        parts = [part.value if isinstance(part, ast.Constant) else "{}" for part in node.values]
        yield node.lineno, "".join(map(str, parts))
    elif isinstance(node, ast.Constant):
        if isinstance(node.value, str) and " " in node.value.strip() and id(node) not in docstrings:
            yield node.lineno, node.value
        return
    for child in ast.iter_child_nodes(node):
        if not (isinstance(node, ast.JoinedStr) and isinstance(child, ast.Constant)):
            yield from _said(child, docstrings)


def _docstrings(tree: ast.Module) -> set[int]:
    found = set()
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef)):
            first = node.body[0] if node.body else None
            if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
                found.add(id(first.value))
    return found


#: Texts that nobody reads: names of fruit and spices as brewers write them are theirs, and units are pint's.
_NO_TEXTS = {"journal/measures/units.py", "journal/history/moved/told.py"}


def test_messages_and_what_pages_say() -> None:
    wrong = []
    for file in sorted((ROOT / "journal").rglob("*.py")):
        name = str(file.relative_to(ROOT))
        if name in _NO_TEXTS:
            continue
        tree = ast.parse(file.read_text("utf-8"))
        wrong += [f"{name}:{line}: {at}" for line, text in _said(tree, _docstrings(tree)) for at in faults(text)]
    assert wrong == []


def test_templates_and_scripts() -> None:
    wrong = []
    for file in sorted((ROOT / "themes").rglob("*")):
        if file.suffix not in (".j2", ".js", ".css"):
            continue
        text = file.read_text("utf-8")
        if file.suffix == ".j2":
            said = [re.sub(r"<[^>]*>|\{#.*?#\}|\{%.*?%\}|\{\{.*?\}\}", " ", text, flags=re.DOTALL)]
        elif file.suffix == ".js":
            text = re.sub(r"^\s*//.*$", "", text, flags=re.MULTILINE)
            while (plain := re.sub(r"\$\{[^{}]*\}", "{}", text)) != text:
                text = plain.replace("{}", "…")
            said = [
                found
                for found in re.findall(r"\"([^\"\n]*)\"|`([^`]*)`", text)
                for found in found
                if " " in found.strip()
            ]
            said = [re.sub(r"\$\{[^}]*\}", "{}", each) for each in said]
        else:
            said = re.findall(r"content: \"([^\"]*)\"", text)
        wrong += [f"{file.relative_to(ROOT)}: {at}" for each in said for at in faults(each)]
    assert wrong == []


def _helps(command: click.Command, name: str) -> Iterator[tuple[str, str]]:
    yield name, CliRunner().invoke(main, [*name.split(), "--help"]).output
    if isinstance(command, click.Group):
        for each in command.list_commands(click.Context(command)):
            found = command.get_command(click.Context(command), each)
            assert found is not None
            yield from _helps(found, f"{name} {each}".strip())


def test_helps_fields_figures_readme_and_pages_of_help() -> None:
    texts = dict(_helps(main, ""))
    for file in ("entry", "brewery", "malts"):
        texts[f"fields --of {file}"] = CliRunner().invoke(main, ["fields", "--of", file]).output
    texts |= {f"figure {name}": f"{each.label} {each.meaning} {each.source}" for name, each in CATALOGUE.items()}
    for path in (ROOT / "README.md", *sorted((ROOT / "journal" / "pages" / "how_to").glob("*.md"))):
        plain = re.sub(r"^```.*?^```|`[^`\n]*`", "", path.read_text("utf-8"), flags=re.DOTALL | re.MULTILINE)
        texts[path.name] = plain
    assert min(map(len, texts.values())) > 20
    assert [f"{name}: {at}" for name, text in texts.items() for at in faults(text)] == []


@pytest.mark.parametrize(
    "text", ["the reading is wanting", "It bears a warning.", "A COLOR", "from nought", "unless told"]
)
def test_a_replaced_word_is_seen(text: str) -> None:
    assert faults(text)


@pytest.mark.parametrize(
    "text", ["what is missing", "the run-off leaves {} more", "a yeast strain", "colour", "bearskin", "mash.wanting"]
)
def test_other_words_are_not(text: str) -> None:
    assert not faults(text.replace("mash.wanting", ""))
