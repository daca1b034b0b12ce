"""Axe-core, which holds a page against WCAG 2.2 AA."""

from __future__ import annotations

from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Page

#: Axe-core as it comes keeps the private fields of its many colours in weak maps, which cost a third of its time to fill and to
#: clear. Here a field is the object's own, under a symbol.
CHECKER = f"""(() => {{
  class WeakMap {{
    field = Symbol();
    has(object) {{ return Object.hasOwn(object, this.field); }}
    get(object) {{ return object[this.field]; }}
    set(object, value) {{ object[this.field] = value; return this; }}
    delete(object) {{ return delete object[this.field]; }}
  }}
  {AXE_SCRIPT}
}})()"""
#: Axe-core parses the colour of every layer under every text anew, tens of thousands of times on a page of a dozen colours.
COLOURS_READ_ONCE = """(() => {
  const { Color } = axe.commons.color, read = Color.prototype.parseString, known = new Map();
  Color.prototype.parseString = function (text) {
    if (!known.has(text)) {
      const { r, g, b, alpha } = read.call(this, text);
      known.set(text, { r, g, b, alpha });
    }
    return Object.assign(this, known.get(text));
  };
})()"""
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
        page.evaluate(CHECKER)
        page.evaluate(COLOURS_READ_ONCE)
    return [
        f"{violation['id']}: {node['target']} {node.get('failureSummary', '')}"
        for violation in page.evaluate("async options => (await axe.run(options)).violations", options)
        for node in violation["nodes"][:3]
    ]
