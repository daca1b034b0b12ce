"""What moved when a level moved: an instrument, a lot of malt, or the brewing itself.

In: the balanced batches of one brewhouse in order of date, and what brewery.yaml says of instruments and events. Out: a
`MovedRecord`: each move with the causes that may explain it, how surely each, its size, and what each lot gave against its
sheet. The way through it: `pattern` and `signatures` (a batch against its brewhouse, the one place that knows the balance),
`scatter` and `whitened` (what is chance), `ratio` (every single move against none), `guard` (the search pays for what it
tries), `search`, `weights`, `lots`, `find` (all of it, stretch by stretch), `record`.
"""
