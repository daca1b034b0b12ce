"""What is wrong in a brewer's own templates, as far as it shows before a page is set."""

from __future__ import annotations

from collections.abc import Iterator

from jinja2 import Environment, TemplateSyntaxError, nodes

from journal.pages.own_theme import OwnTheme
from journal.pages.render import environment_of
from journal.pages.template_faults import place_in, syntax_problem
from journal.pages.themes import BUILT_IN, Theme
from journal.problems import Problem, Source, did_you_mean


def template_problems(theme: Theme) -> list[Problem]:
    """Syntax that can't be read, templates and blocks that are not there, templates that nothing asks for."""
    if theme.own is None:
        return []
    environment = environment_of(theme)
    parsed: dict[str, nodes.Template] = {}
    problems = []
    for name, source in theme.own.templates.items():
        try:
            environment.compile(source.text, name, source.name)
            parsed[name] = environment.parse(source.text, name, source.name)
        except TemplateSyntaxError as error:
            problems.append(syntax_problem(source, error))
        except Exception:  # noqa: BLE001  # how deep is too deep depends on Python, and so does what that raises
            message = "the template can't be read: it nests too deep, or holds what Python can't compile"
            problems.append(Problem("template-broken", message, "Cut it into smaller ones.", place_in(source, 1)))
    known = set(environment.list_templates())
    for name, tree in parsed.items():
        source = theme.own.templates[name]
        problems += _missing(source, name, tree, known)
        problems += _blocks_unknown(source, tree, environment)
    if len(parsed) == len(theme.own.templates):
        problems += _unused(theme.own, parsed, known)
    return problems


def _missing(source: Source, name: str, tree: nodes.Template, known: set[str]) -> Iterator[Problem]:
    """References to templates that are not there, or to the template itself."""
    for node, wanted in _references(tree):
        if wanted == name:
            message = f"the template asks for itself, “{wanted}”"
            hint = f"Write {BUILT_IN}/{wanted} for the built-in one."
        elif not wanted or wanted in known or not _must_be_there(node):
            continue
        else:
            message = f"no template is called “{wanted}”"
            hint = did_you_mean(wanted, known, f"Those of the program begin with {BUILT_IN}/.")
        yield Problem("template-broken", message, hint, place_in(source, node.lineno, wanted))


def _references(tree: nodes.Template) -> Iterator[tuple[nodes.Node, str]]:
    """The templates that one names, with where it does; empty for a name that is reckoned while a page is set."""
    for node in tree.find_all((nodes.Extends, nodes.Include, nodes.Import, nodes.FromImport)):
        for wanted in _names(node) or [""]:
            yield node, wanted


def _must_be_there(node: nodes.Node) -> bool:
    """Whether a reference fails without the template: one of a list may be missing, and what may be missing says so."""
    return not (isinstance(node, nodes.Include) and (node.ignore_missing or len(_names(node)) > 1))


def _names(node: nodes.Node) -> list[str]:
    wanted = getattr(node, "template")  # noqa: B009  # jinja2's types don't say that all four have it
    each = wanted.items if isinstance(wanted, nodes.List | nodes.Tuple) else [wanted]
    return [node.value for node in each if isinstance(node, nodes.Const) and isinstance(node.value, str)]


def _blocks_unknown(source: Source, tree: nodes.Template, environment: Environment) -> Iterator[Problem]:
    """Blocks of a template that the one it extends has no place for; such a block would never be seen."""
    known = _blocks_above(tree, environment)
    if known is None:
        return
    for block in _outermost(tree, known):
        hint = did_you_mean(block.name, known, f"Blocks here: {', '.join(sorted(known))}.")
        message = f"the template it extends has no block “{block.name}”"
        yield Problem("block-unknown", message, hint, place_in(source, block.lineno, block.name))


def _blocks_above(tree: nodes.Template, environment: Environment) -> set[str] | None:
    """The blocks of all templates that one extends; None where it extends none, or which it does is not known."""
    blocks: set[str] = set()
    seen: set[str] = set()
    while (extends := tree.find(nodes.Extends)) is not None:
        (name,) = _names(extends) or [""]
        if not name or name in seen or environment.loader is None:
            return None
        seen.add(name)
        try:
            text, _, _ = environment.loader.get_source(environment, name)
            tree = environment.parse(text)
        except Exception:  # noqa: BLE001  # missing or unreadable, which is told where it stands
            return None
        blocks |= {block.name for block in tree.find_all(nodes.Block)}
    return blocks if seen else None


def _outermost(node: nodes.Node, known: set[str]) -> Iterator[nodes.Block]:
    """Blocks that are not known and stand in none that is."""
    for child in node.iter_child_nodes():
        if not isinstance(child, nodes.Block):
            yield from _outermost(child, known)
        elif child.name not in known:
            yield child


def _unused(own: OwnTheme, parsed: dict[str, nodes.Template], known: set[str]) -> Iterator[Problem]:
    """Templates of a name that no built-in one has and that no other asks for."""
    asked_for = {wanted for tree in parsed.values() for _, wanted in _references(tree)}
    if "" in asked_for:
        return
    prefix = f"{BUILT_IN}/"
    for name, source in own.templates.items():
        if f"{prefix}{name}" not in known and name not in asked_for:
            built_in = [each.removeprefix(prefix) for each in known if each.startswith(prefix)]
            hint = did_you_mean(name, built_in, "A page's template has the name of the built-in one.")
            yield Problem("template-unused", f"nothing asks for {source.name}", hint, file=source.name)
