"""A brew day on a phone: what is typed into the working sheet stays, is checked, runs timers, and goes into the entry."""

from __future__ import annotations

import functools
import re
import shutil
import subprocess
import threading
from collections.abc import Iterator
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from balance.simulated_brewery import BREWERY, Habits
from browser.axe import found_by_axe
from browser.chromium import IN_A_BROWSER
from browser.filled_sheet import page_alone, said_of, write
from click.testing import CliRunner
from history.told import texts
from playwright.sync_api import Browser, BrowserContext, Error, Page, expect

from journal.cli import main
from journal.publishing import understand

pytestmark = IN_A_BROWSER

PLAN = """---
batch: {number}
title: Lantern Bitter
brewed: 2021-03-15         # if it doesn't rain
brewhouse: shed
target: {{gravity: 1.048, volume: 19 L}}
grains:
  - malt: pale malt
    weight: 4.00 kg
  - malt: amber malt
    weight: 200 g
mash:
  liquor: 14.0 L
  ph:                      # 5.3 to 5.5
  rests:
    - 67 degC for 60 min
lauter:
  method: batch sparge
  liquor: 15.0 L
boil:
  time: 60 min
  hops:
    - {{hop: East Field, weight: 30 g, boiled: 60 min}}
    - {{hop: "Late: Field", weight: 20 g, boiled: 10 min}}
fermenter:
  yeast: house
---
Six turns of the paddle.
"""
#: What is typed in the course of a day, by box, and what a brewer would have written by hand of it.
MORNING = {"mash.strike": "73,5", "mash.ph": "5.36", "mash.ph at": "21", "mash.first_wort": "1.078"}
NOON = {"boil.before.volume": "25,1", "boil.before.volume at": "66", "boil.before.gravity": "1.043"}
EVENING = {"boil.after.volume": "22.4 L at 95 degC", "boil.after.gravity": "12.6", "fermenter.volume": "19.9"}
EVENING |= {"fermenter.gravity": "1.044", "fermenter.gravity at": "33", "weight of pale malt": "4.02"}
BY_HAND = {
    "  ph:                      #": "  strike: 73.5 degC\n  first_wort: 1.078\n  ph: 5.36 at 21 degC  #",
    "boil:\n": "boil:\n  before: {volume: 25.1 L at 66 degC, gravity: 1.043}\n  after: {volume: 22.4 L at 95 degC, gravity: 12.6 °Bx}\n",
    "  yeast: house": "  yeast: house\n  volume: 19.9 L\n  gravity: 1.044 at 33 degC",
}
#: At least so large is whatever a finger touches, CSS pixels: WCAG 2.2's enhanced target size.
FINGER = 44
MORNING_OF = "2021-03-15T09:12:00"


@pytest.fixture(scope="module")
def root(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return journal_in(tmp_path_factory.mktemp("journal"))


def journal_in(root: Path) -> Path:
    """Three brews and two that are planned."""
    (root / "entries").mkdir(parents=True)
    (root / "entries" / "brewery.yaml").write_text(f"{BREWERY}brewhouses: {{shed: {{name: Shed}}}}\n")
    for place, text in enumerate(texts(3, Habits()), start=1):
        (root / "entries" / f"{place:02d}.md").write_text(text.replace("grains:", "brewhouse: shed\ngrains:", 1))
    for number in ("15", "16"):
        (root / "entries" / f"{number}.md").write_text(PLAN.format(number=number))
    return root


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True)
    yield context
    context.close()


FAULTS: list[str] = []


@pytest.fixture(autouse=True)
def nothing_goes_wrong() -> Iterator[None]:
    FAULTS.clear()
    yield
    assert not FAULTS


def opened(context: BrowserContext, address: Path) -> Page:
    """The page; what goes wrong on it, and whatever it asks for but files, is written down."""
    page = context.new_page()
    page.on("pageerror", lambda error: FAULTS.append(str(error)))
    page.on("console", lambda message: FAULTS.append(message.text) if message.type in {"error", "warning"} else None)
    page.on("request", lambda asked: None if asked.url.startswith(("file:", "blob:")) else FAULTS.append(asked.url))
    page.goto(f"file://{address}")
    return page


def lines_of(page: Page) -> str:
    page.get_by_role("button", name="Lines for the entry").tap()
    # the click that a touch becomes may come after it; until then none are shown, or what was typed since has hidden them
    expect(page.locator("#sheet-lines")).to_be_visible()
    return page.locator("#sheet-lines").input_value()


@pytest.mark.parametrize(("theme", "width"), [("notebook", 360), ("almanac", 390)])
def test_a_day_on_the_phone_is_the_day_by_hand(
    browser: Browser, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, theme: str, width: int
) -> None:
    root = journal_in(tmp_path / "typed")
    _, address = page_alone(root, "15", theme)
    phone = browser.new_context(viewport={"width": width, "height": 740}, has_touch=True, is_mobile=True)
    page = opened(phone, address)
    for box, text in MORNING.items():
        write(page, box, text)
    page.reload()
    for box, text in NOON.items():
        write(page, box, text)
    assert "best estimate" in page.locator(".advice").first.inner_text()
    phone.set_offline(True)
    page.close()  # the tab is lost, and there is no network to load another from
    page = opened(phone, address)
    page.locator('[data-box="boil.after.gravity"] select').select_option("°Bx")
    for box, text in EVENING.items():
        write(page, box, text)
    assert said_of(page, "weight of pale malt") == "The entry says 4.00 kg: yours goes along as a remark."
    page.locator("#sheet-notes").fill("The hose held.")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = page.evaluate(
        f"""[...document.querySelectorAll(".sheet :is(input, select, button, textarea)")].filter(e => e.offsetParent)
        .map(e => [e.outerHTML.slice(0, 80), e.getBoundingClientRect()])
        .filter(([, r]) => Math.min(r.width, r.height) < {FINGER}).map(([html]) => html)"""
    )
    assert not small, small
    lines = lines_of(page)
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as a file").tap()
    assert download.value.suggested_filename == "15-sheet.md"
    sheet = tmp_path / "15-sheet.md"
    download.value.save_as(sheet)
    assert sheet.read_text() == lines
    phone.close()

    monkeypatch.chdir(root)
    ended = CliRunner().invoke(main, ["enter", "15", str(sheet), "--yes"])
    assert ended.exit_code == 0, ended.output
    entry = (root / "entries" / "15.md").read_text()
    assert "  ph: 5.36 at 21 °C                      # 5.3 to 5.5\n" in entry
    assert "brewed: 2021-03-15         # if it doesn't rain\n" in entry
    assert "weighed: 4.02 kg, where the entry says 4.00 kg" in entry
    assert entry.endswith("The hose held.\n")
    assert CliRunner().invoke(main, ["check"]).exit_code == 0

    by_hand = journal_in(tmp_path / "by hand")
    written = PLAN.format(number="15")
    for before, after in BY_HAND.items():
        assert before in written
        written = written.replace(before, after, 1)
    (by_hand / "entries" / "15.md").write_text(written)
    typed, hand = (understand(each).figures["15"].results for each in (root, by_hand))
    assert typed.keys() == hand.keys()
    assert {name: (each.value, each.sd) for name, each in typed.items()} == {
        name: (each.value, each.sd) for name, each in hand.items()
    }
    assert "brewhouse_efficiency" in typed


def test_sheets_do_not_mix(phone: BrowserContext, root: Path, tmp_path: Path) -> None:
    """Nor those of two batches of one number in two journals, which share what a browser keeps for pages from disk."""
    ours, other = (page_alone(root, number)[1] for number in ("15", "16"))
    theirs = page_alone(journal_in(tmp_path / "another"), "15")[1]
    pages = [opened(phone, address) for address in (ours, other, theirs)]
    for page, value in zip(pages, ("1.071", "1.072", "1.073"), strict=True):
        write(page, "mash.first_wort", value)
    second = opened(phone, ours)
    write(second, "mash.ph", "5.4")
    write(pages[0], "mash.ph at", "20")
    for page, value in zip(pages, ("1.071", "1.072", "1.073"), strict=True):
        page.reload()
        assert page.locator('[data-box="mash.first_wort"] input').input_value() == value
    # two windows of one sheet: each has what was typed in the other
    expect(second.locator('[data-box="mash.ph at"] input')).to_have_value("20")
    assert "  ph: 5.4 at 20 °C" in lines_of(pages[0])

    second.on("dialog", lambda dialog: dialog.accept())
    second.get_by_role("button", name="Clear this sheet").tap()
    assert lines_of(second).split() == ["---", "batch:", "15", "---"]
    pages[1].reload()
    assert pages[1].locator('[data-box="mash.first_wort"] input').input_value() == "1.072"


def test_weights_of_a_grist_by_shares_join_it(
    phone: BrowserContext, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    root = journal_in(tmp_path / "journal")
    shares = PLAN.format(number="15").replace("weight: 4.00 kg", "share: 95 %").replace("weight: 200 g", "share: 5 %")
    (root / "entries" / "15.md").write_text(shares)
    page = opened(phone, page_alone(root, "15")[1])
    lines_of(page)
    assert "the entry has no weight of pale malt, amber malt" in page.locator(".heeded").inner_text().lower()
    page.get_by_role("button", name="pale malt, weighed: as said").tap()
    write(page, "weight of amber malt", "215 g")
    # a grist that is put in another order keeps each weight with its malt; a malt that is gone leaves what was typed as a remark
    turned = shares.replace("malt: amber malt", "malt: munich malt")
    (root / "entries" / "15.md").write_text(turned)
    page = opened(phone, page_alone(root, "15")[1])
    assert page.locator('[data-box="weight of munich malt"] input').input_value() == ""
    assert "weight of amber malt: 215 g, and the entry has no such line now" in lines_of(page)
    (root / "entries" / "15.md").write_text(shares)
    page = opened(phone, page_alone(root, "15")[1])
    sheet = tmp_path / "sheet.md"
    sheet.write_text(lines_of(page))
    monkeypatch.chdir(root)
    ended = CliRunner().invoke(main, ["enter", "15", str(sheet), "--yes"])
    assert ended.exit_code == 0, ended.output
    entry = (root / "entries" / "15.md").read_text()
    assert re.search(r"  - malt: pale malt\n    share: 95 %\n    weight: \d\.\d\d kg\n", entry)
    assert "    share: 5 %\n    weight: 215 g\n" in entry


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *args: object) -> None:
        pass


def test_a_sheet_from_a_web_host_opens_again_without_a_network(phone: BrowserContext, root: Path) -> None:
    address = page_alone(root, "15")[1]
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(_Quiet, directory=str(address.parents[1])))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    sheet = f"http://127.0.0.1:{server.server_port}/batches/15.html"
    page = phone.new_page()
    page.goto(sheet)
    write(page, "mash.first_wort", "1.077")
    page.get_by_text("opens again without a network").wait_for()
    page.wait_for_function(
        """async () => (await (await caches.open("working-sheets")).keys()).length
        > document.querySelectorAll("script[src], link[rel=stylesheet]").length"""
    )
    page.close()
    server.shutdown()
    server.server_close()
    thread.join()
    page = phone.new_page()
    page.goto(f"{sheet}#h-sheet")
    assert page.locator('[data-box="mash.first_wort"] input').input_value() == "1.077"
    assert "first_wort: 1.077" in lines_of(page)
    with pytest.raises(Error, match="ERR_"):
        page.goto(sheet.replace("15.html", "16.html"))


HOSTILE = (
    '<img src=x onerror="document.title=1">',
    "]]></script><script>document.title=1</script>",
    "---\nbatch: 99",
    "&anchor !!python/object:os.system {a: [",
    "1" * 300,
    "𝟙𝟚 L",
    "1.05e0",
    "12 __proto__",
    "5 constructor at 3 toString",
)


def test_whatever_is_typed_does_no_harm(phone: BrowserContext, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    root = journal_in(tmp_path / "journal")
    page = opened(phone, page_alone(root, "15")[1])
    boxes = [box for box in page.locator("[data-box]").all() if box.locator("input[type=text]").count()]
    for place, box in enumerate(boxes):
        box.locator("input").first.fill(HOSTILE[place % len(HOSTILE)])
        box.locator("input").first.blur()
    page.locator("#sheet-notes").fill("\n".join(HOSTILE))
    page.reload()
    # what stands under the sheet's key may be anything, too
    assert "Lantern Bitter" in page.title()
    assert page.locator(".sheet img, .sheet script:not([type])").count() == 0
    sheet = tmp_path / "sheet.md"
    sheet.write_text(lines_of(page))
    page.evaluate("localStorage.setItem(Object.keys(localStorage)[0], '[null, {\"values\": 3}')")
    page.reload()
    assert page.locator('[data-box="mash.ph"] input').input_value() == ""
    monkeypatch.chdir(root)
    ended = CliRunner().invoke(main, ["enter", "15", str(sheet), "--yes"])
    assert ended.exit_code == 0, ended.output
    assert CliRunner().invoke(main, ["check"]).exit_code == 0
    assert understand(root).figures["15"].get("first_wort_gravity") is None
    assert "onerror" in (root / "entries" / "15.md").read_text()


def test_timers_outlive_a_lock_and_a_lost_window(phone: BrowserContext, root: Path) -> None:
    phone.clock.install(time=MORNING_OF)
    phone.clock.pause_at(MORNING_OF)
    address = page_alone(root, "15")[1]
    page = opened(phone, address)
    page.get_by_role("button", name="Rest, from: now").tap()
    expect(page.locator(".running p")).to_have_text("Rest1:00:00Done")
    # a second touch would take the time away
    expect(page.get_by_role("button", name="Rest, from: now")).to_have_count(0)
    page.get_by_role("button", name="Rest: done").tap()
    expect(page.locator(".running")).to_be_hidden()
    page.get_by_role("button", name="Boil, from: now").tap()
    expect(page.locator(".running p").first).to_be_visible()
    page.close()
    phone.clock.fast_forward("48:30")
    page = opened(phone, address)
    assert [row.split() for row in page.locator(".running p").all_inner_texts()] == [
        ["Late:", "Field", "1:30", "In", "now"],
        ["Boil", "11:30", "Ended", "now"],
    ]
    phone.clock.run_for("02:00")
    assert page.locator(".running .over .left").inner_text() == "−0:30"
    assert page.title().startswith("Late: Field: now")
    page.get_by_role("button", name="Late: Field: in now").tap()
    page.get_by_role("button", name="Boil: ended now").tap()
    expect(page.locator(".running")).to_be_hidden()
    assert "Lantern Bitter" in page.title()[:20]
    lines = lines_of(page)
    for line in ("09:12 Rest begins", "09:12 Boil begins", "10:02 Late: Field in", "10:02 Boil ends"):
        assert f'  - "{line}"\n' in lines
    # a time that is put right keeps its day
    page.locator('[data-box="boil to"] input').fill("10:14")
    assert '  - "10:14 Boil ends"\n' in lines_of(page)


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="no pdftotext; .ci/run installs poppler-utils")
def test_paper_is_the_same_with_and_without_scripts(browser: Browser, root: Path, tmp_path: Path) -> None:
    address = page_alone(root, "15")[1]
    printed = []
    for scripts in (False, True):
        context = browser.new_context(java_script_enabled=scripts)
        page = opened(context, address)
        assert page.locator(".sheet :is(input, button, textarea)").count() == 0 or scripts
        if scripts:
            write(page, "boil.before.gravity", "1.043")
            page.get_by_role("button", name="Boil, from: now").click()
            lines_of_click(page)
        leaf = tmp_path / f"{scripts}.pdf"
        page.pdf(path=str(leaf), format="A4")
        printed.append(subprocess.run(["pdftotext", "-bbox", str(leaf), "-"], capture_output=True, check=True).stdout)
        context.close()
    # every word at its place; the heads of the two files tell when they were made
    assert printed[0].partition(b"<body>")[2] == printed[1].partition(b"<body>")[2]


def lines_of_click(page: Page) -> None:
    page.get_by_role("button", name="Lines for the entry").click()


@pytest.mark.parametrize(("theme", "scheme"), [("notebook", "light"), ("almanac", "dark")])
def test_axe_finds_nothing_on_a_sheet_in_use(browser: Browser, root: Path, theme: str, scheme: str) -> None:
    context = browser.new_context(
        color_scheme=scheme, viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True
    )
    page = opened(context, page_alone(root, "15", theme)[1])
    for box, text in {**NOON, "mash.ph": "5,3,6", "mash.first_wort": "1.1"}.items():
        write(page, box, text)
    page.get_by_role("button", name="Boil, from: now").tap()
    lines_of(page)
    told = found_by_axe(page)
    context.close()
    assert not told, "\n".join(told)
