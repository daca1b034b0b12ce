"""The pages of the site, a module each: what the page shows, the function that makes it from the record, and its words.

`NAME.py` belongs to the template `themes/bones/NAME.html.j2` (a hyphen there is an underscore here). In: an `Index` of the record. Out: a
frozen model, every number in words and every link a path; where it would only copy one of the record's own objects the template takes that,
through the filters of `pages/pieces.py`. What several pages show is in `pages/parts`. Imports no template, no matplotlib and nothing of
`build`; works out no figure of its own.
"""
