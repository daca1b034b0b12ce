"""A theme: the files it brings, its digest, and colours that can be read."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from journal.pages import Renderer, Theme, assets, theme_digest, themes
from journal.pages.themes import built_in_looks
from journal.pages.themes_folder import themes_folder

LOOKS = built_in_looks()


def luminance(colour: str) -> float:
    """Relative luminance by WCAG 2.2 (W3C, 2023), definition of the same name."""
    digits = colour[1:] if len(colour) == 7 else "".join(2 * digit for digit in colour[1:])
    parts = [int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def palettes(look: str) -> list[dict[str, str]]:
    """The colours of a look by name: in the light, then in the dark, then on paper."""
    screen, paper = (assets(Theme(look))[f"assets/{name}.css"].decode() for name in ("look", "print"))
    roots = re.findall(r":root \{(.*?)\}", screen + paper, re.DOTALL)
    return [dict(re.findall(r"--(\w+): (#(?:[0-9a-f]{3}){1,2});", root)) for root in roots]


def test_the_contrast_formula_is_the_published_one() -> None:
    # WCAG 2.2: black on white is 21:1; #777 on white is the well-known near miss of 4.48:1
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)


def test_every_look_has_a_light_a_dark_and_a_paper() -> None:
    assert LOOKS == ["almanac", "notebook"]
    for look in LOOKS:
        light, dark, paper = palettes(look)
        assert light.keys() == dark.keys() == paper.keys()
        assert luminance(dark["paper"]) < 0.05
        assert luminance(light["paper"]) > 0.8


@pytest.mark.parametrize(
    "colours",
    [each for look in LOOKS for each in palettes(look)],
    ids=[f"{look} {n}" for look in LOOKS for n in range(3)],
)
def test_text_and_marks_stand_out_from_the_paper(colours: dict[str, str]) -> None:
    for name in ("ink", "quiet", "accent", "flag"):
        for ground in ("paper", "shade"):
            assert contrast(colours[name], colours[ground]) >= 4.5, f"{name} on {ground}: WCAG 2.2, 1.4.3"
    for name in ("gone", "accent", "flag"):
        assert contrast(colours[name], colours["paper"]) >= 3.0, f"{name}: WCAG 2.2, 1.4.11"


@pytest.mark.parametrize("look", LOOKS)
def test_the_theme_brings_its_style_and_scripts(look: str) -> None:
    found = assets(Theme(look))
    scripts = [name for name in found if name.endswith(".js")]
    sheet = [
        "answer",
        "clock",
        "handing",
        "kept",
        "lines",
        "numbers",
        "offline",
        "parts",
        "quantity",
        "readings",
        "timers",
    ]
    assert scripts == [
        "assets/batches.js",
        "assets/keys.js",
        "assets/recipe.js",
        "assets/search.js",
        *(f"assets/sheet-{part}.js" for part in sheet),
        "assets/sheet.js",
        "offline.js",
    ]
    assert "assets/look.css" in found
    assert not [name for name in found if name.endswith(".j2")]


def test_nothing_in_it_asks_another_host() -> None:
    for folder in ("bones", *LOOKS):
        for path in (themes_folder() / folder).rglob("*"):
            if path.is_file():
                # a drawing that is a file of its own has to name its kind, which nobody fetches
                text = path.read_text("utf-8").replace("http://www.w3.org/2000/svg", "")
                assert not re.search(r"(?:https?:)?//[a-z]|@import|url\(", text), path


def test_the_digest_follows_every_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for folder, name in (("bones", "base.html.j2"), ("mine", "look.css")):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / name).write_text("one", "utf-8")
    monkeypatch.setattr(themes, "themes_folder", lambda: tmp_path)
    digests = [theme_digest(Theme("mine"))]
    for path in ("bones/base.html.j2", "mine/look.css"):
        (tmp_path / path).write_text("two", "utf-8")
        digests.append(theme_digest(Theme("mine")))
    (tmp_path / "mine/look.css").rename(tmp_path / "mine/other.css")
    digests.append(theme_digest(Theme("mine")))
    assert len(set(digests)) == len(digests)


def test_a_themes_own_template_stands_in_for_the_shared_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for folder, text in (("bones", "shared"), ("mine", "own")):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "page.html.j2").write_text(text, "utf-8")
    monkeypatch.setattr(themes, "themes_folder", lambda: tmp_path)
    assert Renderer(Theme("mine"))._environment.get_template("page.html.j2").render() == "own"
