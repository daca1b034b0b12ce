"""What moved when a level moved: an instrument, a lot of malt, or the brewing itself.

In: the balanced batches of one brewhouse in order of date, and what brewery.yaml says of instruments and events. Out: a
`MovedRecord`: each move with the causes that may explain it, how surely each, its size, and what each lot gave against its
sheet. The way through it: `pattern` and `signatures` (a batch against its brewhouse, the one place that knows the balance),
`scatter` and `whitened` (what is chance), `ratio` (every single move against none), `guard` (the search pays for what it
tries), `search`, `weights`, `lots`, `find` (all of it, stretch by stretch), `record`.

What each batch's readings show beyond what its grist and liquor lead one to expect (the constraint residuals of data
reconciliation) is held against every cause and every batch it may have begun with (generalised likelihood ratio, Narasimhan &
Mah 1987; Narasimhan & Jordache 2000), by running sums, 80 batches at a time, with the levels and the lots' errors taken out.
What is told must be rarer than `RISK` among drawn records in which nothing moved. A check in brewery.yaml is one more
reading, of the instrument itself; `changes`, and a factor that stays otherwise, make a move at their date likelier. What is
sure of an instrument or a lot is taken out of the record's values (`OwnPoint.written` keeps them); what may be one blocks
every claim of a gain until instruments and lots hold less than 0.5 % of the evidence.
"""
