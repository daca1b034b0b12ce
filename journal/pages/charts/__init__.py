"""Pictures of the pages, one kind a module: plain numbers and words in, SVG that stands in a page out.

`strip`: a few values along one axis; `over_time`: small multiples on one axis of time; `control`: the large control chart, the only one
that matplotlib draws. The first two are as wide as the page, whatever that is, with texts and marks of one size. Colours are the
look's. Knows no batch and no figure.
"""
