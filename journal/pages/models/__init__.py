"""What each page shows, as frozen dataclasses of plain values. Paths in them lead from the site's root.

Nothing comes in and nothing goes out: `pages/make` fills them, templates read them. They import only one another, so that they can be
handed to another process, or kept, apart from the journal.
"""
