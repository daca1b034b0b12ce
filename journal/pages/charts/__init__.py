"""Charts of the whole journal, drawn by matplotlib and made ready to stand in a page.

In: the points, bands and labels of a chart's model, as plain numbers. Out: an SVG whose texts are texts and whose colours are the look's.
The only place that imports matplotlib, and only when a chart is drawn; knows no batch and no figure.
"""
