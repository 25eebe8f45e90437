"""Weight and steadiness of each kind of page of the demo, in a real browser; prints one table and, below it, what fails.

python -m benchmarks.pages SITE

SITE is a built site. Bytes are those of the files a page asks for, as they lie on the disk, and each compressed by gzip, as most
hosts send them; without the scripts of charts in both. Shift is the sum of layout shifts without input while the page loads and its charts are drawn, by the browser's own PerformanceObserver.
First content is the time of its first contentful paint from a server on this machine, with the cache empty.
"""

from __future__ import annotations

import gzip
import sys
import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from urllib.parse import urlsplit

from selenium import webdriver
from selenium.webdriver.support.wait import WebDriverWait

from tests.site.browsing import KINDS, PATIENCE_S, PHONE, WIDE, asked, go, look, run, started

CHARTS = ("assets/vega/vega.js", "assets/specs.js", "assets/charts.js")
BATCH_KB = 60  # at most, a batch page without the scripts of charts
OBSERVE = """
window.shifted = 0;
new PerformanceObserver(list => { for (const each of list.getEntries()) { window.shifted += each.hadRecentInput ? 0 : each.value; } })
  .observe({type: 'layout-shift', buffered: true});"""
PAINTED = "return performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? null"


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - named so where it comes from
        """Nothing."""


def weight(site: Path, addresses: list[str]) -> tuple[int, int, int]:
    """Bytes of what was asked for: without the scripts of charts, that compressed, and those."""
    names = {urlsplit(address).path.lstrip("/") for address in addresses}
    own = [(site / name).read_bytes() for name in names if name not in CHARTS]
    scripts = sum((site / name).stat().st_size for name in names if name in CHARTS)
    return sum(map(len, own)), sum(len(gzip.compress(each)) for each in own), scripts


def measure(browser: webdriver.Chrome, site: Path, root: str) -> list[str]:
    """Print a row for every kind of page; return what is not as it should be."""
    wrong = []
    print(
        f"{'kind':<10} {'page kB':>8} {'gzip kB':>8} {'charts kB':>9} {'shift':>7} {'shift 320':>9} {'first content ms':>16}"
    )
    for kind, page in KINDS.items():
        shifts, painted = [], 0.0
        for width in (PHONE, WIDE):
            look(browser, width=width)
            browser.execute_cdp_cmd("Network.clearBrowserCache", {})
            go(browser, root + page)
            shifts.append(float(run(browser, "return window.shifted")))
            painted = float(WebDriverWait(browser, PATIENCE_S).until(lambda _: run(browser, PAINTED)))
        own, small, scripts = weight(site, asked(browser))
        print(
            f"{kind:<10} {own / 1e3:>8.1f} {small / 1e3:>8.1f} {scripts / 1e3:>9.1f} {shifts[1]:>7.4f} {shifts[0]:>9.4f} {painted:>16.0f}"
        )
        charted = bool(run(browser, "return document.querySelectorAll('figure[data-chart]').length"))
        if charted != bool(scripts):
            wrong.append(f"{kind}: scripts of charts without charts, or charts without")
        if kind == "batch" and own > BATCH_KB * 1e3:
            wrong.append(f"{kind}: {own / 1e3:.1f} kB, more than {BATCH_KB}")
        if max(shifts) > 0:
            wrong.append(f"{kind}: something moves, {max(shifts):.4f}")
    return wrong


def main(site: Path) -> int:
    """Serve the site, measure its pages, tell what is wrong."""
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(site))) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        browser = started()
        browser.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": OBSERVE})
        wrong = measure(browser, site, f"http://127.0.0.1:{server.server_port}/")
        browser.quit()
        server.shutdown()
    print(*wrong, sep="\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    raise SystemExit(main(Path(sys.argv[1])))
