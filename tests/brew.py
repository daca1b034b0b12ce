"""One batch with everything recorded, as text and as plain numbers, for tests that reckon it apart from the package."""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import reckoning as r

Array = np.ndarray

BREWERY = """
    instruments:
      refractometer: {uncertainty: 0.15 °Bx, wort_factor: 1.03 ± 0.01}
    brewhouses:
      shed: {mash_tun: {dead_space: 0.6 L}}
"""
MALTS = """
    island-pale:
      kind: pale malt
      extract: 81.5 %
      moisture: 4.0 %
      diastatic_power: 250 WK
      colour: 5.5 EBC
      source: certificate
"""
FIELDS = """
    grains:
      - {malt: island-pale, weight: 4.20 kg}
      - {malt: island-pale, weight: 0.30 kg}
      - malt: amber malt
        weight: 250 g
        extract: 76 %
        moisture: 4 %
        diastatic_power: 20 WK
        colour: 65 EBC
        source: datasheet
      - {malt: hulls, weight: 100 g}
    crush: 1.05 mm
    sieve: {1.25 mm: 32 %, 0.5 mm: 38 %, pan: 30 %}
    water:
      calcium: 50 mg/L
      magnesium: 10 mg/L
      sodium: 12 mg/L
      sulfate: 40 mg/L
      chloride: 20 mg/L
      alkalinity: 100 mg/L as CaCO3
    mash:
      liquor: 14.0 L
      additions: [{addition: gypsum, amount: 4 g}]
      readings:
        - {at: 10 min, gravity: 1.038}
        - {at: 20 min, gravity: 1.056}
        - {at: 40 min, gravity: 1.070}
        - {at: 60 min, gravity: 1.073}
      rests: [40 degC for 5 min, 52 degC for 10 min, 66 degC for 60 min, 72 degC for 20 min, 78 degC for 2 min]
      ph: 5.20 at 50 degC
      first_wort: 1.074
    lauter: {method: batch sparge, liquor: 15.5 L, last_runnings: 1.018}
    boil:
      before: {volume: 25.0 L at 65 degC, gravity: 11.2 °Bx}
      top_up: 0.5 L
      after: {volume: 22.6 L at 95 degC, gravity: 1.053}
      time: 70 min
      hops:
        - {hop: East Field Goldings, weight: 40 g, alpha: 5.5 %, boiled: 60 min, off: knockout}
        - {hop: East Field Goldings, weight: 25 g, alpha: 5.5 %, boiled: 15 min, off: knockout}
      additions: [{addition: sucrose, weight: 200 g}]
    stand: {temperature: 80 degC, time: 20 min, hops: [{hop: East Field Goldings, weight: 20 g, alpha: 5.5 %}]}
    clock: [08:40 mashed in, 00:20 to bed]
    fermenter:
      yeast: {strain: house, cells: 180 billion}
      hops: [{hop: East Field Goldings, weight: 50 g, on: 2026-04-15}]
      volume: 20.1 L
      gravity: 1.053
      top_up: 0.4 L
      additions: [{addition: honey, weight: 100 g}]
      pitched: 2026-04-11 17:30
    readings:
      - {at: 2026-04-12 20:00, gravity: 1.046}
      - {at: 2026-04-13 20:00, gravity: 1.027}
      - {at: 2026-04-15 20:00, gravity: 1.014}
      - {at: 2026-04-20 20:00, gravity: 1.011}
      - {at: 2026-04-24 20:00, gravity: 1.011}
    package:
      on: 2026-04-25
      volume: 18.8 L
      carbonation: 5.0 g/L
      warmest: 21 degC
      container: bottles
      priming: {addition: sucrose, weight: 130 g}
      pressure: 0.9 bar at 4 degC
"""

Draw = Callable[[float, float], Array]


@dataclass(frozen=True)
class Readings:
    """What was read, each a number or an array of draws, in the entry's order of the work."""

    pale: Array
    pale_again: Array
    amber: Array
    hulls: Array
    pale_extract: Array
    pale_moisture: Array
    pale_power: Array
    pale_colour: Array
    amber_extract: Array
    amber_moisture: Array
    amber_power: Array
    amber_colour: Array
    hulls_moisture: Array
    liquor: Array
    ph: Array
    ph_at: Array
    first_wort: Array
    sparge: Array
    before: Array
    before_at: Array
    before_brix: Array
    wort_factor: Array
    kettle_top_up: Array
    after: Array
    after_at: Array
    after_gravity: Array
    minutes: Array
    hops: tuple[Array, Array]
    alphas: tuple[Array, Array]
    boiled: tuple[Array, Array]
    sugar: Array
    sugar_extract: Array
    volume: Array
    gravity: Array
    top_up: Array
    honey: Array
    honey_extract: Array
    honey_colour: Array
    stand_hop: Array
    stand_alpha: Array
    stood: Array
    dry_hops: Array
    cells: Array
    pressure: Array
    pressure_at: Array
    clock: Array
    last: Array
    packaged: Array
    warmest: Array
    priming: Array
    dead_space: Array
    rests: tuple[Array, ...]


def readings(draw: Draw) -> Readings:
    """The readings of FIELDS, `draw(value, sd)` for each, with the format's default uncertainties (common practice).

    Weights 1 % or 10 g, volumes 2 % or 0.2 L, the larger; hydrometer 0.001; pH 0.05; temperature 0.5 K; extract and
    moisture by source: certificate 0.5 and 0.3, datasheet 1.0 and 0.5, typical 1.5 and 0.8 points. Beyond the format's
    list, common practice: 1 min, 1 g of hops, a tenth of the alpha; power 8, 12, 20 % by source, colour 5, 10, 20 %.
    """

    def litres(value: float) -> Array:
        return draw(value, max(0.02 * value, 0.2))

    def kilograms(value: float) -> Array:
        return draw(value, max(0.01 * value, 0.010))

    return Readings(
        pale=kilograms(4.20),
        pale_again=kilograms(0.30),
        amber=kilograms(0.25),
        hulls=kilograms(0.10),
        pale_extract=draw(0.815, 0.005),
        pale_moisture=draw(0.040, 0.003),
        pale_power=draw(250.0, 20.0),
        pale_colour=draw(5.5, 0.275),
        amber_extract=draw(0.76, 0.010),
        amber_moisture=draw(0.04, 0.005),
        amber_power=draw(20.0, 2.4),
        amber_colour=draw(65.0, 6.5),
        hulls_moisture=draw(0.09, 0.008),
        liquor=litres(14.0),
        ph=draw(5.20, 0.05),
        ph_at=draw(50.0, 0.5),
        first_wort=draw(1.074, 0.001),
        sparge=litres(15.5),
        before=litres(25.0),
        before_at=draw(65.0, 0.5),
        before_brix=draw(11.2, 0.15),
        wort_factor=draw(1.03, 0.01),
        kettle_top_up=litres(0.5),
        after=litres(22.6),
        after_at=draw(95.0, 0.5),
        after_gravity=draw(1.053, 0.001),
        minutes=draw(70.0, 1.0),
        hops=(draw(0.040, 0.001), draw(0.025, 0.001)),
        alphas=(draw(0.055, 0.0055), draw(0.055, 0.0055)),
        boiled=(draw(60.0, 1.0), draw(15.0, 1.0)),
        sugar=kilograms(0.20),
        sugar_extract=draw(1.00, 0.015),
        volume=litres(20.1),
        gravity=draw(1.053, 0.001),
        top_up=litres(0.4),
        honey=kilograms(0.10),
        honey_extract=draw(0.80, 0.015),
        honey_colour=draw(5.0, 1.0),
        stand_hop=draw(0.020, 0.001),
        stand_alpha=draw(0.055, 0.0055),
        # 20 min at 80 °C leave as much iso-alpha acid as these at 100 °C: Malowicki & Shellhammer (2005), give or take a fifth
        stood=draw(3.31, 0.2 * 3.31),
        dry_hops=draw(0.050, 0.001),
        cells=draw(180.0, 36.0),
        pressure=draw(0.9, 0.05),
        pressure_at=draw(4.0, 0.5),
        clock=draw(940.0, 1.0),
        last=draw(1.011, 0.001),
        packaged=litres(18.8),
        warmest=draw(21.0, 0.5),
        priming=draw(0.130, 0.001),
        dead_space=litres(0.6),
        rests=(draw(5.0, 1.0), draw(10.0, 1.0), draw(60.0, 1.0), draw(20.0, 1.0)),
    )


def _grist(x: Readings) -> dict[str, Array]:
    malt = x.pale + x.pale_again
    lovibond = [(colour + 1.2) / 2.65 for colour in (x.pale_colour, x.amber_colour, x.honey_colour)]  # common practice
    knockout = r.at_20(x.after, x.after_at)
    # as much water as went into the fermenter with this wort would have gone into the whole of it
    beer = knockout * x.volume / (x.volume - x.top_up)
    mcu = (malt * lovibond[0] + x.amber * lovibond[1] + x.honey * lovibond[2]) / 0.45359237 / (beer / 3.785411784)
    return {
        "grain_weight": malt + x.amber + x.hulls,
        "potential_extract": malt * (1 - x.pale_moisture) * x.pale_extract
        + x.amber * (1 - x.amber_moisture) * x.amber_extract,
        # hulls have no extract and don't count
        "diastatic_power": (malt * x.pale_power + x.amber * x.amber_power) / (malt + x.amber),
        "moisture": malt * x.pale_moisture + x.amber * x.amber_moisture + x.hulls * x.hulls_moisture,
        "colour": 1.97 * 1.4922 * mcu**0.6859,  # D. A. Morey (1995); EBC = 1.97 SRM, common practice
    }


def _worts(x: Readings) -> dict[str, Array]:
    kettle, knockout = r.at_20(x.before, x.before_at), r.at_20(x.after, x.after_at)
    kettle_gravity = r.gravity(x.before_brix / x.wort_factor)
    mean = (kettle_gravity + x.after_gravity) / 2
    beer = knockout * x.volume / (x.volume - x.top_up)
    # G. Tinseth (1997): bigness 1.65 * 0.000125^(SG - 1), time (1 - e^(-0.04 t)) / 4.15, over mg/L of alpha acid
    uses = [1.65 * 0.000125 ** (mean - 1) * (1 - np.exp(-0.04 * minutes)) / 4.15 for minutes in x.boiled]
    stood = (
        1.65 * 0.000125 ** (mean - 1) * (1 - np.exp(-0.04 * x.stood)) / 4.15 * x.stand_hop * x.stand_alpha * 1e6 / beer
    )
    alpha = [weight * share * 1e6 / beer for weight, share in zip(x.hops, x.alphas, strict=True)]
    return {
        "kettle_volume": kettle,
        "kettle_gravity": kettle_gravity,
        "knockout_volume": knockout,
        "knockout_gravity": x.after_gravity,
        "fermenter_volume": x.volume,
        "kettle_top_up": x.kettle_top_up,
        "fermenter_top_up": x.top_up,
        "original_gravity": x.gravity,
        "final_gravity": x.last,
        "kettle_extract": r.extract(kettle, kettle_gravity),
        "knockout_extract": r.extract(knockout, x.after_gravity),
        "fermenter_extract": r.extract(x.volume, x.gravity),
        "bitterness": alpha[0] * uses[0] + alpha[1] * uses[1] + stood,
        "stand_bitterness": stood,
        "beer_in_hops": 7.5 * x.dry_hops,  # 7 to 8 mL to the gram: a trade article
        "pitching_rate": x.cells / x.volume / r.plato(x.gravity),
        "brew_day": x.clock / 60,
        "kettle_mass": kettle * r.wort(r.plato(kettle_gravity)),
        "knockout_mass": knockout * r.wort(r.plato(x.after_gravity)),
    }


def _account(x: Readings, f: dict[str, Array]) -> dict[str, Array]:
    strength = r.plato(x.first_wort)
    sugar, honey = x.sugar * x.sugar_extract, x.honey * x.honey_extract
    dissolved = (x.liquor * r.water(20.0) + f["moisture"]) * strength / (100 - strength)
    transfer = (f["fermenter_extract"] - honey) / f["knockout_extract"]
    liquor = x.liquor + x.sparge
    left = liquor * r.water(20.0) + f["moisture"] + dissolved - f["kettle_mass"]
    left_strength = 100 * (dissolved - f["kettle_extract"]) / left
    boiled_off = f["kettle_mass"] + x.sugar + x.kettle_top_up * r.water(20.0) - f["knockout_mass"]
    return {
        "mash_liquor": x.liquor,
        "sparge_liquor": x.sparge,
        "total_liquor": liquor,
        "liquor_to_grist": x.liquor / f["grain_weight"],
        "dissolved_extract": dissolved,
        "conversion_efficiency": dissolved / f["potential_extract"],
        "lauter_efficiency": f["kettle_extract"] / dissolved,
        **_bed(x, f, dissolved, left - (dissolved - f["kettle_extract"])),
        "mash_efficiency": f["kettle_extract"] / f["potential_extract"],
        "added_extract": sugar + honey,
        "transfer_efficiency": transfer,
        "brewhouse_efficiency": (f["fermenter_extract"] - sugar * transfer - honey) / f["potential_extract"],
        "brewhouse_yield": (f["knockout_extract"] - sugar) / f["grain_weight"],
        "boil_off": boiled_off / r.water(20.0) / (x.minutes / 60),
        "absorption": (liquor - x.dead_space - f["kettle_volume"]) / f["grain_weight"],
        "wort_held": (left / r.wort(left_strength) - x.dead_space) / f["grain_weight"],
        "kettle_loss": f["knockout_volume"] - (x.volume - x.top_up),
    }


def _bed(x: Readings, f: dict[str, Array], dissolved: Array, water_left: Array) -> dict[str, Array]:
    """What stays when all of the water in the tun is as strong as what is left of it, before the sparge and after."""
    in_mash = x.liquor * r.water(20.0) + f["moisture"]
    even = dissolved * water_left / in_mash * water_left / (water_left + x.sparge * r.water(20.0))
    short = dissolved - f["kettle_extract"] - even
    return {
        "first_wort_maximum": 100 * f["potential_extract"] / (f["potential_extract"] + in_mash),
        "extract_left_well_mixed": even,
        "lauter_shortfall_extract": short,
        "lauter_shortfall": short / dissolved,
    }


def _beer(x: Readings) -> dict[str, Array]:
    original, apparent = r.plato(x.gravity), r.plato(x.last)
    real, weight = r.alcohol(original, apparent)
    return {
        "original_extract": original,
        "apparent_extract": apparent,
        "real_extract": real,
        "apparent_attenuation": (original - apparent) / original,
        "real_attenuation": (original - real) / original,
        "alcohol_by_weight": weight,
        "alcohol_by_volume": weight * x.last * r.water(20.0) / r.ETHANOL,
        # ASBC Beer-6, from memory; ASBC's calories as in the Oxford Companion to Beer
        "real_degree_of_fermentation": (original - real) / original / (1 - 0.005161 * real),
        "energy": (6.9 * 100 * weight + 4.0 * (real - 0.1)) * x.last,
    }


def _glass(x: Readings, f: dict[str, Array]) -> dict[str, Array]:
    share = x.packaged / x.volume
    left = x.packaged * r.wort(f["apparent_extract"]) * f["real_extract"] / 100
    residual = 0.92 * r.carbon_dioxide(x.warmest)
    return {
        "package_volume": x.packaged,
        "package_top_up": np.zeros_like(x.packaged),
        "package_loss": x.volume - x.packaged,
        "packaged_share": share,
        "fermenter_left_extract": f["fermenter_extract"] - f["fermenter_extract"] * share,
        "packaged_extract": left,
        "fermented_extract": f["fermenter_extract"] * share - left,
        "residual_carbonation": residual,
        "pressure_carbonation": 0.92 * r.carbon_dioxide(x.pressure_at) * (x.pressure + 1.01325),
        "carbonation": residual + x.priming * 1000 / x.packaged * r.GAS_OF_SUCROSE,
        "priming_sugar": (5.0 - residual) * x.packaged / r.GAS_OF_SUCROSE / 1000,
    }


def reckoned(x: Readings) -> dict[str, Array]:
    """Every figure by name, from the readings alone."""
    found = _grist(x) | _worts(x)
    found |= _account(x, found) | _beer(x)
    found |= _glass(x, found)
    # Briggs et al., Brewing: Science and Practice (2004), from memory: 0.35 lower at 65 °C than at 20 °C
    found["mash_ph"] = x.ph + 0.35 / 45 * (x.ph_at - 20)
    names = ("beta_glucanase", "protease", "beta_amylase", "alpha_amylase")
    found |= {f"minutes_{name}": minutes for name, minutes in zip(names, x.rests, strict=True)}
    found["mash_time"] = sum(x.rests)  # but for the last, which is a mash-out
    found["diastatic_power_lintner"] = (found["diastatic_power"] + 16) / 3.5
    found["hulls_share"] = x.hulls / found["grain_weight"]
    return {name: value for name, value in found.items() if name not in {"moisture", "kettle_mass", "knockout_mass"}}
