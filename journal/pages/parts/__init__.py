"""What several pages show, a module each: `NAME.py` belongs to `themes/bones/parts/NAME.html.j2`.

As for a page, one module holds the model, what makes it, and its words. Imports no page.
"""
