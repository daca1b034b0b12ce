"""Notes on a batch: each is there when its cause is, and not otherwise; wordings are those of a friend."""

import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest
from texts import HEAD, batch_of

from journal.figures import figures_of
from journal.history.advice import RULES, Advice, advice_of
from journal.problems import Source
from journal.reading import Batch, Brewery, Journal, Malts
from journal.reading.instruments import Instruments, PhMeter
from journal.reading.logs import read_log

PALE = "grains: [{malt: pale malt, weight: 4 kg}]\n"


def journal_of(brewery: Brewery | None = None) -> Journal:
    return Journal(Path(), brewery or Brewery(), Malts(), ())


def notes(batch: Batch, earlier: Sequence[Batch] = (), brewery: Brewery | None = None) -> dict[str, Advice]:
    journal = journal_of(brewery)
    found = advice_of(batch, figures_of(batch, journal.brewery, journal.malts), journal, earlier)
    assert len({note.code for note in found}) == len(found)
    return {note.code: note for note in found}


def codes(fields: str, head: str = HEAD) -> set[str]:
    return set(notes(batch_of(fields, head=head)))


#: What each note is given for, and what is just as it should be.
CASES = {
    "long-protein-rest": (
        "mash: {rests: [50 degC for 25 min]}",
        "mash: {rests: [52 degC for 10 min, 66 degC for 60 min]}",
    ),
    "hot-side": ("mash: {rests: [65.5 degC for 90 min]}", "mash: {rests: [63 degC for 90 min]}"),
    "hot-mash": ("mash: {rests: [72 degC for 30 min]}", "mash: {rests: [66 degC for 60 min, 76 degC for 10 min]}"),
    "many-hours": ("mash: {rests: [62 degC for 9 h]}", "mash: {rests: [62 degC for 120 min]}"),
    "mash-ph-outside": ("mash: {ph: 5.72}", "mash: {ph: 5.40}"),
    "ph-read-hot": ("mash: {ph: 5.05 at 65 degC}", "mash: {ph: 5.40 at 22 degC}"),
    "iodine-failed": ("mash: {iodine: failed}", "mash: {iodine: passed}"),
    "thick-mash": (f"{PALE}mash: {{liquor: 7 L}}", f"{PALE}mash: {{liquor: 9 L}}"),
    "thin-mash": (f"{PALE}mash: {{liquor: 22 L}}", f"{PALE}mash: {{liquor: 19 L}}"),
    "without-husk": (
        "grains: [{malt: pale malt, weight: 3 kg}, {malt: flaked oats, weight: 1 kg}]",
        "grains: [{malt: pale malt, weight: 3 kg}, {malt: flaked oats, weight: 1 kg}, {malt: hulls, weight: 100 g}]",
    ),
    "low-diastatic-power": (
        "grains: [{malt: pale malt, weight: 1 kg}, {malt: flaked maize, weight: 2 kg}]",
        "grains: [{malt: pale malt, weight: 3 kg}, {malt: flaked maize, weight: 1 kg}]",
    ),
    "hot-sparge": ("lauter: {liquor_temperature: 82 degC}", "lauter: {liquor_temperature: 78 degC}"),
    "sparge-ph-high": ("lauter: {ph: 6.2}", "lauter: {ph: 5.8}"),
    "weak-runnings": ("lauter: {last_runnings: 1.005}", "lauter: {last_runnings: 1.012}"),
    "mash-cut-short": (
        (
            f"{PALE}mash: {{liquor: 12 L, rests: [66 degC for 25 min], readings: ["
            "{at: 5 min, gravity: 1.012}, {at: 10 min, gravity: 1.022}, {at: 20 min, gravity: 1.039}, {at: 40 min, gravity: 1.058},"
            " {at: 70 min, gravity: 1.068}, {at: 100 min, gravity: 1.072}]}"
        ),
        (
            f"{PALE}mash: {{liquor: 12 L, rests: [66 degC for 75 min], readings: ["
            "{at: 5 min, gravity: 1.022}, {at: 10 min, gravity: 1.039}, {at: 20 min, gravity: 1.058}, {at: 40 min, gravity: 1.072},"
            " {at: 75 min, gravity: 1.075}]}"
        ),
    ),
}


@pytest.mark.parametrize("code", CASES)
def test_a_note_is_given_for_its_cause_and_not_without(code: str) -> None:
    cause, fine = CASES[code]
    assert code in codes(cause)
    assert code not in codes(fine)


def test_an_entry_that_states_nothing_gets_no_note() -> None:
    assert codes("") == set()


def test_a_note_on_dryness_is_for_beers_that_are_to_be_dry() -> None:
    fields = "mash: {rests: [69 degC for 60 min]}"
    assert "warm-for-dry" in codes(f"style: dry stout\n{fields}")
    assert "warm-for-dry" in codes(f"tags: [saison]\n{fields}")
    assert "warm-for-dry" not in codes(f"style: mild\n{fields}")
    assert "warm-for-dry" not in codes(f"style: sundry ale\n{fields}"), "part of a word is not the word"
    assert "warm-for-dry" not in codes("style: dry stout\nmash: {rests: [66.4 degC for 60 min]}"), (
        "a band has no border"
    )


def test_a_mash_out_is_not_a_hot_rest() -> None:
    assert codes("style: dry stout\nmash: {rests: [65 degC for 60 min, 76 degC for 10 min]}") == set()


def test_a_mash_without_a_sparge_is_thin_by_intent() -> None:
    assert codes(f"{PALE}mash: {{liquor: 26 L}}\nlauter: {{method: bag}}") == set()
    assert codes(f"{PALE}mash: {{liquor: 26 L}}\nlauter: {{method: batch sparge}}") == {"thin-mash"}


def test_a_ph_a_little_outside_is_within_what_the_meter_tells() -> None:
    assert "mash-ph-outside" not in codes("mash: {ph: 5.62}")
    assert "mash-ph-outside" in codes("mash: {ph: 5.62 ± 0.01}")
    # read hot, it is 5.36 when cooled
    assert codes("mash: {ph: 5.05 at 60 degC}") == {"ph-read-hot"}


def test_hulls_are_for_a_bed_and_not_for_a_bag() -> None:
    assert codes(f"{CASES['without-husk'][0]}\nlauter: {{method: bag}}") == set()


def brewed(number: int, crush: str, stuck: str = "0 min") -> Batch:
    return batch_of(
        f"crush: {crush}\nmash: {{stuck: {stuck}}}", head=f"batch: {number}\ntitle: Ale\nbrewed: 2026-03-0{number}\n"
    )


def test_a_gap_finer_than_that_of_a_stuck_mash() -> None:
    earlier = [brewed(1, "1.20 mm", "25 min"), brewed(2, "1.10 mm", "10 min"), brewed(3, "0.90 mm")]
    found = notes(batch_of("crush: 1.00 mm"), earlier)
    assert set(found) == {"finer-than-stuck"}
    assert "batch 2 stuck" in found["finer-than-stuck"].text
    assert "1.10 mm" in found["finer-than-stuck"].text
    assert not notes(batch_of("crush: 1.20 mm"), earlier), "as wide as the widest that stuck"
    assert not notes(batch_of("crush: 0.80 mm"), [brewed(1, "1.00 mm")]), "none stuck"


def test_a_stuck_mash_of_another_brewhouse_says_nothing() -> None:
    other = batch_of("brewhouse: barn\ncrush: 1.2 mm\nmash: {stuck: 20 min}")
    assert not notes(batch_of("brewhouse: shed\ncrush: 1.0 mm"), [other])


@pytest.mark.parametrize(
    ("calibrated", "given"),
    [("2026-03-01", True), ("2026-03-12", False), ("2026-04-11", False), ("2026-04-20", False), ("", False)],
)
def test_a_meter_is_trusted_for_thirty_days(calibrated: str, given: bool) -> None:
    """Brewed on 11 April; nobody who keeps no list of calibrations is told about them."""
    from datetime import date  # noqa: PLC0415

    days = (date.fromisoformat(calibrated),) if calibrated else ()
    brewery = Brewery(instruments=Instruments(ph_meter=PhMeter(calibrated=days)))
    assert ("meter-not-calibrated" in notes(batch_of("mash: {ph: 5.40}"), brewery=brewery)) is given
    assert not notes(batch_of("mash: {liquor: 12 L}"), brewery=brewery), "no pH was read"


def with_log(fields: str, *rows: tuple[float, float]) -> Batch:
    text = "time (min),temperature (degC)\n" + "".join(f"{minute},{degrees}\n" for minute, degrees in rows)
    log, _ = read_log(Source("entries/31-mash.csv", text), ("temperature",))
    return replace(batch_of(fields), mash_log=log)


def test_where_there_is_a_log_it_counts() -> None:
    stated = "mash: {rests: [66 degC for 60 min]}"
    found = notes(with_log(stated, (0, 20), (2, 50), (32, 50), (48, 64), (90, 64), (95, 30)))
    assert set(found) == {"long-protein-rest"}
    assert found["long-protein-rest"].path == "mash.log"
    # 20 s up to 50 °C, half an hour there, and at 7/8 K/min 5.7 min more to 55 °C
    assert " 36 min" in found["long-protein-rest"].text


def test_a_brewery_of_gallons_is_told_in_its_units() -> None:
    found = notes(batch_of("lauter: {liquor_temperature: 180 degF}"), brewery=Brewery(units="us"))
    assert "180 °F" in found["hot-sparge"].text
    assert "172 °F" in found["hot-sparge"].text


@pytest.mark.parametrize("name", CASES)
def test_no_note_tells_a_brewery_of_fahrenheit_degrees_celsius(name: str) -> None:
    for note in notes(batch_of(CASES[name][0]), brewery=Brewery(units="us")).values():
        assert "°C" not in note.text + note.reason + note.source


def every_note() -> list[Advice]:
    found = [note for cause, _ in CASES.values() for note in notes(batch_of(cause)).values()]
    found += notes(batch_of("style: dry\nmash: {rests: [69 degC for 60 min], ph: 4.9}")).values()
    return found + list(notes(batch_of("crush: 1 mm"), [brewed(1, "1.2 mm", "9 min")]).values())


def test_every_note_says_why_and_by_whose_word_politely() -> None:
    for note in every_note():
        assert re.fullmatch(r"[a-z]+(-[a-z]+)+", note.code)
        assert note.text.endswith("."), note.code
        assert note.reason.endswith("."), note.code
        assert note.source
        assert not re.search(r"!|\b(must|wrong|bad|error|never|should)\b", note.text + note.reason, re.IGNORECASE), note
        assert len(note.text) < 160


def test_every_note_points_to_a_reading_of_its_entry() -> None:
    for cause, _ in CASES.values():
        batch = batch_of(cause)
        for note in notes(batch).values():
            assert note.path in batch.places, note


def test_notes_come_in_the_order_of_the_work() -> None:
    fields = f"{PALE}lauter: {{liquor_temperature: 85 degC}}\nmash: {{liquor: 30 L, iodine: failed}}\ncrush: 1 mm"
    found = notes(batch_of(fields), [brewed(1, "1.2 mm", "9 min")])
    assert list(found) == ["finer-than-stuck", "thin-mash", "iodine-failed", "hot-sparge"]


def test_every_rule_has_a_case() -> None:
    given = {note.code for note in every_note()} | {"meter-not-calibrated"}
    # one rule gives two notes, for thick and for thin
    assert len(given) == len(RULES) + 1
