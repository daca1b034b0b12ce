"""Where the built-in themes lie."""

from __future__ import annotations

from pathlib import Path


def themes_folder() -> Path:
    """The folder of themes: in the installed package, or beside it in a checkout."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "themes"
    return inside if inside.is_dir() else package.parent / "themes"
