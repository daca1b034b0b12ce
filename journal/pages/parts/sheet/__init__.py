"""The working sheet of a planned brew: the order of the work, what to expect, what to do off target.

In: the `Index` and a planned batch with its plan. Out: the sheet's model, in words. Imports no template; the plan is worked out by
`history/plan`.

The sheet is its template, on paper and without scripts. `themes/bones/sheet*.js` make fields of its boxes; they know no formula of
brewing and no unit: `for_script` puts all they need into the page as JSON. What `correct` answers comes as Chebyshev series
(`history/plan/correction_series.py`): a belief leaves what was expected in two directions only, so the answers are functions of two
numbers, good to 2e-8 SG and 2e-6 L over three to five half-widths of the 90 % interval in a known brewhouse; beyond, the page says to ask
the command. Where `measures/grammar.py`, `wording` or `writing` changes, the browser tests say what must change in `sheet-quantity.js` and
`sheet-numbers.js`. `offline.js`, at the site's root, keeps the sheets that were opened from a web host; the network comes first.
"""

from journal.pages.parts.sheet.whole import sheet

__all__ = ["sheet"]
