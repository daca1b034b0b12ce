"""The site for browsers on this machine: files as they lie, pages with what refreshes them and what is wrong on top."""

from __future__ import annotations

import hashlib
import html
import json
import re
import threading
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
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
#: Errors shown on top of a page.
_SHOWN = 5
_POLICY = re.compile(r'(<meta http-equiv="Content-Security-Policy" content="[^"]*)"')
_BODY = re.compile(r"<body[^>]*>")


def troubles(state: State) -> str:
    """A short sign of what lies on top of the pages: pages that bear another one are out of date."""
    words = "\n".join(f"{error.file_name} {error.line} {error.message}" for error in state.errors)
    return hashlib.sha256(words.encode()).hexdigest()[:16] if words else ""


def with_news(page: str, path: str, state: State) -> str:
    """A page as it is served: it may ask for news, and shows what is wrong."""
    script = (
        f'<script src="{_OURS}refresh.js" data-page="{html.escape(path)}" data-number="{state.number}" '
        f'data-troubles="{troubles(state)}"></script>'
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


class _Handler(SimpleHTTPRequestHandler):
    protocol_version = "HTTP/1.1"
    server: Server

    def do_GET(self) -> None:
        if not self._addressed_here():
            self.send_error(HTTPStatus.MISDIRECTED_REQUEST, "this name is not served here")
            return
        path = urlsplit(self.path).path
        if path == f"{_OURS}refresh.js":
            self._send(_SCRIPT, "text/javascript; charset=utf-8")
        elif path == f"{_OURS}news":
            self._news()
        elif path == "/favicon.ico":
            # browsers ask for one whatever a page says
            self._send(b"", "image/x-icon", HTTPStatus.NO_CONTENT)
        else:
            self._file(path)

    def _addressed_here(self) -> bool:
        """Whether the request names an address of ours: a page elsewhere must not read the journal through a name of its own."""
        name = urlsplit(f"//{self.headers.get('Host', '')}").hostname
        return self.server.open_to_others or name in LOCAL

    def _file(self, path: str) -> None:
        name = unquote(path).lstrip("/") or "index.html"
        if name.endswith("/"):
            name += "index.html"
        file = self.server.live.out / name
        if not file.resolve().is_relative_to(self.server.live.out.resolve()) or file.name.startswith("."):
            self.send_error(HTTPStatus.NOT_FOUND)
            return
        try:
            content = file.read_bytes()
        except OSError:
            content = None
        kind = self.guess_type(name)
        if content is not None and kind == "text/html":
            self._send(
                with_news(content.decode("utf-8", "replace"), name, self.server.live.state).encode(),
                f"{kind}; charset=utf-8",
            )
        elif content is not None:
            self._send(content, kind)
        else:
            page = f"<!DOCTYPE html><html lang=en><title>Not here</title><body><p>There is no page {html.escape(name)}.</p></body></html>"
            self._send(
                with_news(page, name, self.server.live.state).encode(), "text/html; charset=utf-8", HTTPStatus.NOT_FOUND
            )

    def _send(self, content: bytes, kind: str, status: HTTPStatus = HTTPStatus.OK) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(content)))
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.end_headers()
        self.wfile.write(content)

    def _news(self) -> None:
        """Server-sent events (WHATWG HTML, section 9.2): one for each build from the one that the page was served after."""
        query = parse_qs(urlsplit(self.path).query)
        number = int(next(iter(query.get("after", ["0"])), "0")) if query.get("after", ["0"])[0].isdigit() else 0
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/event-stream")
        self.send_header("Cache-Control", "no-store")
        self.end_headers()
        self.close_connection = True
        try:
            while not self.server.ending.is_set():
                state = self.server.live.wait_beyond(number, _SIGN_OF_LIFE)
                if state is None:
                    self.wfile.write(b": here\n\n")
                else:
                    number = state.number
                    news = {"changed": sorted(state.changed), "troubles": troubles(state)}
                    self.wfile.write(f"data: {json.dumps(news)}\n\n".encode())
                self.wfile.flush()
        except OSError:
            pass  # the page was closed

    def log_message(self, *_: Any) -> None:
        """Nothing: the terminal is for the journal."""


class Server(ThreadingHTTPServer):
    """Serves one live journal at an address; `port` 0 lets the system choose. Raises OSError where it can't be had."""

    daemon_threads = True
    allow_reuse_address = True

    def __init__(self, live: Live, host: str = "127.0.0.1", port: int = 0) -> None:
        self.live = live
        self.open_to_others = host not in LOCAL
        self.ending = threading.Event()
        super().__init__((host, port), _Handler)

    @property
    def address(self) -> str:
        """Where a browser finds it."""
        host, port = self.server_address[:2]
        return f"http://{host!s}:{port}/"

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
