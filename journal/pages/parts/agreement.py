"""Do the readings of a batch agree: the verdict in words, the flow as balanced, and every reading beside its balanced value."""

from __future__ import annotations

from journal.balance import BROKEN, TOO_FEW, Balance, Balanced, Verdict
from journal.balance.words import BLIND_SPOTS, chance, sentence, show_reading
from journal.figures.mash_shared import worts_of
from journal.frozen import dataclass
from journal.measures.wording import plain
from journal.pages.differences import join
from journal.pages.model import Link
from journal.pages.parts.flow import FlowPicture, flow_picture
from journal.pages.paths import reading_anchor
from journal.pages.view import BatchView
from journal.problems import capital, in_words
from journal.reading import Batch
from journal.reading.called import reading_words


@dataclass(frozen=True)
class Reconciled:
    """One reading as written, as it counts, and as the balance has it; `hard` if its strain exceeds the limit."""

    reading: Link
    line: int
    written: str
    recorded: str
    balanced: str
    strain: str
    hard: bool
    suspect: bool


@dataclass(frozen=True)
class Agreement:
    """Whether the readings agree: sentences, the flow, every reading, the test in figures, and what can't be seen.

    `begins_late` says why the flow begins at the kettle, empty where it doesn't. Where too little was recorded, `sentences` are
    all there is.
    """

    status: str
    sentences: str
    flow: FlowPicture | None
    begins_late: str
    readings: tuple[Reconciled, ...]
    legend: str
    test: str
    blind_spots: str


#: A brewer's writing longer than this, a grist's, is left to the rows above.
_WRITTEN = 24


def _link(view: BatchView, path: str, anchors: frozenset[str]) -> Link:
    # a list has no row of its own, its first item has
    found = next((a for a in (reading_anchor(path), reading_anchor(f"{path}[0]")) if a in anchors), "")
    return Link(capital(reading_words(path, view.names)), f"#{found}" if found else "")


def _suspects(verdict: Verdict) -> frozenset[str]:
    """Whom the verdict accuses: the likeliest, and those that can't be told from it."""
    return frozenset(suspect.path for suspect in verdict.suspects[: verdict.alike])


def _reading(view: BatchView, reading: Balanced, verdict: Verdict, anchors: frozenset[str]) -> Reconciled:
    written = view.batch.written(reading.path)
    recorded = show_reading(reading.path, reading.recorded, reading.sd, view.system)
    return Reconciled(
        reading=_link(view, reading.path, anchors),
        line=view.batch.place(reading.path).line,
        written=written if len(written) <= _WRITTEN else "",
        # to as many decimals as the balanced one, lest rounding seem to move it
        recorded=join(recorded.value, recorded.unit),
        balanced=str(show_reading(reading.path, reading.balanced, reading.sd, view.system)),
        strain=plain(reading.adjusted, 1),
        hard=reading.adjusted > verdict.measurement_test_limit,
        suspect=reading.path in _suspects(verdict),
    )


def _legend(verdict: Verdict) -> str:
    """What the picture and the table hold."""
    if verdict.status != BROKEN:
        return "Every reading as recorded and as balanced: the value that fits all readings best, each trusted as far as its ± allows."
    if verdict.alike == 1:
        return "Balanced without the suspect: the values that fit the rest of the readings best."
    return "Balanced with every reading in it, the wrong one too, so no value here can be relied on."


def _test(verdict: Verdict) -> str:
    freedom = verdict.degrees_of_freedom
    return (
        f"Chi-square {plain(verdict.chi_square, 1)} with {freedom} {'degree' if freedom == 1 else 'degrees'} of freedom, "
        f"{chance(verdict.p_value)}; below 0.01 the balance is broken. "
        f"Adjusted by more than {plain(verdict.measurement_test_limit, 1)} (◆) is out of the ordinary."
    )


def _begins_late(batch: Batch) -> str:
    """Why the flow of a wort that shares its mash begins at its own kettle."""
    others = [wort.id for wort in worts_of(batch) if wort.id != batch.id]
    if not batch.shares_mash or not others:
        return ""
    return (
        f"The picture begins at this kettle: the mash gave the wort of {in_words(others)} as well, and no reading says how much of "
        "its water and extract was whose."
    )


def _measured(view: BatchView, balance: Balance, anchors: frozenset[str]) -> Agreement:
    verdict = balance.verdict
    return Agreement(
        status=verdict.status,
        sentences=sentence(balance, view.batch, view.system),
        flow=flow_picture(balance, view.system),
        begins_late=_begins_late(view.batch),
        readings=tuple(_reading(view, reading, verdict, anchors) for reading in verdict.readings),
        legend=_legend(verdict),
        test=_test(verdict),
        blind_spots=BLIND_SPOTS,
    )


def agreement(view: BatchView, anchors: frozenset[str]) -> Agreement | None:
    """The section of a brewed batch whose balance was tried; `anchors` are the recorded rows that a reading may lead to."""
    balance = view.index.balance(view.batch)
    if balance is None or view.batch.planned:
        return None
    if balance.verdict.status == TOO_FEW:
        return Agreement(TOO_FEW, sentence(balance, view.batch, view.system), None, "", (), "", "", "")
    return _measured(view, balance, anchors)
