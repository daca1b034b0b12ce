"""What the maltster's certificate says, brought to the terms the brewhouse reckons in."""

_LITRE_DEGREES_OF_SUCROSE = 385.62  # L·degree/kg in a solution of 10 degP: 9.6328 L at 1.04003
_LITRE_DEGREES_PER_POINT = 3.785411784 / 0.45359237  # US gallon in L over pound in kg


def congress_extract(plato: float, moisture: float) -> float:
    """Return the extract of a malt as is, a fraction of its weight, from its Congress wort.

    plato: degP of the Congress wort, 5 to 12; moisture: fraction of the malt, 0 to 0.15.
    Source: EBC Analytica 4.5.1 / MEBAK, quoted from memory: E = P (M + 800)/(100 - P), in per cent; 50 g of malt
    made up to 450 g, so 800 g of water and the malt's own moisture to 100 g of malt.

    >>> round(congress_extract(8.6, 0.045), 5)
    0.75697
    """
    if plato >= 100.0:
        raise ValueError(f"a wort cannot have {plato:g} degP: 100 would be dry extract")
    return plato * (moisture + 8.0) / (100.0 - plato)


def dry_basis(as_is: float, moisture: float) -> float:
    """Return a share of the malt's dry matter from the share of the malt as it comes.

    as_is: fraction, 0 to 1; moisture: fraction, 0 to 0.15, and never 1.
    Source: definition.

    >>> round(dry_basis(0.75697, 0.045), 4)
    0.7926
    """
    if moisture >= 1.0:
        raise ValueError(f"a moisture of {moisture:g} leaves no dry matter")
    return as_is / (1.0 - moisture)


def as_is(dry: float, moisture: float) -> float:
    """Return a share of the malt as it comes from the share of its dry matter.

    dry: fraction, 0 to 1; moisture: fraction, 0 to 0.15.
    Source: definition.

    >>> round(as_is(0.80, 0.04), 3)
    0.768
    """
    return dry * (1.0 - moisture)


def litre_degrees_per_kilogram(extract_fraction: float) -> float:
    """Return the litre-degrees a kilogram gives, for display.

    extract_fraction: kg extract per kg malt, 0 to 1.
    The litre-degrees of a kilogram of sucrose fall with strength, from 386.4 at 5 degP to 384.0 at 20 degP; here
    they are those of a 10 degP solution, so the result is good to 0.5 %. Balances are struck in kg, never in these.
    Source: density of sucrose by ICUMSA SPS-4; degrees are thousandths of SG 20/20 in air above 1.

    >>> round(litre_degrees_per_kilogram(0.768), 1)
    296.2
    """
    return extract_fraction * _LITRE_DEGREES_OF_SUCROSE


def points_per_pound_gallon(litre_degrees: float) -> float:
    """Return gravity points times US gallons a pound gives, for display.

    litre_degrees: litre-degrees a kilogram gives, 0 to 390.
    Source: definition of the units; 1 point·gal/lb is 8.3454 litre-degrees/kg.

    >>> round(points_per_pound_gallon(296.2), 1)
    35.5
    """
    return litre_degrees / _LITRE_DEGREES_PER_POINT


def lintner_from_wk(wk: float) -> float:
    """Return diastatic power in degrees Lintner.

    wk: Windisch-Kolbach units, 0 to 600.
    Source: Oxford Companion to Beer, "diastatic power": degLintner = (WK + 16)/3.5.

    >>> round(lintner_from_wk(250.0), 1)
    76.0
    """
    return (wk + 16.0) / 3.5


def wk_from_lintner(lintner: float) -> float:
    """Return diastatic power in Windisch-Kolbach units, never below 0.

    lintner: degrees Lintner, 0 to 180. Below 4.6 the straight line would go under 0, where it means nothing.
    Source: Oxford Companion to Beer, "diastatic power": WK = 3.5 degLintner - 16.

    >>> wk_from_lintner(100.0)
    334.0
    """
    return max(0.0, 3.5 * lintner - 16.0)


def lovibond_from_ebc(ebc: float) -> float:
    """Return malt colour in degrees Lovibond.

    ebc: malt colour in EBC units, 1 to 1600.
    Source: common practice, (EBC + 1.2)/2.65.

    >>> round(lovibond_from_ebc(5.5), 2)
    2.53
    """
    return (ebc + 1.2) / 2.65


def ebc_from_lovibond(lovibond: float) -> float:
    """Return malt colour in EBC units.

    lovibond: degrees Lovibond, 1 to 600.
    Source: common practice, 2.65 degL - 1.2.

    >>> round(ebc_from_lovibond(60.0), 1)
    157.8
    """
    return 2.65 * lovibond - 1.2
