"""`python -m journal` is `wortbook`."""

from journal.cli import main

main()
