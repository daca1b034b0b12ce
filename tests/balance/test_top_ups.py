"""A top-up is one reading, in the figures, in the balance and where values can't be true."""

from __future__ import annotations

import pytest
from balance.brewed_exactly import truth
from texts import batch_of, brewery_of

from journal.balance.equations import build_model
from journal.balance.priors import Priors
from journal.figures import figures_of
from journal.reading import Malts

#: Density of water at 95 and 80 °C over that at 20 °C: IAPWS-95 at 1 atm, six digits.
AT_95, AT_80 = 0.963616, 0.973536
GRIST = "grains: [{malt: pale malt, weight: 4.5 kg, extract: 81 %, moisture: 4 %, source: certificate}]"


def test_a_hot_top_up_counts_at_20_degrees_with_the_brewery_s_own_uncertainty() -> None:
    read = truth().readings
    batch = batch_of(
        f"{GRIST}\nmash: {{liquor: {read['mash.liquor']} L}}\nlauter: {{method: batch sparge, liquor: {read['lauter.liquor']} L}}\n"
        f"boil: {{before: {{volume: {read['boil.before.volume']} L, gravity: {read['boil.before.gravity']:.4f}}},"
        " top_up: 3 L at 95 degC, time: 60 min}\nfermenter: {top_up: 2 ± 0.05 L at 80 degC}"
    )
    brewery = brewery_of("instruments: {volume: 0.1 L, thermometer: 0.5 degC}")
    figures = figures_of(batch, brewery, Malts())
    model = build_model(batch, figures, Priors())
    assert model is not None
    read_as = {equation.path: (equation.recorded, equation.sd) for equation in model.equations}
    # the thermometer's half a kelvin moves 3 L by a millilitre, which is nothing beside the marks' 0.1 L
    assert read_as["boil.top_up"] == pytest.approx((3 * AT_95, 0.1 * AT_95), rel=2e-4)
    assert read_as["fermenter.top_up"] == pytest.approx((2 * AT_80, 0.05 * AT_80), rel=2e-4)
    assert figures["kettle_top_up"].value == pytest.approx(3 * AT_95, rel=1e-4)
    assert figures["fermenter_top_up"].value == pytest.approx(2 * AT_80, rel=1e-4)
