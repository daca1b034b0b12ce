"""What each page shows, as frozen dataclasses of plain values. Paths in them lead from the site's root."""
