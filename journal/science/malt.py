"""What the maltster's certificate says, brought to the terms the brewhouse reckons in."""


def as_is(dry: float, moisture: float) -> float:
    """Return a share of the malt as it comes from the share of its dry matter.

    dry: fraction, 0 to 1; moisture: fraction, 0 to 0.15.
    Source: definition.

    >>> round(as_is(0.80, 0.04), 3)
    0.768
    """
    return dry * (1.0 - moisture)


def lintner_from_wk(wk: float) -> float:
    """Return diastatic power in degrees Lintner.

    wk: Windisch-Kolbach units, 0 to 600.
    Source: Oxford Companion to Beer, "diastatic power": degLintner = (WK + 16)/3.5.

    >>> round(lintner_from_wk(250.0), 1)
    76.0
    """
    return (wk + 16.0) / 3.5


def lovibond_from_ebc(ebc: float) -> float:
    """Return malt colour in degrees Lovibond.

    ebc: malt colour in EBC units, 1 to 1600.
    Source: common practice, (EBC + 1.2)/2.65.

    >>> round(lovibond_from_ebc(5.5), 2)
    2.53
    """
    return (ebc + 1.2) / 2.65
