"""The journal live: rebuilt at every change, served to this machine, and never ended by what a brewer or the machine does."""

from __future__ import annotations

import json
import shutil
import socket
import threading
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from http.client import HTTPConnection
from pathlib import Path

import pytest
from click.testing import CliRunner

from journal.cli import main
from journal.cli.watch import _say_state
from journal.publishing.output import MANIFEST
from journal.publishing.watch import Live, Server, State, keep_watch
from journal.publishing.watch.server import MOST_CONNECTIONS

ENTRY = """---
batch: {number}
title: Batch {number}
brewed: 2026-01-{number:02d}
grains: [{{malt: pale malt, weight: 4.20 kg}}]
mash: {{liquor: 13.5 L, first_wort: 1.074}}
lauter: {{method: batch sparge, liquor: 15.0 L}}
boil: {{before: {{volume: 24.5 L at 68 degC, gravity: 1.039}}, after: {{volume: 21.5 L at 95 degC, gravity: 1.045}}, time: 60 min}}
fermenter: {{volume: 18.5 L, gravity: 1.045}}
---

Prose of {number}.
"""


def three_entries(root: Path) -> Path:
    (root / "entries").mkdir(parents=True)
    for number in (1, 2, 3):
        write(root, number)
    return root


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    return three_entries(tmp_path / "journal")


def write(root: Path, number: int, text: str = ENTRY) -> None:
    (root / "entries" / f"{number:02d}.md").write_text(text.format(number=number), "utf-8")


def page(root: Path, number: int) -> str:
    return (root / "site" / "batches" / f"{number}.html").read_text("utf-8")


def built(live: Live) -> list[State]:
    states: list[State] = []
    live.build(states.append)
    return states


def test_a_change_is_in_the_page_of_its_entry_first_and_then_in_the_rest(journal: Path) -> None:
    live = Live(journal, journal / "site")
    built(live)
    write(journal, 2, ENTRY.replace("18.5 L", "18.0 L"))
    first, second = built(live)
    assert "batches/2.html" in first.changed
    assert "batches/1.html" not in first.changed | second.changed
    assert {"data/journal.json", "data/batches.csv"} <= second.changed


def test_a_broken_entry_keeps_its_last_good_page_and_the_others_go_on(journal: Path) -> None:
    live = Live(journal, journal / "site")
    built(live)
    good = page(journal, 2)
    write(journal, 2, ENTRY.replace("title:", "titel:"))
    write(journal, 3, ENTRY + "\nMore of it.\n")
    state = built(live)[-1]
    assert {error.file_name for error in state.errors} == {"entries/02.md"}
    assert page(journal, 2) == good
    assert "More of it." in page(journal, 3)
    write(journal, 2, ENTRY + "\nMended.\n")
    state = built(live)[-1]
    assert state.errors == ()
    assert "Mended." in page(journal, 2)


def test_an_entry_that_was_never_good_shows_what_stands_in_its_way(journal: Path) -> None:
    write(journal, 4, ENTRY.replace("title:", "titel:"))
    built(Live(journal, journal / "site"))
    assert "Did you mean" in page(journal, 4)


@pytest.mark.long
def test_a_full_disk_is_survived(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    live = Live(journal, journal / "site")
    built(live)
    before = {path: path.read_bytes() for path in (journal / "site").rglob("*") if path.is_file()}
    write(journal, 1, ENTRY + "\nMore.\n")
    with monkeypatch.context() as patch:
        patch.setattr(Path, "write_bytes", lambda *_: (_ for _ in ()).throw(OSError(28, "No space left on device")))
        state = built(live)[-1]
    assert [error.code for error in state.errors] == ["output-unwritable"]
    assert {path: path.read_bytes() for path in (journal / "site").rglob("*") if path.is_file()} == before
    assert built(live)[-1].errors == ()
    assert "More." in page(journal, 1)


@pytest.mark.long
def test_a_fault_of_the_program_is_said_and_survived(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    live = Live(journal, journal / "site")
    with monkeypatch.context() as patch:
        patch.setattr("journal.publishing.anew.understand", lambda *_, **__: 1 / 0)
        assert [error.code for error in built(live)[-1].errors] == ["build-failed"]
    assert built(live)[-1].errors == ()


@pytest.fixture
def watching(journal: Path) -> Iterator[tuple[Live, list[State]]]:
    live, said, stop = Live(journal, journal / "site"), [], threading.Event()
    thread = threading.Thread(target=keep_watch, args=(live, said.append, stop), daemon=True)
    thread.start()
    # the whole first build, and a moment for the system to begin watching
    assert live.wait_beyond(0, 30)
    time.sleep(0.5)
    yield live, said
    stop.set()
    thread.join(10)
    assert not thread.is_alive()


def until(live: Live, wanted: str, root: Path, number: int) -> bool:
    """Whether a page comes to say something before long."""
    for _ in range(100):
        path = root / "site" / "batches" / f"{number}.html"
        if path.exists() and wanted in path.read_text("utf-8"):
            return True
        live.wait_beyond(live.state.number, 0.3)
    return False


def test_saves_renames_new_folders_and_deletions_are_noticed(watching: tuple[Live, list[State]], journal: Path) -> None:
    live, _ = watching
    write(journal, 1, ENTRY + "\nSaved.\n")
    assert until(live, "Saved.", journal, 1)
    beside = journal / "entries" / ".02.md.swp"
    beside.write_text(ENTRY.format(number=2) + "\nRenamed over.\n", "utf-8")
    beside.replace(journal / "entries" / "02.md")
    assert until(live, "Renamed over.", journal, 2)
    (journal / "entries" / "later").mkdir()
    (journal / "entries" / "later" / "05.md").write_text(ENTRY.format(number=5), "utf-8")
    assert until(live, "Prose of 5.", journal, 5)
    (journal / "entries" / "03.md").unlink()
    for _ in range(100):
        if not (journal / "site" / "batches" / "3.html").exists():
            break
        live.wait_beyond(live.state.number, 0.3)
    assert not (journal / "site" / "batches" / "3.html").exists()


@pytest.mark.long
def test_a_folder_that_goes_and_comes_back_is_found_again(watching: tuple[Live, list[State]], journal: Path) -> None:
    live, _ = watching
    shutil.move(journal / "entries", journal / "away")
    time.sleep(1.0)
    write_at = journal / "away" / "01.md"
    write_at.write_text(ENTRY.format(number=1) + "\nBack again.\n", "utf-8")
    shutil.move(journal / "away", journal / "entries")
    assert until(live, "Back again.", journal, 1)


@pytest.mark.long
def test_a_burst_of_saves_is_few_builds(watching: tuple[Live, list[State]], journal: Path) -> None:
    live, said = watching
    before = len(said)
    for number in range(10, 28):
        write(journal, number)
    assert until(live, "Prose of 27.", journal, 27)
    time.sleep(1.0)
    # each build says two states
    assert (len(said) - before) / 2 <= 3


OWN = '{% extends "built-in/batch.html.j2" %}\n{% block lead %}\n<p>WORDS</p>\n{% endblock %}\n'


def theme_at(root: Path, words: str) -> None:
    folder = root / "themes" / "mine"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "batch.html.j2").write_text(OWN.replace("WORDS", words), "utf-8")
    (folder / "theme.yaml").write_text("on: almanac\n", "utf-8")


@pytest.mark.long
def test_a_theme_that_breaks_keeps_every_page_until_it_is_mended(journal: Path) -> None:
    theme_at(journal, "As it was.")
    live = Live(journal, journal / "site", "mine")
    assert built(live)[-1].errors == ()
    for broken in ("{% if %}", "{{ page.nothing }}"):
        good = page(journal, 2)
        theme_at(journal, broken)
        write(journal, 2, ENTRY + "\nMore of it.\n")
        state = built(live)[-1]
        assert {error.file_name for error in state.errors} == {"themes/mine/batch.html.j2"}
        assert state.changed == frozenset()
        assert page(journal, 2) == good
        theme_at(journal, f"Mended after {broken[1:4]}".replace("{", "").replace("%", ""))
        assert built(live)[-1].errors == ()
        assert "Mended after" in page(journal, 2)


@pytest.mark.long
def test_a_theme_that_comes_and_changes_while_watching_is_noticed(
    watching: tuple[Live, list[State]], journal: Path
) -> None:
    live, _ = watching
    theme_at(journal, "A theme of our own.")
    (journal / "entries" / "brewery.yaml").write_text("theme: mine\n", "utf-8")
    assert until(live, "A theme of our own.", journal, 1)
    theme_at(journal, "Another one.")
    assert until(live, "Another one.", journal, 1)


def serving(root: Path) -> Iterator[tuple[Live, Server]]:
    live = Live(root, root / "site")
    built(live)
    server = Server(live)
    server.begin()
    yield live, server
    server.end()


@pytest.fixture
def served(journal: Path) -> Iterator[tuple[Live, Server]]:
    yield from serving(journal)


@pytest.fixture(scope="module")
def standing(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Path, Server]]:
    """A journal that stays as it is while it is asked for this and that, beside a file that is nobody's business."""
    root = three_entries(tmp_path_factory.mktemp("standing") / "journal")
    (root / ".git").mkdir()
    (root / ".git" / "config").write_text("secret", "utf-8")
    for _, server in serving(root):
        yield root, server


def got(server: Server, path: str) -> str:
    with urllib.request.urlopen(server.address + path) as answer:
        return str(answer.read().decode("utf-8"))


def test_pages_are_served_with_what_refreshes_them_and_files_as_they_are(
    served: tuple[Live, Server], journal: Path
) -> None:
    live, server = served
    text = got(server, "batches/1.html")
    assert f'data-page="batches/1.html" data-number="{live.state.number}"' in text
    assert "EventSource" in got(server, "-/refresh.js")
    assert got(server, "data/journal.json") == (journal / "site" / "data" / "journal.json").read_text("utf-8")
    assert "refresh.js" not in page(journal, 1)


def test_what_is_wrong_lies_on_top_and_is_shown_as_text(served: tuple[Live, Server], journal: Path) -> None:
    live, server = served
    assert "troubles" not in got(server, "batches/1.html").split('data-troubles="')[0]
    write(journal, 2, ENTRY.replace("title: Batch", "<b>: Batch"))
    built(live)
    text = got(server, "batches/1.html")
    assert '<aside class="troubles"' in text
    assert "entries/02.md:3" in text
    assert "&lt;b&gt;" in text
    assert "<b>" not in text


def test_news_come_as_they_happen(served: tuple[Live, Server], journal: Path) -> None:
    live, server = served
    host, port = server.server_address[:2]
    connection = HTTPConnection(str(host), int(port), timeout=20)
    connection.request("GET", f"/-/news?after={live.state.number}")
    answer = connection.getresponse()
    write(journal, 1, ENTRY + "\nMore.\n")
    built(live)
    line = answer.readline()
    assert "batches/1.html" in json.loads(line.removeprefix(b"data: "))["changed"]
    connection.close()


def test_news_of_two_builds_are_not_lost_on_who_wakes_after_the_second(journal: Path) -> None:
    """A page that is waited at was changed by the first of them, and the machine was busy."""
    live = Live(journal, journal / "site")
    built(live)
    before = live.state.number
    write(journal, 1, ENTRY + "\nMore.\n")
    built(live)
    write(journal, 2, ENTRY + "\nMore.\n")
    built(live)
    news = live.wait_beyond(before, 1.0)
    assert news is not None
    assert {"batches/1.html", "batches/2.html"} <= news.changed
    assert "batches/3.html" not in news.changed
    assert live.wait_beyond(live.state.number, 0.01) is None


@pytest.mark.parametrize("path", ["../entries/01.md", "%2e%2e/entries/01.md", MANIFEST, "nothing.html", "batches/"])
def test_nothing_but_the_site_is_served(path: str, standing: tuple[Path, Server]) -> None:
    with pytest.raises(urllib.error.HTTPError) as refused:
        got(standing[1], path)
    assert refused.value.code == 404
    refused.value.close()


def test_a_name_of_somebody_else_is_not_answered(standing: tuple[Path, Server]) -> None:
    """A page elsewhere that lets its own name point to this machine must not read the journal."""
    request = urllib.request.Request(standing[1].address, headers={"Host": "elsewhere.example"})
    with pytest.raises(urllib.error.HTTPError) as refused:
        urllib.request.urlopen(request)
    assert refused.value.code == 421
    refused.value.close()


def test_an_address_that_others_reach_wants_to_be_said_twice(journal: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(journal)
    result = CliRunner().invoke(main, ["watch", "--host", "0.0.0.0"])
    assert result.exit_code == 2
    assert "can be reached by others" in result.output


def test_a_port_that_is_taken_is_said(standing: tuple[Path, Server], monkeypatch: pytest.MonkeyPatch) -> None:
    root, server = standing
    monkeypatch.chdir(root)
    result = CliRunner().invoke(main, ["watch", "--port", str(server.server_address[1])])
    assert result.exit_code == 1
    assert "can't be served" in result.output


def asked(
    server: Server, method: str, path: str, headers: dict[str, str] | None = None
) -> tuple[int, dict[str, str], bytes]:
    host, port = server.server_address[:2]
    connection = HTTPConnection(str(host), int(port), timeout=20)
    connection.putrequest(method, path, skip_host=bool(headers and "Host" in headers))
    for name, value in (headers or {}).items():
        connection.putheader(name, value)
    connection.endheaders()
    answer = connection.getresponse()
    found = answer.status, {name.lower(): value for name, value in answer.getheaders()}, answer.read()
    connection.close()
    return found


@pytest.mark.parametrize("path", ["/", "/batches/1.html", "/search/words.js", "/nothing", "/-/refresh.js", "/-/news"])
def test_a_head_is_a_get_without_its_body(path: str, standing: tuple[Path, Server]) -> None:
    status, headers, body = asked(standing[1], "HEAD", path)
    assert body == b""
    if path != "/-/news":
        got_status, got_headers, _ = asked(standing[1], "GET", path)
        assert (status, headers["content-type"], headers["content-length"]) == (
            got_status,
            got_headers["content-type"],
            got_headers["content-length"],
        )


@pytest.mark.parametrize("method", ["GET", "HEAD"])
@pytest.mark.parametrize(
    "path", ["/.git/config", "/../.git/config", "/%2e%2e/entries/01.md", "//etc/passwd", "/x%00y", "/" + "a" * 5000]
)
def test_nothing_of_the_working_folder_is_served(method: str, path: str, standing: tuple[Path, Server]) -> None:
    assert asked(standing[1], method, path)[0] == 404


@pytest.mark.parametrize("where", ["cross-site", "same-site", "anything"])
@pytest.mark.parametrize("path", ["/", "/search/words.js", "/data/journal.json", "/-/news", "/-/refresh.js"])
def test_a_page_elsewhere_in_the_browser_gets_nothing(where: str, path: str, standing: tuple[Path, Server]) -> None:
    """W3C Fetch Metadata: the browser says of each request which page made it."""
    status, headers, body = asked(standing[1], "GET", path, {"Sec-Fetch-Site": where})
    assert status == 403
    assert b"Batch" not in body
    assert headers["cross-origin-resource-policy"] == "same-origin"


@pytest.mark.parametrize("where", ["same-origin", "none"])
def test_our_own_pages_and_the_address_bar_are_answered(where: str, standing: tuple[Path, Server]) -> None:
    status, headers, _ = asked(standing[1], "GET", "/search/words.js", {"Sec-Fetch-Site": where})
    assert status == 200
    assert headers["cross-origin-resource-policy"] == "same-origin"
    assert headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize(
    "host",
    [
        "elsewhere.example",
        "127.0.0.1.elsewhere.example",
        "localhost.elsewhere.example",
        "",
        "@127.0.0.1",
        "[::1",
        "192.168.0.1",
    ],
)
def test_names_and_addresses_that_are_not_ours_are_not_answered(host: str, standing: tuple[Path, Server]) -> None:
    for method in ("GET", "HEAD"):
        status, _, body = asked(standing[1], method, "/", {"Host": host})
        assert (status, b"Batch" in body) == (
            200 if host == "@127.0.0.1" else 421,
            host == "@127.0.0.1" and method == "GET",
        )


@pytest.mark.long
def test_idle_and_half_open_connections_give_way(served: tuple[Live, Server]) -> None:
    _, server = served
    host, port = server.server_address[:2]
    idle = []
    for number in range(MOST_CONNECTIONS + 50):
        connection = socket.create_connection((str(host), int(port)), timeout=20)
        if number % 2:
            connection.sendall(b"GET / HTTP/1.1\r\nHost: localhost\r\nX-Never: end")
        idle.append(connection)
    assert asked(server, "GET", "/batches/1.html")[0] == 200
    assert len(server._used) <= MOST_CONNECTIONS
    for connection in idle:
        connection.close()


def test_the_other_loopback_is_served_too(journal: Path) -> None:
    live = Live(journal, journal / "site")
    built(live)
    try:
        server = Server(live, "::1")
    except OSError as error:
        pytest.skip(f"no IPv6 on this machine: {error}")
    server.begin()
    try:
        assert server.address.startswith("http://[::1]:")
        assert "Batch 1" in got(server, "batches/1.html")
    finally:
        server.end()


def test_signs_that_steer_a_terminal_do_not_reach_it(journal: Path, capsys: pytest.CaptureFixture[str]) -> None:
    write(journal, 2, ENTRY.replace("title: Batch", "t\\x1b]0;x\x9b31m: Batch".encode().decode("unicode_escape")))
    for state in built(Live(journal, journal / "site")):
        _say_state(state)
    said = capsys.readouterr().out
    assert "error" in said
    assert not set(said) & {"\x1b", "\x9b", "\x07"}
