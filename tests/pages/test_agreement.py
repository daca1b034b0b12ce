"""Whether a batch's readings agree, and what was to be expected, as its page shows them."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from balance.brewed_exactly import entry_fields, truth, written
from balance.simulated_brewery import BREWERY
from pages.seen import LITTLE, accounts_of, batch_of, head, page_at, see, seen_at
from texts import entry, journal_at

from journal.balance import BROKEN, CLOSES, STRAINED, TOO_FEW, Balance
from journal.measures.wording import METRIC
from journal.pages import Record, Renderer
from journal.pages.numbers import of_result
from journal.pages.parts.agreement import Agreement
from journal.pages.parts.chain import KEPT_OUT, TRUSTED
from journal.pages.parts.expected import Expected
from journal.pages.parts.flow import FlowPicture, flow_picture
from journal.pages.site.batches import BatchesModel
from journal.pages.site.home import HomeModel
from journal.publishing import understand

SEED = 6
TRUE = truth(SEED).readings
#: 1.047 with two digits the other way round.
SWAPPED = {"boil.before.gravity": "1.074"}
PAGE, ACCOUNTS = "batches/31.html", "accounts/31.html"
#: Two gravities of the same wort, and nothing else that would know.
ONLY_TWO = dict.fromkeys(
    ("mash.liquor", "lauter.liquor", "mash.first_wort", "boil.before.volume", "boil.before.gravity"), ""
)


def fields(slips: dict[str, str], seed: int = SEED, more: str = "") -> str:
    text = written(truth(seed).readings) | {"lauter.method": "batch sparge"} | slips
    return entry_fields(text, more)


def journal(root: Path, slips: dict[str, str], earlier: int = 0, more: str = "") -> Record:
    """An exact brew with some readings written otherwise, after some that are exact."""
    files: dict[str, str | bytes] = {"brewery.yaml": BREWERY, "31.md": entry(fields(slips, more=more))}
    for n in range(1, earlier + 1):
        files[f"{n}.md"] = entry(fields({}, seed=9 + n), head=head(str(n), brewed=f"2026-01-{n:02}"))
    journal_at(root, files)
    return understand(root)


def agreement(record: Record) -> Agreement:
    found = accounts_of(record).agreement
    assert found is not None
    return found


@pytest.fixture(scope="module")
def noisy(tmp_path_factory: pytest.TempPathFactory) -> Record:
    """Readings a little off, as instruments are, after six earlier brews."""
    slips = {"boil.before.gravity": "1.0472", "fermenter.volume": "22.40 L", "boil.after.volume": "24.30 L"}
    return journal(tmp_path_factory.mktemp("noisy"), slips, earlier=6)


@pytest.fixture(scope="module")
def broken(tmp_path_factory: pytest.TempPathFactory) -> Record:
    return journal(tmp_path_factory.mktemp("broken"), SWAPPED, earlier=6)


def test_a_balance_that_holds_is_shown_first_with_the_recorded_beside(noisy: Record) -> None:
    assert noisy.balances["31"].verdict.status == CLOSES
    page, accounts = batch_of(noisy), accounts_of(noisy)
    assert [link.number for link in page.chain] == [link.number for link in accounts.chain]
    for link in accounts.chain:
        assert link.figure is not None
        assert link.number == link.figure.number == of_result(noisy.balances["31"].figures[link.name], "metric")
        assert link.figure.working.result == of_result(noisy.figures["31"][link.name], "metric").text
        assert not link.doubtful
    assert page.lead[0].startswith(of_result(noisy.balances["31"].figures["brewhouse_efficiency"], "metric").text)
    assert page.lead[-1] == "The readings agree."
    text = seen_at(noisy, ACCOUNTS).text
    mash = of_result(noisy.figures["31"]["mash_efficiency"], "metric").text
    assert f"as recorded {' '.join(mash.split())}" in text


def test_a_reading_as_recorded_has_the_decimals_of_the_balanced_one(noisy: Record) -> None:
    agreed = accounts_of(noisy).agreement
    assert agreed

    def decimals(text: str) -> int:
        return len(re.split(r"[^\d]", text.partition(".")[2])[0])

    assert all(decimals(row.recorded) == decimals(row.balanced) for row in agreed.readings)
    # all readings together know a gravity better than to a point
    assert max(decimals(row.recorded) for row in agreed.readings) == 4


def test_the_account_of_a_balance_that_holds_has_one_extract_in_the_kettle(noisy: Record) -> None:
    page = batch_of(noisy)
    assert page.account is not None
    kinds = [step.kind for step in page.account.steps]
    assert "differ" not in kinds
    kg = [float(step.kg.whole + step.kg.fraction) for step in page.account.steps]
    assert kg[0] - sum(kg[1:-1]) == pytest.approx(kg[-1], abs=0.005 * len(kg))
    assert page.account.steps[-1].share == page.chain[-1].number
    assert page.chain_remarks == ()


def test_the_reconciled_chain_multiplies_out(noisy: Record) -> None:
    shares = [float(link.number.whole + link.number.fraction) / 100 for link in batch_of(noisy).chain if link.number]
    conversion, lauter, mash, transfer, brewhouse = shares
    # each shown to tenths of a per cent
    assert conversion * lauter == pytest.approx(mash, abs=0.0015)
    assert mash * transfer == pytest.approx(brewhouse, abs=0.0015)


def ranges(expected: Expected) -> tuple[float, float]:
    low, high = re.findall(r"\d+(?:\.\d+)?", expected.span)[:2]
    return float(low), float(high)


def test_what_was_expected_stands_beside_what_was_got(noisy: Record) -> None:
    page = batch_of(noisy)
    assert {row.name for row in page.expected} >= {"kettle_volume", "kettle_gravity", "boil_off", "original_gravity"}
    for row in page.expected:
        assert row.got is not None
        assert row.batches == noisy.balances["31"].foreseen[row.name].batches == 6
        low, high = ranges(row)
        value = float(row.got.whole + row.got.fraction)
        assert (row.outside == "") == (25 <= row.mark <= 75)
        assert row.outside or low - 0.06 <= value <= high + 0.06
    assert "was to be expected" in page.lead[0]
    assert "from 6 earlier batches" in seen_at(noisy, PAGE).text


def test_what_lies_outside_is_marked_in_words_and_by_shape(broken: Record) -> None:
    rows = {row.name: row for row in batch_of(broken).expected}
    assert rows["kettle_gravity"].outside == "above"
    assert rows["kettle_gravity"].mark > 75
    seen = seen_at(broken, PAGE)
    marks = [attributes["class"] for _, attributes in seen.elements if attributes.get("class") in {"within", "beyond"}]
    assert marks.count("beyond") == sum(bool(row.outside) for row in rows.values()) >= 1
    assert len(marks) == len(rows)


def test_without_earlier_batches_nothing_was_expected(tmp_path: Path) -> None:
    page = batch_of(journal(tmp_path, {}))
    assert page.expected == ()
    assert all(link.expected is None for link in page.chain)
    assert "expected" not in page.lead[0]


def test_a_planned_brew_has_what_is_expected_only(tmp_path: Path) -> None:
    files: dict[str, str | bytes] = {"brewery.yaml": BREWERY}
    for n in range(1, 7):
        files[f"{n}.md"] = entry(fields({}, seed=9 + n), head=head(str(n), brewed=f"2026-01-{n:02}"))
    unread = {path: "" for path in TRUE if path not in {"grain", "mash.liquor", "lauter.liquor"}}
    plan = "\n".join(line for line in fields(unread).splitlines() if "{}" not in line and "time" not in line)
    plan = plan.replace("boil:\n", "")
    journal_at(tmp_path, files | {"31.md": entry(plan)})
    record = understand(tmp_path)
    page = batch_of(record)
    assert page.planned
    assert "brewhouse_efficiency" in [row.name for row in page.expected]
    assert all(row.got is None and row.span for row in page.expected)
    assert accounts_of(record).agreement is None
    assert page.chain == ()


def test_a_strained_balance_is_told_from_one_that_closes(tmp_path: Path) -> None:
    for place, points in enumerate(np.arange(0.0015, 0.008, 0.0004)):
        gravity = TRUE["boil.before.gravity"] + points
        record = journal(tmp_path / str(place), {"boil.before.gravity": f"{gravity:.4f}"})
        if record.balances["31"].verdict.status == STRAINED:
            break
    assert agreement(record).status == STRAINED
    assert "only just" in agreement(record).sentences
    assert "The readings agree only just." in batch_of(record).lead


def test_a_broken_balance_names_the_suspect_and_the_slip(broken: Record) -> None:
    found = agreement(broken)
    assert found.status == BROKEN
    suspects = [reading for reading in found.readings if reading.suspect]
    assert [reading.reading.words for reading in suspects] == ["Gravity before the boil"]
    assert suspects[0].written == "1.074"
    assert suspects[0].hard
    assert "Everything else agrees." in found.sentences
    assert [reading for reading in found.readings if reading.hard] == suspects
    low, sd = re.findall(r"\d\.\d+", suspects[0].balanced)
    assert float(low) == pytest.approx(TRUE["boil.before.gravity"], abs=2 * float(sd))
    assert "two digits the other way round" in found.sentences
    text = seen_at(broken, ACCOUNTS).text
    assert "suspect" in text
    assert "above the limit" in text


def test_its_efficiencies_are_marked_and_kept_out(broken: Record) -> None:
    page = batch_of(broken)
    assert all(link.doubtful for link in page.chain)
    assert page.chain[2].number is not None
    assert page.chain[2].recorded is None
    assert KEPT_OUT in page.chain_remarks
    # nor do they go out alone, to where a page is shown by its card
    assert page.frame.summary == "The readings of this brew contradict one another."
    home = page_at(broken, "index.html").model
    assert isinstance(home, HomeModel)
    listed = page_at(broken, "batches.html").model
    assert isinstance(listed, BatchesModel)
    assert [row.id for row in listed.listed.rows if row.doubtful] == ["31"]
    assert [row.id for row in listed.listed.rows if row.spot and row.spot.left_out] == ["31"]
    assert home.chart is not None
    (panel,) = home.chart.panels
    assert [each.name for each in panel.left_out] == ["31"]
    assert len(panel.dots) == 6
    assert "over six batches" in home.trend


def test_a_brewer_may_trust_a_broken_balance_all_the_same(tmp_path: Path) -> None:
    page = batch_of(journal(tmp_path, SWAPPED, more="trust: {balance: yes}"))
    assert TRUSTED in page.chain_remarks
    assert KEPT_OUT not in page.chain_remarks


def test_suspects_that_cant_be_told_apart_are_all_marked(tmp_path: Path) -> None:
    record = journal(tmp_path, {"fermenter.gravity": "1.0640"} | ONLY_TWO)
    verdict = record.balances["31"].verdict
    assert verdict.alike > 1
    found = agreement(record)
    assert sum(reading.suspect for reading in found.readings) == verdict.alike
    assert "can't tell which" in found.sentences
    assert found.legend.startswith("Balanced with every reading in it")


def test_with_too_few_readings_there_is_one_sentence(tmp_path: Path) -> None:
    little = LITTLE.replace("brewhouse: shed\n", "").replace("meadow-pale", "pale malt")
    journal_at(tmp_path, {"brewery.yaml": BREWERY, "31.md": entry(little)})
    record = understand(tmp_path)
    found = agreement(record)
    assert found.status == TOO_FEW
    assert found.sentences.startswith("Too few readings")
    assert (found.flow, found.readings, found.blind_spots) == (None, (), "")
    assert "Chi-square" not in seen_at(record, PAGE).text


def widths(html: str, of: str) -> list[float]:
    """The widths of a band's straight stretches, from the top down."""
    return [abs(float(width)) for width in re.findall(rf'<path class="{of}" d="M[\d.]+ [\d.]+h(-?[\d.]+)V', html)]


def test_the_bands_are_as_wide_as_their_kilograms(noisy: Record) -> None:
    html = Renderer().render(page_at(noisy, ACCOUNTS))
    flows = {flow.name: flow for flow in noisy.balances["31"].flows}
    for of in ("water", "extract"):
        drawn = widths(html, of)
        # each station, and the stretch after it without what left: mash, after it, kettle, …
        stations = [getattr(flows[name], of) for name in ("mash", "kettle", "knockout", "fermenter")]
        scale = drawn[0] / stations[0]
        # drawn to tenths, the first and each of the others
        assert [width / scale for width in drawn[::2]] == pytest.approx(stations, abs=0.1 / scale)
        # nothing joined: what is left after a branch is what the next station holds
        assert drawn[1::2] == pytest.approx(drawn[2::2], abs=0.11)
    water, extract = widths(html, "water")[0], widths(html, "extract")[0]
    assert water / extract == pytest.approx(flows["mash"].water / flows["mash"].extract, rel=0.01)


def test_the_picture_says_what_leaves_and_ends_where_the_readings_end(noisy: Record, tmp_path: Path) -> None:
    words = [caption.text for caption in agreement(noisy).flow.captions]  # type: ignore[union-attr]
    assert {"spent grain", "steam", "left in the kettle"} <= set(words)
    unread = {path: "" for path in TRUE if path.startswith("fermenter")}
    text = fields(unread).replace("fermenter: {}\n", "")
    journal_at(tmp_path, {"brewery.yaml": BREWERY, "31.md": entry(text)})
    flow = agreement(understand(tmp_path)).flow
    assert flow is not None
    assert "left in the kettle" not in [caption.text for caption in flow.captions]
    assert "knockout" in flow.summary


def test_water_that_joins_is_drawn(tmp_path: Path) -> None:
    volume, points = TRUE["fermenter.volume"], TRUE["fermenter.gravity"] - 1
    topped = {
        "fermenter.top_up": "2.00 L",
        "fermenter.volume": f"{volume + 2:.2f} L",
        "fermenter.gravity": f"{1 + points * volume / (volume + 2):.4f}",
    }
    flow = agreement(journal(tmp_path, topped)).flow
    assert flow is not None
    added = [after.text for before, after in pairwise(flow.captions) if before.text == "added"]
    assert added
    assert float(added[0].split("\N{NO-BREAK SPACE}")[0]) == pytest.approx(2.0, abs=0.15)


def test_what_rounding_leaves_over_joins_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    topped = {"fermenter.top_up": "2.00 L", "fermenter.volume": f"{TRUE['fermenter.volume'] + 2:.2f} L"}
    balance = journal(tmp_path, topped).balances["31"]
    *before, fermenter = balance.flows

    def picture(rounding: float) -> FlowPicture | None:
        flows = (*before, fermenter._replace(extract=fermenter.extract + rounding))
        monkeypatch.setattr(Balance, "flows", flows)
        return flow_picture(balance, METRIC)

    assert picture(1e-12) == picture(-1e-12)


def test_its_links_lead_somewhere_and_nothing_is_styled_in_place(noisy: Record, broken: Record) -> None:
    for record in (noisy, broken):
        html = Renderer().render(page_at(record, ACCOUNTS))
        seen = see(html)
        assert "style=" not in html
        assert {href[1:] for href in seen.hrefs if href.startswith("#")} <= set(seen.ids)
        assert "../figures.html#reconciled" in seen.hrefs
        figures = seen_at(record, "figures.html")
        targets = {href.split("#")[1] for href in seen.hrefs if href.startswith("../figures.html#")}
        assert targets <= set(figures.ids)
    assert "Narasimhan" in figures.text
    assert "Kuehn" in figures.text
    assert "VDI 2048" in figures.text
