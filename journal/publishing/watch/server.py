"""The site for browsers on this machine: files as they lie, pages with what refreshes them and what is wrong on top.

A journal is private: only its own pages, opened here, may ask. Other sites in the same browser are told apart by the name they ask for
(`Host`, against names of theirs that lead here) and by what the browser says of where a request comes from (W3C Fetch Metadata).
"""

from __future__ import annotations

import hashlib
import html
import ipaddress
import json
import re
import socket
import threading
import time
from contextlib import suppress
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from mimetypes import MimeTypes
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

from journal.publishing.watch.live import Live, State

#: Addresses of this machine, that nobody else can reach.
LOCAL = frozenset({"127.0.0.1", "localhost", "::1"})
_OURS = "/-/"
_SCRIPT = (Path(__file__).parent / "refresh.js").read_bytes()
#: A browser that hears nothing for so long, in seconds, is sent a sign of life.
_SIGN_OF_LIFE = 15.0
#: Seconds for which a connection may say nothing, or take nothing.
_PATIENCE = 30.0
#: Connections at once: a browser keeps six, and one for each page that waits for news. Beyond them the one that was used longest ago ends.
MOST_CONNECTIONS = 100
#: Errors shown on top of a page.
_SHOWN = 5
_POLICY = re.compile(r'(<meta http-equiv="Content-Security-Policy" content="[^"]*)"')
_BODY = re.compile(r"<body[^>]*>")
#: What a browser calls a request of a page of ours, and one that no page made.
_FROM_HERE = frozenset({"same-origin", "none"})
#: For every answer: no other page may include, frame or keep a handle on ours.
_KEPT_APART = {
    "Cache-Control": "no-store",
    "Content-Security-Policy": "frame-ancestors 'none'",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "X-Content-Type-Options": "nosniff",
}
# the same kinds on every machine
_KINDS = MimeTypes(filenames=())


def trouble_sign(state: State) -> str:
    """A short sign of what lies on top of the pages: pages that bear another one are out of date."""
    words = "\n".join(f"{error.file_name} {error.line} {error.message}" for error in state.errors)
    return hashlib.sha256(words.encode("utf-8", "replace")).hexdigest()[:16] if words else ""


def add_news(page: str, path: str, state: State) -> str:
    """A page as it is served: it may ask for news, and shows what is wrong."""
    script = (
        f'<script src="{_OURS}refresh.js" data-page="{html.escape(path)}" data-number="{state.number}" '
        f'data-troubles="{trouble_sign(state)}"></script>'
    )
    page = _POLICY.sub(lambda found: f"{found[1]}; connect-src 'self'\"", page, count=1)
    on_top = _troubles(state)
    return _BODY.sub(lambda body: f"{body[0]}{on_top}", page, count=1).replace("</body>", f"{script}</body>", 1)


def _troubles(state: State) -> str:
    if not state.errors:
        return ""
    rows = "".join(
        f"<li><code>{html.escape(error.file_name)}:{error.line}</code> {html.escape(error.full_message)}</li>"
        for error in state.errors[:_SHOWN]
    )
    more = f"<li>and {len(state.errors) - _SHOWN} more</li>" if len(state.errors) > _SHOWN else ""
    return f'<aside class="troubles" role="status"><p>This page may be older than its entry:</p><ul>{rows}{more}</ul></aside>'


def _is_address(name: str) -> bool:
    with suppress(ValueError):
        ipaddress.ip_address(name)
        return True
    return False


class _Handler(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    server_version, sys_version = "wortbook", ""
    timeout = _PATIENCE
    server: Server

    def do_GET(self) -> None:
        self.server.touch(self.connection)
        if self.headers.get("Content-Length", "0") != "0" or "Transfer-Encoding" in self.headers:
            self.close_connection = True  # what nobody reads would be taken for the next request
        refusal = self._refusal()
        path = urlsplit(self.path).path if self.path.startswith("/") else ""
        if refusal:
            self.send_error(*refusal)
        elif not path:
            self.send_error(HTTPStatus.BAD_REQUEST, "the path must begin with a slash")
        elif path == f"{_OURS}refresh.js":
            self._send(_SCRIPT, "text/javascript; charset=utf-8")
        elif path == f"{_OURS}news":
            self._news()
        elif path == "/favicon.ico":
            # browsers ask for one whatever a page says
            self._send(b"", "image/x-icon", HTTPStatus.NO_CONTENT)
        else:
            self._file(path)

    def do_HEAD(self) -> None:
        """The same without the body."""
        self.do_GET()

    def _refusal(self) -> tuple[HTTPStatus, str] | None:
        """Why a request is not answered: a page elsewhere must not read the journal, neither through a name of its own nor from afar."""
        hosts = self.headers.get_all("Host", [])
        try:
            name = urlsplit(f"//{hosts[0]}").hostname if len(hosts) == 1 else None
        except ValueError:
            name = None
        if name is None or not self.server.answers_to(name):
            return HTTPStatus.MISDIRECTED_REQUEST, "this name is not served here; ask by the address"
        if self.headers.get("Sec-Fetch-Site", "none") not in _FROM_HERE:
            return HTTPStatus.FORBIDDEN, "a page elsewhere may not ask for this one; open it from the address bar"
        return None

    def _file(self, path: str) -> None:
        name = unquote(path).lstrip("/") or "index.html"
        if name.endswith("/"):
            name += "index.html"
        content = self._content(name)
        kind = _KINDS.guess_type(name)[0] or "application/octet-stream"
        if content is not None and kind == "text/html":
            page, status = content.decode("utf-8", "replace"), HTTPStatus.OK
        elif content is not None:
            self._send(content, kind)
            return
        else:
            page = f"<!DOCTYPE html><html lang=en><title>Not here</title><body><p>There is no page {html.escape(name)}.</p></body></html>"
            status = HTTPStatus.NOT_FOUND
        page = add_news(page, name, self.server.live.state)
        self._send(page.encode("utf-8", "replace"), "text/html; charset=utf-8", status)

    def _content(self, name: str) -> bytes | None:
        """A file of the site; None where there is none, or where its name leads elsewhere."""
        if any(part.startswith(".") for part in name.split("/")):
            return None
        try:
            home = self.server.live.out.resolve()
            file = (home / name).resolve()
            return file.read_bytes() if file.is_relative_to(home) and file.is_file() else None
        except (OSError, ValueError, RuntimeError):
            return None

    def _send(self, content: bytes, kind: str, status: HTTPStatus = HTTPStatus.OK) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(content)))
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)

    def end_headers(self) -> None:
        """Every answer, a refusal too, is kept apart from other pages."""
        for name, value in _KEPT_APART.items():
            self.send_header(name, value)
        super().end_headers()

    def _news(self) -> None:
        """Server-sent events (WHATWG HTML, section 9.2): one for each build from the one that the page was served after."""
        after = parse_qs(urlsplit(self.path).query).get("after", ["0"])[0]
        number = int(after) if after.isascii() and after.isdigit() and len(after) < 10 else 0
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/event-stream")
        self.end_headers()
        self.close_connection = True
        with suppress(OSError):  # the page was closed
            while self.command != "HEAD" and not self.server.ending.is_set():
                state = self.server.live.wait_beyond(number, _SIGN_OF_LIFE)
                if state is None:
                    self.wfile.write(b": here\n\n")
                else:
                    number = state.number
                    news = {"changed": sorted(state.changed), "troubles": trouble_sign(state)}
                    self.wfile.write(f"data: {json.dumps(news)}\n\n".encode())
                self.wfile.flush()
                self.server.touch(self.connection)

    def log_message(self, *_: Any) -> None:
        """Nothing: the terminal is for the journal."""


class Server(ThreadingHTTPServer):
    """Serves one live journal at an address; `port` 0 lets the system choose. Raises OSError where it can't be had."""

    daemon_threads = True
    allow_reuse_address = True
    request_queue_size = 64

    def __init__(self, live: Live, host: str = "127.0.0.1", port: int = 0) -> None:
        self.live = live
        self.address_family = socket.AF_INET6 if ":" in host else socket.AF_INET
        self._open_to_others = host not in LOCAL
        self._names = LOCAL | {host.lower()}
        if self._open_to_others:
            own = socket.gethostname().lower()
            self._names |= {own, f"{own}.local"}
        self.ending = threading.Event()
        self._used: dict[socket.socket, float] = {}
        self._using = threading.Lock()
        super().__init__((host, port), _Handler)

    @property
    def address(self) -> str:
        """Where a browser finds it."""
        host, port = self.server_address[:2]
        return f"http://[{host!s}]:{port}/" if self.address_family == socket.AF_INET6 else f"http://{host!s}:{port}/"

    def answers_to(self, name: str) -> bool:
        """Whether a name is one of this machine: others that lead here are another site's. An address is no name to be led."""
        return name in self._names or (self._open_to_others and _is_address(name))

    def process_request(self, request: Any, client_address: Any) -> None:
        """Take one more connection, in the place of the one that was used longest ago if there are too many."""
        with self._using:
            while len(self._used) >= MOST_CONNECTIONS:
                longest = min(self._used, key=self._used.__getitem__)
                del self._used[longest]
                with suppress(OSError):
                    longest.shutdown(socket.SHUT_RDWR)
            self._used[request] = time.monotonic()
        super().process_request(request, client_address)

    def touch(self, connection: socket.socket) -> None:
        """Note that a connection is in use."""
        with self._using:
            if connection in self._used:
                self._used[connection] = time.monotonic()

    def shutdown_request(self, request: Any) -> None:
        """Let a connection go."""
        with self._using:
            self._used.pop(request, None)
        super().shutdown_request(request)

    def begin(self) -> None:
        """Serve from a thread of its own."""
        threading.Thread(target=self.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True).start()

    def end(self) -> None:
        """Stop serving."""
        self.ending.set()
        self.shutdown()
        self.server_close()

    def handle_error(self, *_: Any) -> None:
        """A browser that hangs up is no news."""
