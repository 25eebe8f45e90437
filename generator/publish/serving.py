"""A site from memory to a browser on this machine, and word to the browser when it has changed. Knows nothing of what it serves."""

from __future__ import annotations

import mimetypes
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Protocol
from urllib.parse import unquote, urlsplit

HOST = "127.0.0.1"
CHANGES = "/changes"
SILENCE_S = 10.0  # between two words to a browser that waits, so that one that has gone is noticed


class Site(Protocol):
    """What is served: files by path, and a version that goes up when they change."""

    def get(self, path: str) -> bytes | None:
        """The bytes of a file as it is now; None where there is none."""

    def newer(self, version: int, timeout_s: float) -> int:
        """Wait until the version is another one, or the time is over; the version then."""


class Server(ThreadingHTTPServer):
    """Serves one site to this machine alone. Raises OSError where the port is taken."""

    daemon_threads = True
    site: Site

    def __init__(self, port: int) -> None:
        """Bind to the loopback address; port 0 takes any that is free. Who asks now waits until there is a site."""
        super().__init__((HOST, port), _Handler)

    def serve(self, site: Site) -> None:
        """Answer with this site until `shutdown` is called."""
        self.site = site
        self.serve_forever()

    @property
    def url(self) -> str:
        """Where it is served."""
        return f"http://{HOST}:{self.server_port}/"


class _Handler(BaseHTTPRequestHandler):
    server: Server
    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        # a page from elsewhere that had its name point here would send that name; [::1] is not listened to
        if self.headers.get("Host") not in (
            f"{HOST}:{self.server.server_port}",
            f"localhost:{self.server.server_port}",
        ):
            self._answer(HTTPStatus.MISDIRECTED_REQUEST, b"served to this machine alone\n", "text/plain")
            return
        path = unquote(urlsplit(self.path).path)
        if path == CHANGES:
            self._changes()
            return
        name = path.lstrip("/") or "index.html"
        found = self.server.site.get(name)
        if found is None:
            self._answer(HTTPStatus.NOT_FOUND, b"there is no such page in this site\n", "text/plain")
            return
        kind = mimetypes.guess_type(name)[0] or "application/octet-stream"
        self._answer(HTTPStatus.OK, found, f"{kind}; charset=utf-8" if kind.startswith("text/") else kind)

    def do_HEAD(self) -> None:
        self.do_GET()

    def _answer(self, status: HTTPStatus, body: bytes, kind: str) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        self.send_header("Cache-Control", "no-store")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(body)

    def _changes(self) -> None:
        """A stream that sends the version, and each later one."""
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Type", "text/event-stream")
        self.send_header("Cache-Control", "no-store")
        self.send_header("Connection", "close")
        self.end_headers()
        self.close_connection = True
        if self.command == "HEAD":
            return
        version = -1
        try:
            while True:
                found = self.server.site.newer(version, SILENCE_S)
                self.wfile.write(f"data: {found}\n\n".encode() if found != version else b": waiting\n\n")
                self.wfile.flush()
                version = found
        except OSError:
            return  # the page was closed

    def log_message(self, format: str, *args: object) -> None:  # noqa: A002
        """Say nothing: what was asked for is on the screen."""
