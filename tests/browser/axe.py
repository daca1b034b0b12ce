"""Axe-core, which holds a page against WCAG 2.2 AA."""

from __future__ import annotations

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

#: Axe-core's tags for the success criteria of WCAG 2.2, levels A and AA, and its own best practices.
TAGS = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")


def found_by_axe(page: Page, *only: str) -> list[str]:
    """What is wrong with a page as it stands: by all rules of `TAGS`, or by some `only`."""
    options = {
        "runOnly": {"type": "rule", "values": only} if only else {"type": "tag", "values": TAGS},
        "resultTypes": ["violations"],
        # no rule asked for reads style sheets, and from a page on disk they can't be asked for
        "preload": {"assets": ["media"]},
    }
    if not page.evaluate("'axe' in window"):
        page.evaluate(AXE_SCRIPT)
    return [
        f"{violation['id']}: {node['target']} {node.get('failureSummary', '')}"
        for violation in page.evaluate("async options => (await axe.run(options)).violations", options)
        for node in violation["nodes"][:3]
    ]
