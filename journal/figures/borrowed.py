"""What a batch's numbers take from its relatives, put among its readings under the name of a reading or of a figure.

A part has the wort of its brew, thinned by its own water and sugar. A brew of which no volume was read has that of its
parts. A fermenter that another brew went into holds both worts. A blend has alcohol and extract by mass. What only a
brew day could give is missing, with the reason.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import fsum
from typing import Any

from journal.figures.as_read import GravityReading, Observed, VolumeReading
from journal.figures.kin import Kin, before_yeast
from journal.figures.observe import Called, Observer, all_of, borrows, observe, observes
from journal.figures.propagate import propagate
from journal.figures.resolve import Resolver
from journal.measures import Scale
from journal.problems import in_words
from journal.reading import Batch
from journal.reading.table import is_blank
from journal.science import mixing, wort

#: Figures of a beer that are no strength, and are thinned and mixed by volume.
_BY_VOLUME = ("colour", "bitterness")
#: What is read on a brew day, by the beginning of its path.
_BREW_DAY = ("grains", "crush", "mash.", "lauter.", "boil.", "sieve")
#: What came out of a fermenter, of all that was in it.
_PACKAGED = ("package_loss", "packaged_share", "fermenter_left_extract", "fermented_extract")


@observes(part_worts=Called("the wort of the parts", "kg"), joined_worts=Called("worts that joined"))
def _none_of_them(_o: Observer) -> dict[str, Observed]:
    """Of a batch without relatives nothing was parted and nothing joined."""
    return {"part_worts": Observed(wanting=("a part",)), "joined_worts": Observed(wanting=("a brew that joined",))}


def _together(amounts: Sequence[float]) -> float:
    return fsum(amounts)


def of_plato(strength: Any) -> GravityReading:
    """A strength, degP, as if it had been read."""
    return GravityReading(Scale.PLATO.value, strength, None, 20.0, None, None)


def work_out(function: Callable[..., float], **parts: Observed) -> Observed:
    """A function of what was observed, or all that is missing for it."""
    wanting = tuple(dict.fromkeys(path for part in parts.values() for path in part.wanting))
    if wanting:
        return Observed(wanting=wanting)
    try:
        return Observed(propagate(function, {name: part.value for name, part in parts.items()}))
    except (ArithmeticError, ValueError):
        return Observed(wanting=("readings that agree with each other",))


def pitched_wort(o: Observer) -> Observed:
    """The gravity of the wort pitched as read, or as the batch's relatives have it."""
    batch = o.batch
    if batch.fermenter.gravity is None:
        kin = Kin(o)
        if batch.relatives.whole is not None:
            return _parted(kin, batch.relatives.whole)["fermenter_gravity"]
        if batch.relatives.blended:
            return _blended(kin)["fermenter_gravity"]
    return o.gravity(batch.fermenter.gravity, "fermenter.gravity")


@borrows
def observe_relatives(o: Observer, found: dict[str, Observed]) -> dict[str, Observed]:
    """What stands in for a batch's own readings, or beside them."""
    relatives, kin = o.batch.relatives, Kin(o)
    if relatives.whole is not None:
        return {**_no_brew_day(found, f"brew day of batch {relatives.whole.id}"), **_parted(kin, relatives.whole)}
    if relatives.blended:
        reason = f"brew days of {in_words([each.id for each in relatives.blended])}"
        return {**_no_brew_day(found, reason), **_blended(kin)}
    given = _host(kin, found) if relatives.guests else {}
    if relatives.host is not None and not _fermented_here(o.batch):
        given["last_gravity"] = Observed(wanting=(f"beer of batch {relatives.host.id}",))
    return given | (_whole(kin, found | given) if relatives.parts else {})


def _fermented_here(batch: Batch) -> bool:
    return bool(batch.readings or batch.readings_log or not is_blank(batch.package))


def _no_brew_day(found: dict[str, Observed], reason: str) -> dict[str, Observed]:
    return {
        name: Observed(wanting=(reason,))
        for name, seen in found.items()
        if any(path.startswith(_BREW_DAY) for path in seen.wanting)
    }


def _own(kin: Kin) -> Resolver:
    """The batch's own numbers from the days before its yeast."""
    return Resolver(observe(before_yeast(kin.o.batch), kin.o.brewery, kin.o.malts))


def _thinned(batch: Batch, plato: Observed, find: Callable[[str], Observed]) -> dict[str, Observed]:
    """By number of `mixing.Thinned`, what stands in a part's fermenter of so strong a wort; nothing where it is wort alone."""
    fermenter = batch.fermenter
    weights = [addition.weighed.value for addition in fermenter.additions if addition.weighed]
    if not fermenter.additions and (fermenter.top_up is None or fermenter.top_up.value == 0.0):
        return {}
    known = {
        "volume": find("fermenter_volume"),
        "plato": plato,
        "top_up": find("fermenter_top_up"),
        "added_weight": Observed(fsum(weights)),
        "added_extract": find("fermenter_added_extract"),
    }

    def number(name: str) -> Observed:
        return work_out(lambda **given: float(getattr(mixing.after_thinning(**given), name)), **known)

    return {name: number(name) for name in mixing.Thinned._fields}


def _parted(kin: Kin, whole: Batch) -> dict[str, Observed]:
    """A part's wort, colour and bitterness: those of its brew, thinned by what it was given of its own."""
    batch, own = kin.o.batch, _own(kin)
    plato = kin.find(whole, "original_extract")
    thin = _thinned(batch, plato, own.find)
    given = {}
    if batch.fermenter.gravity is None:
        strength = thin.get("strength", plato)
        given["fermenter_gravity"] = Observed(
            None if strength.wanting else of_plato(strength.value), strength.wanting, f"the wort of batch {whole.id}"
        )
    for name in _BY_VOLUME:
        value = kin.find(whole, name)
        if thin:
            share = {"wort": thin["wort_volume"], "volume": own.find("fermenter_volume"), "value": value}
            value = work_out(lambda wort, volume, value: float(value * wort / volume), **share)
        if not value.wanting:
            given[name] = Observed(value.value, (), f"that of batch {whole.id}" + (", thinned" if thin else ""))
    return given


def _whole(kin: Kin, found: dict[str, Observed]) -> dict[str, Observed]:
    """A brew that stands in several vessels: the volume of them all, the wort that went into its parts."""
    batch, own = kin.o.batch, Resolver(found)
    parts = batch.relatives.parts
    plato = own.find("original_extract")
    poured: list[tuple[Observed, Observed]] = []
    for part in parts:
        volume = kin.find(part, "fermenter_volume")
        thin = _thinned(part, plato, lambda name, part=part: kin.find(part, name))  # type: ignore[misc]
        mass = work_out(lambda volume, plato: volume * wort.density(plato), volume=volume, plato=plato)
        poured.append((thin.get("wort_volume", volume), thin.get("wort_mass", mass)))
    given = {"part_worts": all_of([mass for _, mass in poured])}
    own_vessel = _fermented_here(batch) or any(part.taken for part in parts)
    if batch.fermenter.volume is None and not own_vessel:
        volumes = all_of([volume for volume, _ in poured])
        total = work_out(_together, amounts=volumes)
        words = f"that of {in_words([part.id for part in parts])} together"
        name = "fermenter_volume_reading"
        given[name] = Observed(None if total.wanting else VolumeReading(total.value, None), total.wanting, words)
    if not _fermented_here(batch):
        beers = f"beers of batches {in_words([part.id for part in parts])}"
        given["last_gravity"] = Observed(wanting=(beers,))
    for name in _PACKAGED:
        given[name] = Observed(wanting=("volume in its own vessel alone",))
    return given


def _host(kin: Kin, found: dict[str, Observed]) -> dict[str, Observed]:
    """A fermenter that other brews went into: what they brought, and the strength, colour and bitterness of all of it."""
    own = Resolver(found)
    guests = kin.o.batch.relatives.guests
    names = ("fermenter_volume", "original_extract")
    joined = [all_of([kin.find(guest, name) for name in names], lambda n: mixing.Poured(*n)) for guest in guests]
    worts = all_of(joined)
    first = all_of([own.find(name) for name in names], lambda n: mixing.Poured(*n))
    words = f"with the wort of {in_words([guest.id for guest in guests])}"
    strength = work_out(lambda first, rest: mixing.together([first, *rest]), first=first, rest=worts)
    given = {"joined_worts": worts, "original_extract": Observed(strength.value, strength.wanting, words)}
    for name in _BY_VOLUME:
        values = [own.find(name), *(kin.find(guest, name) for guest in guests)]
        volumes = [own.find("fermenter_volume"), *(kin.find(guest, "fermenter_volume") for guest in guests)]
        mean = work_out(_by_volume, volumes=all_of(volumes), values=all_of(values))
        given[name] = Observed(mean.value, mean.wanting, words)
    return given | _packaged_together(found | given, words)


def _packaged_together(found: dict[str, Observed], words: str) -> dict[str, Observed]:
    """What came out of a fermenter that held other brews' wort too: the package's figures, of both worts."""
    own = Resolver(found)
    volume = work_out(_with_joined, volume=own.find("fermenter_volume"), joined=own.find("joined_worts"))
    extracts = all_of([own.find(name) for name in ("fermenter_extract", "joined_extract")])
    in_fermenter = {"fermenter_volume": volume, "fermenter_extract": work_out(_together, amounts=extracts)}
    of_both = Resolver(found | in_fermenter)
    seen = {name: of_both.find(name) for name in _PACKAGED}
    return {name: Observed(each.value, each.wanting, words) for name, each in seen.items()}


def _with_joined(volume: float, joined: tuple[mixing.Poured, ...]) -> float:
    return volume + fsum(each.volume for each in joined)


def _by_volume(volumes: tuple[float, ...], values: tuple[float, ...]) -> float:
    return fsum(v * x for v, x in zip(volumes, values, strict=True)) / fsum(volumes)


def _blended(kin: Kin) -> dict[str, Observed]:
    """A blend's wort and beer by mass, its volume, colour and bitterness."""
    batch, blended = kin.o.batch, kin.o.batch.relatives.blended
    poured = [kin.o.volume(batch.blend_of[each.id], f"blend_of.{each.id}") for each in blended]
    names = ("final_gravity", "alcohol_by_weight", "real_extract")
    beers = all_of(
        [
            all_of(
                [volume, *(kin.find(each, name) for name in names)], lambda n: mixing.BlendedBeer(n[0].volume, *n[1:])
            )
            for volume, each in zip(poured, blended, strict=True)
        ]
    )
    words = f"a blend of {in_words([each.id for each in blended])}"
    given = {}
    if batch.fermenter.gravity is None:
        original = work_out(mixing.blended_original, beers=beers)
        strength = None if original.wanting else of_plato(original.value)
        given["fermenter_gravity"] = Observed(strength, original.wanting, words)
    if not (batch.readings or batch.package.gravity):
        last = work_out(mixing.blended_gravity, beers=beers)
        reading = GravityReading(Scale.HYDROMETER.value, last.value, None, 20.0, None, None)
        given["last_gravity"] = Observed(None if last.wanting else reading, last.wanting, words)
    volumes = all_of(poured, lambda each: tuple(volume.volume for volume in each))
    if batch.fermenter.volume is None:
        total = work_out(_together, amounts=volumes)
        given["fermenter_volume_reading"] = Observed(VolumeReading(total.value, None), (), words)
    for name in _BY_VOLUME:
        values = all_of([kin.find(each, name) for each in blended])
        mean = work_out(_by_volume, volumes=volumes, values=values)
        given[name] = Observed(mean.value, mean.wanting, words)
    return given
