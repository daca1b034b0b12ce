"""What a theme is, where its templates are looked for, and the files it brings to the site."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from pathlib import Path

from jinja2 import BaseLoader, ChoiceLoader, Environment, FileSystemLoader, PrefixLoader, TemplateNotFound

from journal.frozen import dataclass
from journal.pages.own_theme import TEMPLATE, OwnTheme
from journal.pages.themes_folder import themes_folder

#: What every theme shares: the structure of the pages.
BONES = "bones"
#: The look of a journal that names none.
DEFAULT = "notebook"
#: A brewer's template names the built-in one of a name by this before it.
BUILT_IN = "built-in"
#: What a browser heeds for the whole site only where it lies at its root.
_AT_ROOT = frozenset({"offline.js"})


@dataclass(frozen=True)
class Theme:
    """A built-in look, and what a brewer's own theme changes of it; None where nothing is changed."""

    look: str = DEFAULT
    own: OwnTheme | None = None


def built_in_looks() -> list[str]:
    """The names of the looks that the program brings along."""
    return sorted(folder.name for folder in themes_folder().iterdir() if folder.is_dir() and folder.name != BONES)


def template_folders(look: str) -> list[Path]:
    """Where built-in templates are looked for, the look's own first; raises ValueError for one that is not there."""
    if look not in built_in_looks():
        raise ValueError(f"there is no theme {look!r}")
    return [themes_folder() / look, themes_folder() / BONES]


class _OwnTemplateLoader(BaseLoader):
    """A brewer's templates as they were read; jinja2 calls them in tracebacks as problems do, from the journal's root."""

    def __init__(self, own: OwnTheme) -> None:
        self._templates = own.templates

    def get_source(self, environment: Environment, template: str) -> tuple[str, str, None]:
        del environment
        if template not in self._templates:
            raise TemplateNotFound(template)
        return self._templates[template].text, self._templates[template].name, None

    def list_templates(self) -> list[str]:
        return sorted(self._templates)


def loader_of(theme: Theme) -> BaseLoader:
    """Finds templates: the brewer's, then the look's, then the bones'."""
    built_in = FileSystemLoader(template_folders(theme.look))
    if theme.own is None:
        return built_in
    return ChoiceLoader([_OwnTemplateLoader(theme.own), built_in, PrefixLoader({BUILT_IN: built_in})])


def _files(folder: Path) -> Iterator[Path]:
    return (path for path in sorted(folder.rglob("*")) if path.is_file() and not path.name.startswith("."))


def _path_in_site(name: str) -> str:
    return name if name in _AT_ROOT else f"assets/{name}"


def assets(theme: Theme) -> dict[str, bytes]:
    """Style sheets, scripts and whatever else a theme brings, by path in the site.

    A look's file stands in for the bones' of the same name, a brewer's for both; but for the brewer's style sheets, which are
    added.
    """
    found = {
        _path_in_site(path.relative_to(folder).as_posix()): path.read_bytes()
        for folder in reversed(template_folders(theme.look))
        for path in _files(folder)
        if path.suffix != TEMPLATE
    }
    return dict(sorted({**found, **(theme.own.assets if theme.own else {})}.items()))


def theme_digest(theme: Theme) -> str:
    """A digest of all that decides how a model is rendered: every file of the theme and of the bones."""
    digest = hashlib.sha256()

    def add(*parts: bytes) -> None:
        for part in parts:
            digest.update(len(part).to_bytes(8, "big"))
            digest.update(part)

    for folder in template_folders(theme.look):
        for path in _files(folder):
            add(path.relative_to(folder).as_posix().encode(), path.read_bytes())
    if theme.own:
        add(theme.own.name.encode())
        for name, content in theme.own.contents:
            add(name.encode("utf-8", "surrogatepass"), content)
    return digest.hexdigest()
