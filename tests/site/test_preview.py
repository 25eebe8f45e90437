"""The preview, run as its user does: the real command, a real browser, files saved while it looks."""

from __future__ import annotations

import re
import signal
import socket
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.support.wait import WebDriverWait

from generator import previewing
from generator.cli import main
from tests.logbook_files import lay, logbook

LONG_S = 30
B1 = "batches/b1.yaml"


class Running:
    """A preview of the small logbook in a process of its own."""

    def __init__(self, root: Path) -> None:
        self.root = root
        heard = [
            "env",
            "--default-signal=INT",
        ]  # a run in the background would leave its children deaf to Ctrl+C
        command = [*heard, sys.executable, "-m", "generator", "preview", str(root), "--port", "0"]
        self.process = subprocess.Popen(
            command, stderr=subprocess.PIPE, text=True, cwd=Path(__file__).parents[2]
        )
        assert self.process.stderr is not None
        self.first = self.process.stderr.readline()
        found = re.search(r"http://127\.0\.0\.1:(\d+)/", self.first)
        assert found is not None, self.first
        self.url, self.port = found[0], int(found[1])

    def get(self, path: str, **headers: str) -> tuple[int, str]:
        request = urllib.request.Request(self.url + path, headers=headers)
        try:
            with urllib.request.urlopen(request, timeout=LONG_S) as answer:
                return answer.status, answer.read().decode()
        except urllib.error.HTTPError as error:
            with error:
                return error.code, error.read().decode()

    def end(self) -> int:
        """End it as Ctrl+C does, whatever became of it; its exit code."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
        self.process.communicate(timeout=LONG_S)
        return self.process.returncode


@pytest.fixture
def running(tmp_path: Path) -> Iterator[Running]:
    one = Running(logbook(tmp_path))
    yield one
    one.end()


def _shows(browser: webdriver.Chrome, text: str) -> None:
    WebDriverWait(browser, LONG_S).until(lambda _: text in browser.find_element(By.TAG_NAME, "body").text)


def test_a_saved_file_shows_in_the_page_and_so_does_a_mistake(
    running: Running, browser: webdriver.Chrome
) -> None:
    browser.get_log("browser")
    browser.get(f"{running.url}batches/b1.html")
    _shows(browser, "Batch b1")
    lay(running.root, B1, ("tests:\n", "public_note: Settled for two days.\ntests:\n"))
    _shows(browser, "Settled for two days.")
    lay(running.root, B1, ("date: 2026-01-10", "date: 2026-01-1O"))
    _shows(browser, "1 error in the logbook")
    _shows(browser, "b1.yaml:2:7: '2026-01-1O' is not a date")
    _shows(browser, "Settled for two days.")  # the last good state stands below
    lay(running.root, B1, ("date: 2026-01-1O", "date: 2026-01-10"))
    WebDriverWait(browser, LONG_S).until(lambda _: not browser.find_elements(By.CSS_SELECTOR, "[role=alert]"))
    complaints = [entry for entry in browser.get_log("browser") if entry["level"] in ("SEVERE", "WARNING")]
    assert complaints == []


def test_charts_are_drawn(running: Running, browser: webdriver.Chrome) -> None:
    browser.get(f"{running.url}batches.html")
    WebDriverWait(browser, LONG_S).until(
        lambda _: browser.find_elements(By.CSS_SELECTOR, "figure[data-chart] svg")
    )


def test_only_this_machine_and_only_by_its_name(running: Running) -> None:
    """Another address of this machine does not answer; nor does a name that was made to point here."""
    assert running.get("index.html")[0] == 200
    for host in ("elsewhere.example", f"[::1]:{running.port}"):  # it does not listen there
        assert running.get("index.html", Host=host)[0] == 421
    with pytest.raises(OSError), socket.create_connection(("127.0.0.2", running.port), timeout=2):
        pass


@pytest.mark.parametrize(
    "path", ["../logbook/logbook.yaml", "%2e%2e/logbook.yaml", "logbook.yaml", "assets/", "no"]
)
def test_nothing_but_the_site_is_served(running: Running, path: str) -> None:
    status, text = running.get(path)
    assert status == 404
    assert "currency" not in text


def test_it_writes_nothing_and_ends_when_told(running: Running) -> None:
    before = {path: path.read_bytes() for path in running.root.parent.rglob("*") if path.is_file()}
    assert running.get("data/batches.csv")[0] == 200
    assert running.end() == 0
    assert {path: path.read_bytes() for path in running.root.parent.rglob("*") if path.is_file()} == before


def test_a_logbook_that_was_never_good_shows_its_errors(tmp_path: Path) -> None:
    one = Running(logbook(tmp_path, {B1: ("date: 2026-01-10", "date: <b>soon</b>")}))
    status, text = one.get("index.html")
    assert one.end() == 0
    assert status == 200
    assert "&lt;b&gt;soon&lt;/b&gt;" in text and "<b>soon" not in text
    assert "nothing can be shown yet" in text
    assert one.first.startswith("1 error")


def test_a_port_that_is_taken_is_told(running: Running) -> None:
    command = [sys.executable, "-m", "generator", "preview", str(running.root), "--port", str(running.port)]
    done = subprocess.run(
        command, capture_output=True, text=True, timeout=LONG_S, cwd=Path(__file__).parents[2], check=False
    )
    assert done.returncode == 3
    assert "name another with --port" in done.stderr


def test_the_port_is_looked_at_before_the_site_is_made(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    made: list[object] = []
    monkeypatch.setattr(previewing, "Preview", lambda *given: made.append(given))
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = str(taken.getsockname()[1])
        done = CliRunner().invoke(main, ["preview", str(tmp_path), "--port", port])
    assert (done.exit_code, made) == (3, []), done.stderr


@pytest.mark.parametrize(("path", "status"), [("index.html", 200), ("no.html", 404), ("changes", 200)])
def test_the_head_of_a_page_is_told_without_its_body(running: Running, path: str, status: int) -> None:
    with socket.create_connection(("127.0.0.1", running.port), timeout=LONG_S) as asked:
        asked.sendall(
            f"HEAD /{path} HTTP/1.1\r\nHost: localhost:{running.port}\r\nConnection: close\r\n\r\n".encode()
        )
        answer = b"".join(iter(lambda: asked.recv(65536), b""))
    head, _, body = answer.partition(b"\r\n\r\n")
    assert (head.split(b" ")[1], body) == (str(status).encode(), b"")
