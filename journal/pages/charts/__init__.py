"""Charts of the whole journal, drawn by matplotlib and made ready to stand in a page."""
