"""A watched journal asked in every form a stranger might: only the site is read, and neither connections nor saves fill the memory."""

from __future__ import annotations

import random
import resource
import socket
import tempfile
import threading
import time
from collections import Counter
from collections.abc import Iterator
from itertools import product
from pathlib import Path

from publishing.test_build import ENTRY

from journal.publishing.watch import Live, Server

#: Saves; so many connections come with each of them, and the forms of a request once.
DEFAULT = 500
_CONNECTIONS = 4
#: How often a page is asked for, a second apart: longer than an idle connection is borne.
_TRIES = 60
_METHODS = ("GET", "HEAD", "POST", "OPTIONS", "PUT")
_SECRET = b"a secret of this machine"
_HOSTS = (
    *(
        "127.0.0.1",
        "localhost",
        "LOCALHOST",
        "127.0.0.1:1",
        "localhost:99999",
        "[::1]",
        "::1",
        "0.0.0.0",
        "elsewhere.example",
    ),
    *(
        "127.0.0.1.elsewhere.example",
        "localhost@elsewhere.example",
        "elsewhere.example@localhost",
        "[::1",
        "",
        " ",
        "a" * 5000,
        "\xff",
    ),
)
_PATHS = (
    *(
        "/",
        "/index.html",
        "/../secret",
        "/..%2fsecret",
        "/%2e%2e/secret",
        "/%2e%2e%2fsecret",
        "//secret",
        "/./../secret",
        "/.git/config",
    ),
    *(
        "/%2egit/config",
        "/link/secret",
        "/batches/",
        "/batches/..",
        "/a%00b",
        "/" + "x" * 3000,
        "/" + "../" * 500 + "secret",
        "/%",
        "/%ff",
    ),
    *(
        "http://elsewhere.example/",
        "*",
        "secret",
        "/-/news?after=x",
        "/-/../secret",
        "/-/news?after=" + "9" * 400,
        "/C:/secret",
        "/\\..\\secret",
    ),
    *(
        "/site/../../secret",
        "/.wortbook.json",
        "/index.html/..",
        "/?/../secret",
        "/#/../secret",
        "/;/secret",
        "/~/secret",
        "/~root",
    ),
)
_ASKED_BY = (
    "",
    "Sec-Fetch-Site: cross-site",
    "Sec-Fetch-Site: none",
    "Content-Length: 5\r\n\r\nGET /../secret HTTP/1.1",
)


def _said(server: Server, request: str) -> bytes:
    """The whole answer to a request as it stands."""
    host, port = server.server_address[:2]
    with socket.create_connection((str(host), int(port)), timeout=5) as connection:
        connection.sendall(request.encode("latin-1", "replace"))
        connection.shutdown(socket.SHUT_WR)
        parts = []
        try:
            while part := connection.recv(65536):
                parts.append(part)
                if b"text/event-stream" in b"".join(parts):
                    break  # news go on for as long as somebody listens
        except OSError:
            pass  # it hung up
    return b"".join(parts)


def _forms(server: Server) -> Iterator[str]:
    """What came of each form of a request; faults stand there in capitals."""
    for method, host, path in (*product(_METHODS, _HOSTS, _PATHS[:3]), *product(_METHODS, _HOSTS[:1], _PATHS)):
        for more in _ASKED_BY if host == _HOSTS[0] else _ASKED_BY[:1]:
            head = f"{method} {path} HTTP/1.1\r\nHost: {host}\r\nConnection: close\r\n{more}\r\n\r\n"
            answer = _said(server, head)
            if _SECRET in answer:
                yield f"READ OUTSIDE by {head[:80]!r}"
            elif method == "HEAD" and b"\r\n\r\n" in answer and answer.split(b"\r\n\r\n", 1)[1]:
                yield "A BODY AFTER A HEAD"
            elif "cross-site" in more and b"Batch" in answer:
                yield f"ANSWERED ANOTHER SITE by {head[:80]!r}"
            else:
                yield "answered" if answer.startswith(b"HTTP/1.1 200") else "refused"


def _seen(server: Server) -> bool:
    """Whether the page says what was saved; idle connections may hold all there are for a while, which then end."""
    for _ in range(_TRIES):
        if b"Saved" in _said(server, "GET /batches/2.html HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n"):
            return True
        time.sleep(1.0)
    return False


def _memory() -> float:
    """Megabytes that this process holds now."""
    return int(Path("/proc/self/statm").read_text("ascii").split()[1]) * resource.getpagesize() / 1e6


def run(many: int, seed: int) -> Iterator[str]:
    """What came of the forms, and how much memory there was on the way."""
    chance, came = random.Random(seed), Counter[str]()
    with tempfile.TemporaryDirectory(prefix="wortbook-served-") as folder:
        root = Path(folder) / "journal"
        (root / "entries").mkdir(parents=True)
        for number in (1, 2, 3):
            (root / "entries" / f"{number:02d}.md").write_text(ENTRY.format(number=number), "utf-8")
        live = Live(root, root / "site")
        live.build()
        for place in (root / "secret", root / "site" / ".git" / "config", Path(folder) / "secret"):
            place.parent.mkdir(exist_ok=True)
            place.write_bytes(_SECRET)
        (root / "site" / "link").symlink_to(root)
        server = Server(live)
        server.begin()
        came.update(_forms(server))
        yield f"forms of a request: {'; '.join(f'{name} {count}' for name, count in sorted(came.items()))}"
        held, open_ones = list[float](), list[socket.socket]()
        host, port = server.server_address[:2]
        for number in range(many):
            for _ in range(_CONNECTIONS):
                connection = socket.create_connection((str(host), int(port)), timeout=5)
                connection.sendall(chance.choice([b"", b"GET", b"GET / HTTP/1.1\r\nHost: localhost\r\nX: y"]))
                open_ones.append(connection)
            if len(open_ones) > 900:
                for connection in open_ones[:500]:
                    connection.close()
                del open_ones[:500]
            entry = root / "entries" / "02.md"
            entry.write_text(ENTRY.format(number=2) + f"\nSaved {number} times.\n", "utf-8")
            live.build()
            came["saves seen" if _seen(server) else "SAVES NOT SEEN"] += 1
            held.append(_memory())
        threads = threading.active_count()
        for connection in open_ones:
            connection.close()
        server.end()
    tenth = max(1, many // 10)
    first, last = max(held[tenth : 2 * tenth] or held), max(held[-tenth:])
    yield (
        f"{many} saves, {many * _CONNECTIONS} connections: {came['saves seen']} seen, {came['SAVES NOT SEEN']} not; "
        f"{threads} threads at the end; memory {first:.0f} MB early, {last:.0f} MB at the end{'; IT GROWS' if last > 1.25 * first else ''}"
    )
