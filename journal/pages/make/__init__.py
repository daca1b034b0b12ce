"""From the record to page models, a small function at a time.

In: an `Index` of the record. Out: one frozen model of `pages/models` for each kind of page, every number already in words and every
link a path. Imports no template, no matplotlib and nothing of `publishing`; works out no figure of its own.
"""
