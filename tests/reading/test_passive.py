"""Drawings that only draw are told from those that run something; the forms are those of W3C SVG 2 and of browsers' own handling."""

from __future__ import annotations

from pathlib import Path

import pytest

from journal.reading.passive import is_passive

SVG = '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" {0}>{1}</svg>'


def drawing(folder: Path, text: str) -> Path:
    file = folder / "drawing.svg"
    file.write_bytes(text.encode("utf-8", "surrogateescape"))
    return file


@pytest.mark.parametrize(
    "inside",
    [
        "<path d='M0 0h9' fill='red'/>",
        "<defs><g id='a'/></defs><use href='#a'/><use xlink:href='#a'/>",
        "<image href='data:image/png;base64,AAAA'/>",
        "<style>path {fill: red}</style><text>one</text>",
        "<title>onload=alert(1)</title><!-- <script> -->",
    ],
)
def test_what_only_draws(inside: str, tmp_path: Path) -> None:
    assert is_passive(drawing(tmp_path, SVG.format("width='10'", inside)))


@pytest.mark.parametrize(
    "text",
    [
        SVG.format("onload='alert(1)'", ""),
        SVG.format("", "<script>alert(1)</script>"),
        SVG.format("xmlns:s='http://www.w3.org/2000/svg'", "<s:script>alert(1)</s:script>"),
        SVG.format("", "<a href='javascript:alert(1)'><text>x</text></a>"),
        SVG.format("", "<a xlink:href=' java&#10;script:alert(1)'><text>x</text></a>"),
        SVG.format("", "<foreignObject><p xmlns='http://www.w3.org/1999/xhtml'>x</p></foreignObject>"),
        SVG.format("", "<use href='other.svg#a'/>"),
        SVG.format("", "<image href='https://elsewhere.example/x.png'/>"),
        SVG.format("", "<image href='data:image/svg+xml;base64,AAAA'/>"),
        SVG.format("", "<a id='x'/><set attributeName='href' to='javascript:alert(1)'/>"),
        "<?xml-stylesheet href='x.xsl'?>" + SVG.format("", ""),
        "<!DOCTYPE svg [<!ENTITY e '<script>alert(1)</script>'>]>" + SVG.format("", "&e;"),
        "<!DOCTYPE svg [<!ENTITY a 'aaaaaaaaaa'><!ENTITY b '&a;&a;&a;&a;'>]>" + SVG.format("", "&b;"),
        "<svg><unclosed>",
        "",
        "\udcff\udcfe<svg/>",
    ],
)
def test_what_runs_or_asks_or_is_none(text: str, tmp_path: Path) -> None:
    assert not is_passive(drawing(tmp_path, text))


@pytest.mark.parametrize("name", ["a.png", "A.JPG", "a.csv", "a.pdf", "a.b.txt"])
def test_a_kind_that_is_only_shown(name: str, tmp_path: Path) -> None:
    assert is_passive(tmp_path / name)


@pytest.mark.parametrize(
    "name", ["a.html", "a.xhtml", "a.xml", "a.js", "a.svgz", "a.php", ".htaccess", "a", "a.png.html", "missing.svg"]
)
def test_a_kind_that_may_run_or_is_not_known(name: str, tmp_path: Path) -> None:
    assert not is_passive(tmp_path / name)
