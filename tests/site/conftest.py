"""The demo and the small logbook, built once with the real command for all tests of the site, and one browser for all."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from selenium import webdriver

from tests.site.browsing import look, started
from tests.site.building import ROOT, build


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The workshop site of the demo."""
    return build(ROOT / "logbook", tmp_path_factory.mktemp("demo") / "site")


@pytest.fixture(scope="session")
def shared_demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shared site of the demo."""
    return build(ROOT / "logbook", tmp_path_factory.mktemp("shared") / "site", "--audience", "shared")


@pytest.fixture(scope="session")
def gallons(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The workshop site of the small logbook in US units."""
    return build(ROOT / "tests" / "logbooks" / "gallons", tmp_path_factory.mktemp("gallons") / "site")


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - named so where it comes from
        """Nothing: the browser's own log is looked at."""


@pytest.fixture(scope="session")
def served(demo: Path) -> Iterator[str]:
    """The address of the demo on a plain server of files, ending in a slash."""
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(demo))) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()


@pytest.fixture(scope="session")
def chromium() -> Iterator[webdriver.Chrome]:
    """The browser itself, started once."""
    driver = started()
    yield driver
    driver.quit()


@pytest.fixture
def browser(chromium: webdriver.Chrome) -> webdriver.Chrome:
    """The browser as a reader has it at a desk: wide, light, without special wishes."""
    look(chromium)
    return chromium
