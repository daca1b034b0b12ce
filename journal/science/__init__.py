"""The brewing formulas, on plain numbers.

In: floats. Out: floats. Units throughout: kg, L, degC, min, shares as fractions of 1, strengths in degrees
Plato (grams of extract in 100 g of wort), gravities as apparent specific gravity 20/20 in air, which is what
hydrometers and the trade's tables give.

Every docstring names the unit and the range of each argument, what comes back, the published source, and a
worked example that runs. A value a little outside the range is still reckoned, because readings carry noise;
`ValueError` is raised only where the formula has no answer.

This package is a leaf: it reads no file and no clock, knows no journal entry, and imports nothing but the
standard library and its own modules.
"""
