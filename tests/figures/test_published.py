"""Figures against published worked examples, tables and bands of the trade."""

import pytest
from texts import figures

#: HMRC Notice 226 (Beer Duty), section 30: degrees of gravity lost, up to and including; factor.
HMRC = [(6.9, 0.125), (10.4, 0.126), (17.2, 0.127), (26.1, 0.128), (36.0, 0.129), (46.5, 0.130), (57.1, 0.131)]
HMRC += [(67.9, 0.132), (78.8, 0.133), (89.7, 0.134), (100.7, 0.135)]


def beer(original: str, final: str) -> dict[str, float]:
    found = figures(f"fermenter: {{gravity: {original}}}\nreadings: [{{at: 2026-04-24 20:00, gravity: {final}}}]")
    return {name: result.value for name, result in found.results.items()}


@pytest.mark.parametrize(
    ("original", "final"),
    [(1.030, 1.006), (1.038, 1.008), (1.040, 1.008), (1.048, 1.010), (1.057, 1.018), (1.080, 1.018), (1.100, 1.020)],
)
def test_alcohol_within_the_bands_of_hm_revenue_and_customs(original: float, final: float) -> None:
    lost = round((original - final) * 1000, 1)
    stated = lost * next(factor for most, factor in HMRC if lost <= most) / 100
    assert beer(f"{original:.3f}", f"{final:.3f}")["alcohol_by_volume"] == pytest.approx(stated, abs=0.0004)


@pytest.mark.parametrize("original", [1.030, 1.050, 1.070, 1.090])
def test_balling_s_relation_closes(original: float) -> None:
    """C. J. N. Balling (1865): 100 parts of wort of OE give A and RE by OE = 100 (2.0665 A + RE)/(100 + 1.0665 A)."""
    found = beer(f"{original:.3f}", "1.010")
    percent = found["alcohol_by_weight"] * 100
    again = 100 * (2.0665 * percent + found["real_extract"]) / (100 + 1.0665 * percent)
    assert again == pytest.approx(found["original_extract"], abs=1e-9)


@pytest.mark.parametrize("final", [1.008, 1.012, 1.020])
def test_real_extract_near_the_usual_line(final: float) -> None:
    """Common practice: 0.1808 OE + 0.8192 AE; other ways of reckoning differ by up to 0.25 °P."""
    found = beer("1.050", f"{final:.3f}")
    usual = 0.1808 * found["original_extract"] + 0.8192 * found["apparent_extract"]
    assert found["real_extract"] == pytest.approx(usual, abs=0.25)
    assert found["apparent_extract"] < found["real_extract"] < found["original_extract"]


def test_attenuation_of_a_beer_from_12_to_2_5_plato() -> None:
    """(OE - AE)/OE: 12 to 2.4 °P is 80 %; real attenuation is about 0.81 of the apparent (common practice)."""
    found = beer("12 °P", "2.4 °P")
    assert found["apparent_attenuation"] == pytest.approx(0.80, abs=1e-9)
    assert found["real_attenuation"] / found["apparent_attenuation"] == pytest.approx(0.81, abs=0.015)


def test_brewhouse_yield_of_the_textbook_brew() -> None:
    """A Belgian course's worked example: 100 L at 20 °C of 14.5 °P (SG 1.05703, taken for kg/L), 22.53961 kg: 68 %.

    That wort's density is 1.05705 kg/L (CRC Handbook: 1054.9 at 14 %, 1059.2 at 15 %), so that in kg it is 68.00 %
    times 1.05705/1.05703.
    """
    found = figures(
        "grains: [{malt: pale malt, weight: 22.53961 kg}]\nboil: {after: {volume: 100 L, gravity: 14.5 °P}}"
    )
    assert found["brewhouse_yield"].value == pytest.approx(0.6800 * 1.05705 / 1.05703, abs=0.0002)


@pytest.mark.parametrize(
    ("volume", "plato", "density"),
    # CRC Handbook, sucrose at 20 °C, kg/m³, printed to 0.1
    [(20, 5, 1017.8), (20, 10, 1038.1), (20, 12, 1046.5), (19, 15, 1059.2), (21, 18, 1072.2), (20, 24, 1099.0)],
)
def test_extract_in_the_kettle(volume: int, plato: int, density: float) -> None:
    found = figures(f"boil: {{before: {{volume: {volume} L, gravity: {plato} °P}}}}")["kettle_extract"]
    assert found.value == pytest.approx(volume * density / 1000 * plato / 100, rel=1e-4)


@pytest.mark.parametrize(("grams_per_litre", "plato"), [(103.8, 10), (125.6, 12), (158.9, 15), (216.2, 20)])
def test_sugar_in_a_litre(grams_per_litre: float, plato: int) -> None:
    """CRC Handbook, sucrose: grams in a litre of solution at 20 °C, printed to 0.1."""
    found = figures(f"boil: {{before: {{volume: 100 L, gravity: {plato} °P}}}}")["kettle_extract"]
    assert found.value == pytest.approx(grams_per_litre / 10, abs=0.01)


@pytest.mark.parametrize(
    ("ratio", "strongest"), [(2.0, 27.350), (2.5, 23.216), (3.0, 20.168), (3.5, 17.827), (4.0, 15.973)]
)
def test_the_strongest_first_wort_is_full_conversion(ratio: float, strongest: float) -> None:
    """Mass balance: 80 % extract on dry basis and 4 % moisture in `ratio` kg of liquor to a kg dissolve to this, °P."""
    litres = 5.0 * ratio / 0.998203  # density of water at 20 °C, kg/L
    found = figures(
        "grains: [{malt: x, weight: 5 kg, extract: 80 %, moisture: 4 %}]\n"
        f"mash: {{liquor: {litres:.6f} L, first_wort: {strongest} °P}}"
    )
    assert found["potential_extract"].value == pytest.approx(5 * 0.80 * 0.96, rel=1e-12)
    assert found["conversion_efficiency"].value == pytest.approx(1.0, abs=1e-4)


@pytest.mark.parametrize(("plato", "conversion"), [(18, 0.869), (19, 0.928), (20, 0.990)])
def test_conversion_by_first_wort(plato: int, conversion: float) -> None:
    """The same mash at 3 kg to a kg, weaker than it could be."""
    found = figures(
        "grains: [{malt: x, weight: 5 kg, extract: 80 %, moisture: 4 %}]\n"
        f"mash: {{liquor: {15 / 0.998203:.6f} L, first_wort: {plato} °P}}"
    )
    assert found["conversion_efficiency"].value == pytest.approx(conversion, abs=5e-4)


@pytest.mark.parametrize(
    ("minutes", "gravity", "utilisation"),
    # G. Tinseth's table of utilisation (1997), three decimals
    [
        (5, 1.040, 0.050),
        (15, 1.050, 0.114),
        (30, 1.030, 0.212),
        (60, 1.050, 0.231),
        (60, 1.080, 0.176),
        (90, 1.120, 0.132),
    ],
)
def test_bitterness_by_tinseth_s_table(minutes: int, gravity: float, utilisation: float) -> None:
    found = figures(
        f"boil: {{before: {{gravity: {gravity - 0.010:.3f}}}, after: {{volume: 20 L, gravity: {gravity + 0.010:.3f}}},"
        f" hops: [{{hop: x, weight: 100 g, alpha: 10 %, boiled: {minutes} min}}]}}"
    )["bitterness"]
    # 10 g of alpha acid in 20 L are 500 mg/L
    assert found.value == pytest.approx(500 * utilisation, abs=0.25)


def test_two_hops_of_a_textbook_recipe() -> None:
    """J. Palmer, How to Brew, ch. 5: 1.5 oz, 6.4 %, 60 min and 1 oz, 4.6 %, 15 min in 5 gal of 1.080: 25.3 + 6.0."""
    hops = (
        "{hop: a, weight: 1.5 oz, alpha: 6.4 %, boiled: 60 min}, {hop: b, weight: 1 oz, alpha: 4.6 %, boiled: 15 min}"
    )
    found = figures(f"boil: {{before: {{gravity: 1.080}}, after: {{volume: 5 gal, gravity: 1.080}}, hops: [{hops}]}}")[
        "bitterness"
    ]
    assert found.value == pytest.approx(31.4, abs=0.1)


@pytest.mark.parametrize(
    ("mcu", "srm"), [(1, 1.492), (5, 4.500), (10, 7.240), (20, 11.647), (30, 15.381), (50, 21.835)]
)
def test_colour_by_morey(mcu: int, srm: float) -> None:
    """D. A. Morey (1995): SRM of malt colour units, lb times °L in a gallon; EBC = 1.97 SRM, common practice."""
    found = figures(
        f"grains: [{{malt: x, weight: 5 lb, extract_as_is: 75 %, colour: {mcu} °L}}]\n"
        "boil: {after: {volume: 5 gal}}"
    )["colour"]
    assert found.value == pytest.approx(1.97 * srm, abs=0.003)


@pytest.mark.parametrize(("lintner", "wk"), [(100, 334), (40, 124), (30, 89)])
def test_diastatic_power_in_either_unit(lintner: int, wk: int) -> None:
    """Oxford Companion to Beer (2011), "diastatic power": WK = 3.5 °Lintner - 16."""
    found = figures(f"grains: [{{malt: x, weight: 1 kg, extract_as_is: 75 %, diastatic_power: {lintner} °Lintner}}]")
    assert found["diastatic_power"].value == pytest.approx(wk)


def test_diastatic_power_is_the_mean_by_weight_and_hulls_do_not_count() -> None:
    grains = (
        "{malt: a, weight: 3 kg, extract_as_is: 75 %, diastatic_power: 200 WK}",
        "{malt: b, weight: 1 kg, extract_as_is: 75 %, diastatic_power: 0 WK}",
        "{malt: hulls, weight: 1 kg}",
        "{malt: c, weight: 1 kg, extract: 0 %}",
    )
    found = figures(f"grains: [{', '.join(grains)}]")
    assert found["diastatic_power"].value == pytest.approx(150.0)
    assert found["grain_weight"].value == 6.0


def test_diastatic_power_is_never_below_0() -> None:
    """The straight line goes under 0 below 4.6 °Lintner, where it means nothing."""
    found = figures("grains: [{malt: x, weight: 1 kg, extract_as_is: 75 %, diastatic_power: 2 °Lintner}]")
    assert found["diastatic_power"].value == 0.0


def test_boil_off_of_water_alone() -> None:
    """Nothing but water leaves: 25 L of 10 °P boiled to 12 °P keeps its 2.595 kg of extract (CRC densities)."""
    mass, extract = 25 * 1.0381, 25 * 1.0381 * 0.10
    after = extract / 0.12
    found = figures(
        "boil: {before: {volume: 25 L, gravity: 10 °P}, time: 1 h 30 min,"
        f" after: {{volume: {after / 1.0465:.5f} L, gravity: 12 °P}}}}"
    )
    assert found["boil_off"].value == pytest.approx((mass - after) / 0.998203 / 1.5, rel=1e-3)
    assert found["knockout_extract"].value == pytest.approx(found["kettle_extract"].value, rel=1e-4)


def test_top_up_and_sugar_count_in_the_boil_off() -> None:
    plain = "boil: {before: {volume: 25 L, gravity: 10 °P}, time: 60 min, after: {volume: 22 L, gravity: 11 °P}"
    alone = figures(plain + "}")["boil_off"].value
    with_both = figures(plain + ", top_up: 2 L, additions: [{addition: sucrose, weight: 1 kg}]}")["boil_off"].value
    assert with_both - alone == pytest.approx(2.0 + 1.0 / 0.998203, rel=1e-6)


def test_kettle_loss_leaves_the_top_up_out() -> None:
    found = figures("boil: {after: {volume: 22 L}}\nfermenter: {volume: 21 L, top_up: 1 L}")
    assert found["kettle_loss"].value == pytest.approx(2.0)


def test_a_volume_taken_for_larger_overstates_an_efficiency_in_proportion() -> None:
    """Common practice, and the definition: extract goes with the volume."""
    grist = "grains: [{malt: pale malt, weight: 5 kg}]\n"
    true = figures(grist + "boil: {before: {volume: 25 L, gravity: 1.044}}")["mash_efficiency"].value
    wrong = figures(grist + "boil: {before: {volume: 27 L, gravity: 1.044}}")["mash_efficiency"].value
    assert wrong / true == pytest.approx(27 / 25, rel=1e-12)
