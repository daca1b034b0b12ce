"""Density of water, and what it makes of a volume read hot."""


def density(temperature: float) -> float:
    """Return the density of air-free water at 1 atm, kg/L.

    temperature: degC, 0 to 100; the error there is below 0.006 kg/m3.
    Source: G. S. Kell, J. Chem. Eng. Data 20 (1975) 97, the coefficients restated for the ITS-90 scale.

    >>> round(density(20.0), 6)
    0.998203
    """
    t = temperature
    numerator = 999.83952 + t * (
        16.952577 + t * (-7.9905127e-3 + t * (-46.241757e-6 + t * (105.84601e-9 - t * 281.03006e-12)))
    )
    return numerator / (1.0 + 16.887236e-3 * t) / 1000.0


def volume_at_20(volume: float, temperature: float) -> float:
    """Return the volume, L at 20 degC, of what fills `volume` when hot.

    volume: L, read at temperature; temperature: degC, 0 to 100.
    For wort of 10 degP the ratio of water is good to 0.06 %, for 20 degP to 0.11 %. The expansion of the vessel
    is not in it.
    Source: the mass stays, so V20 = V * density(T) / density(20).

    >>> round(volume_at_20(100.0, 100.0), 2)
    96.01
    """
    return volume * density(temperature) / density(20.0)


def volume_at(volume_20: float, temperature: float) -> float:
    """Return the volume, L, that `volume_20` fills at another temperature.

    volume_20: L at 20 degC; temperature: degC, 0 to 100. The inverse of `volume_at_20`.
    Source: as `volume_at_20`.

    >>> round(volume_at(20.0, 65.0), 2)
    20.36
    """
    return volume_20 * density(20.0) / density(temperature)
