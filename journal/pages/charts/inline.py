"""An SVG that matplotlib drew, made ready to stand in a page.

Colours drawn as stand-ins become the page's own, so that the chart follows dark mode; styles become attributes, so that a
page may forbid inline styles; ids get a name in front, so that two charts can stand on one page; places are kept to a tenth.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

#: Colours to draw with, none of which any drawing means as such, and what each stands for on the page.
INK, QUIET, RULE, ACCENT, FLAG, BAND = "#010203", "#010204", "#010205", "#010206", "#010207", "#010208"
_MEANT = {
    INK: "var(--ink)",
    QUIET: "var(--quiet)",
    RULE: "var(--rule)",
    ACCENT: "var(--accent)",
    FLAG: "var(--flag)",
    BAND: "var(--there)",
}
_SVG = "http://www.w3.org/2000/svg"
_XLINK = "{http://www.w3.org/1999/xlink}href"
#: Properties that are no attributes, and that the style sheet sets instead.
_LEFT_TO_CSS = frozenset(
    {"font", "font-family", "font-size", "font-weight", "font-style", "font-stretch", "font-variant"}
)


def _tag(name: str) -> str:
    return f"{{{_SVG}}}{name}"


def _attributes(style: str) -> dict[str, str]:
    pairs = (part.split(":", 1) for part in style.split(";") if ":" in part)
    return {key.strip(): value.strip() for key, value in pairs if key.strip() not in _LEFT_TO_CSS}


def _tenths(data: str) -> str:
    """Numbers of a path or place to a tenth of a point."""
    return re.sub(r"\d+\.\d+", lambda found: f"{float(found[0]):.1f}".removesuffix(".0"), data).replace("\n", "")


def _restyle(element: ET.Element) -> None:
    for key, value in _attributes(element.attrib.pop("style", "")).items():
        element.set(key, _MEANT.get(value.lower(), value))
    for key in ("d", "x", "y", "transform"):
        if key in element.attrib:
            element.set(key, _tenths(element.attrib[key]))


def _rename(element: ET.Element, name: str, used: set[str]) -> None:
    """Keep only ids that something refers to, with the chart's name in front."""
    own = element.attrib.pop("id", None)
    if own in used:
        element.set("id", f"{name}-{own}")
    for key, value in element.attrib.items():
        element.set(key, re.sub(r"url\(#([^)]+)\)", rf"url(#{name}-\1)", value))
    reference = element.attrib.pop(_XLINK, None)
    if reference is not None:
        element.set("href", f"#{name}-{reference[1:]}")


def _without(root: ET.Element, *names: str) -> None:
    gone = {_tag(name) for name in names}
    for parent in list(root.iter()):
        for child in list(parent):
            if child.tag in gone:
                parent.remove(child)


def _references(root: ET.Element) -> set[str]:
    found: set[str] = set()
    for element in root.iter():
        reference = element.get(_XLINK, "")
        found.update([reference[1:]] if reference.startswith("#") else [])
        found.update(re.findall(r"url\(#([^)]+)\)", " ".join(element.attrib.values())))
    return found


def _describe(root: ET.Element, name: str, title: str, summary: str) -> None:
    # what is drawn is for the eye: axes, read out, are scraps
    for drawn in root.findall(_tag("g")):
        drawn.set("aria-hidden", "true")
    for position, (tag, text) in enumerate((("title", title), ("desc", summary))):
        element = ET.Element(_tag(tag), {"id": f"{name}-{tag}"})
        element.text = text
        root.insert(position, element)
    root.attrib.update({"class": "control", "role": "group", "aria-labelledby": f"{name}-title {name}-desc"})


def inline_svg(svg: str, name: str, title: str, summary: str, over: str = "") -> str:
    """The SVG as an element of a page, with more elements, `over`, on top of it."""
    root = ET.fromstring(svg)  # noqa: S314  # our own drawing
    _without(root, "metadata", "style")
    used = _references(root)
    for element in list(root.iter()):
        _restyle(element)
        _rename(element, name, used)
    for key in ("width", "height", "version"):
        root.attrib.pop(key, None)
    _describe(root, name, title, summary)
    text = ET.tostring(root, encoding="unicode")
    text = re.sub(r"<(/?)ns\d+:", r"<\1", text)
    text = re.sub(r"\sxmlns(?::ns\d+)?=\"[^\"]*\"", "", text, count=3)
    return re.sub(r"\s*\n\s*", "\n", text.removesuffix("</svg>")) + f"{over}</svg>"
