"""malts.yaml, and the resolving of a grain's values.

What stands in the entry wins over malts.yaml, and that over its kind.
"""

from __future__ import annotations

from dataclasses import field

from journal.frozen import dataclass
from journal.measures import Measure
from journal.measures.units import SHARE
from journal.problems import Source, Span
from journal.reading.entry import Grain, Hop, LabValues, name_of_line
from journal.reading.kinds import ADDITIONS, GRAINS, KINDS, Ingredient, Sort, ingredient_named
from journal.reading.sheet_values import Price
from journal.reading.table import entry_field
from journal.reading.values import Quantity, Text

#: A number whose source is not stated is taken to be no better than a typical one.
UNSTATED = "typical"
#: No line of a grist is one of these.
_NEVER_MASHED = frozenset({Sort.SALT, Sort.ACID, Sort.OTHER})


@dataclass(frozen=True, kw_only=True)
class Malt(LabValues):
    """One lot of malt, as its sheet has it."""

    name: str | None = entry_field(Text(), "what it is called")
    maltster: str | None = entry_field(Text(), "who made it")
    lot: str | None = entry_field(Text(), "the lot on the sack")
    kind: str | None = entry_field(
        Text(known=(*GRAINS, *ADDITIONS)), "a kind, for typical values of what is not stated"
    )
    fine_coarse_difference: Measure | None = entry_field(
        Quantity(SHARE.such_as("1.5 %"), zero=True), "fine-coarse difference of the extract"
    )
    alpha: Measure | None = entry_field(Quantity(SHARE.such_as("5.5 %")), "alpha acid, of a hop")
    price: Measure | None = entry_field(Price(), "price per kg, or of a pound where it says so")


@dataclass(frozen=True)
class Malts:
    """All of malts.yaml by key."""

    by_key: dict[str, Malt] = field(default_factory=dict)
    source: Source | None = None
    places: dict[str, Span] = field(default_factory=dict, repr=False, hash=False, compare=False)


@dataclass(frozen=True)
class StatedValue:
    """One value of a malt: the number in kept units, its own stated sd, how good its source is, and where it was
    stated.

    `origin` is unique for one statement: two grains of one lot share it, and so share its error. It is the reading's
    path in the entry (`grains[1].extract`), or `malts.KEY.extract`, or `kinds.NAME.extract`.
    """

    value: float
    sd: float | None
    source: str
    origin: str


@dataclass(frozen=True)
class MaltValues:
    """What is known of a grain or sugar: None where nothing is.

    One of `extract` (dry basis, fraction) and `extract_as_is` (fraction of the weight) is set where extract is known.
    """

    name: str
    key: str
    kind: str
    extract: StatedValue | None
    extract_as_is: StatedValue | None
    moisture: StatedValue | None
    diastatic_power: StatedValue | None
    colour: StatedValue | None

    @property
    def has_extract(self) -> bool:
        """Whether its extract is known, even if it is none."""
        return self.extract is not None or self.extract_as_is is not None


def _typical(kind: Ingredient | None, name: str) -> StatedValue | None:
    value = getattr(kind, name, None) if kind else None
    return None if value is None or kind is None else StatedValue(value, None, kind.source, f"kinds.{kind.name}.{name}")


def _kind_of(line: LabValues, named: str, malt: Malt | None) -> Ingredient | None:
    """The kind that fills in what is not stated: that of the sheet, or the one the line itself names."""
    if malt is not None:
        return ingredient_named(malt.kind or "")
    stated = line.extract is not None or line.extract_as_is is not None
    # a line with an extract of its own may call the malt what it likes: only a kind's very name then fills in the rest
    kind = KINDS.get(named) if stated else ingredient_named(named)
    mashed = isinstance(line, Grain)
    return None if kind is not None and mashed and kind.sort in _NEVER_MASHED else kind


def sheet_name(line: LabValues, malts: Malts) -> str:
    """What a line's values are known by: a key of malts.yaml, a kind by its own name whatever the line calls it, or else the
    line's own name.
    """
    named = name_of_line(line)
    if named in malts.by_key or line.extract is not None or line.extract_as_is is not None:
        return named
    kind = ingredient_named(named)
    return kind.name if kind is not None else named


def alpha_of(hop: Hop, malts: Malts) -> Measure | None:
    """A hop's alpha acid: what stands in the entry, or else on the sheet of its name."""
    sheet = malts.by_key.get(hop.hop or "")
    return hop.alpha if hop.alpha is not None or sheet is None else sheet.alpha


def may_bring_extract(line: LabValues, malts: Malts) -> bool:
    """Whether a line is of the grist or brings extract of its own, as far as anybody knows: no salt, no finings."""
    stated = line.extract or line.extract_as_is
    if stated is not None:
        return isinstance(line, Grain) or stated.value > 0
    kind = ingredient_named(name_of_line(line))
    return isinstance(line, Grain) or name_of_line(line) in malts.by_key or kind is None or kind.brings_extract


#: The values of lines that were asked for lately, with the line and the sheets that they are of: figures, balance, history and pages ask
#: for those of one line two dozen times. A line, which is not to be changed, is known by being the same object.
_RESOLVED: dict[tuple[int, int, str], tuple[LabValues, Malts, MaltValues]] = {}
_MOST_RESOLVED = 1024


def resolve(line: LabValues, path: str, malts: Malts) -> MaltValues:
    """The values that count for one line of the grist or one sugar at `path` of its entry."""
    key = id(line), id(malts), path
    found = _RESOLVED.get(key)
    if found is None:
        if len(_RESOLVED) >= _MOST_RESOLVED:
            _RESOLVED.clear()
        # what is held here is not collected, so that nothing else has its id
        found = _RESOLVED[key] = line, malts, _resolved(line, path, malts)
    return found[2]


def _resolved(line: LabValues, path: str, malts: Malts) -> MaltValues:
    named = name_of_line(line)
    malt = malts.by_key.get(named)
    kind = _kind_of(line, named, malt)
    layers: list[tuple[LabValues, str, str]] = [(line, path, line.source or UNSTATED)]
    if malt:
        layers.append((malt, f"malts.{named}", malt.source or UNSTATED))

    def first(name: str) -> StatedValue | None:
        for sheet, where, source in layers:
            measure: Measure | None = getattr(sheet, name)
            if measure is not None:
                return StatedValue(measure.value, measure.sd, source, f"{where}.{name}")
        return _typical(kind, name)

    extract, as_is = None, None
    for sheet, _, _ in layers:
        if sheet.extract_as_is is not None or sheet.extract is not None:
            extract = first("extract") if sheet.extract is not None else None
            as_is = first("extract_as_is") if sheet.extract is None else None
            break
    else:
        as_is = _typical(kind, "extract_as_is")
        extract = _typical(kind, "extract") if as_is is None else None
    return MaltValues(
        name=(malt.name if malt and malt.name else named),
        key=named if malt else "",
        kind=kind.name if kind else "",
        extract=extract,
        extract_as_is=as_is,
        moisture=first("moisture"),
        diastatic_power=first("diastatic_power"),
        colour=first("colour"),
    )
