"""From the record to page models, a small function at a time."""
