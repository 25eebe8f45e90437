"""A real browser for the tests: how it starts, how it looks at a page, what it complains of."""

from __future__ import annotations

import json
import os
import shutil
from pathlib import Path
from typing import Any

import pytest
from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.support.wait import WebDriverWait

CHROMIUM, DRIVER = shutil.which("chromium"), shutil.which("chromedriver")
IN_CI = bool(os.environ.get("CI"))
PATIENCE_S = 30
WIDE, PHONE = 1280, 320
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)

# One page of each template, the fullest of the demo where there are several; others are named as their template.
NAMED = {
    "batch": "batches/2026-020.html",
    "charge": "charges/barn-B-1.html",
    "explain": "explained.html",
    "home": "index.html",
    "label": "labels/2026-020.html",
    "offer": "offers/2026-10-hospital.html",
    "page": "pages/about.html",
    "plan": "batches/2026-025.html",
    "sheet": "sheets/2026-020.html",
}
TEMPLATES = Path(__file__).resolve().parents[2] / "site_templates" / "pages"
KINDS = {path.stem: NAMED.get(path.stem, f"{path.stem}.html") for path in sorted(TEMPLATES.glob("*.html"))}
every_kind = pytest.mark.parametrize("page", [pytest.param(page, id=kind) for kind, page in KINDS.items()])


def wanting(what: str, remedy: str) -> None:
    """Skip a test for want of something; where CI asks for all, fail."""
    if IN_CI:
        pytest.fail(f"{what}: .ci/run installs it")
    pytest.skip(f"{what}; {remedy}")


def started(*, scripts: bool = True) -> webdriver.Chrome:
    """A browser without a window; a skip where there is none, and a failure in CI."""
    if CHROMIUM is None or DRIVER is None:
        wanting("chromium and chromium-driver are not installed", "install both with the system's packages")
    options = Options()
    options.binary_location = str(CHROMIUM)
    for flag in FLAGS:
        options.add_argument(flag)
    if not scripts:
        options.add_experimental_option("prefs", {"profile.managed_default_content_settings.javascript": 2})
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    return webdriver.Chrome(options=options, service=Service(DRIVER))


def look(browser: webdriver.Chrome, *, width: int = WIDE, zoom: int = 1, **features: str) -> None:
    """Look from now on at a window of this width, at this zoom, with these preferences and no others.

    Preferences are named as in CSS, with underscores: `prefers_color_scheme="dark"`.
    """
    size = {"width": width // zoom, "height": 640 if width == PHONE else 900, "deviceScaleFactor": zoom}
    browser.execute_cdp_cmd(
        "Emulation.setDeviceMetricsOverride", {**size, "mobile": width == PHONE, "screenWidth": width}
    )
    wanted = {"prefers_color_scheme": "light", "forced_colors": "none", **features}
    listed = [{"name": name.replace("_", "-"), "value": value} for name, value in wanted.items()]
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": listed})


def go(browser: webdriver.Chrome, address: str) -> None:
    """Open a page with empty logs, and wait for its charts to settle."""
    browser.get_log("browser")
    browser.get_log("performance")
    browser.get(address)
    settled = "return [...document.querySelectorAll('figure[data-chart]')].every(each => each.dataset.state)"
    WebDriverWait(browser, PATIENCE_S, 0.02).until(lambda _: browser.execute_script(settled))


def complaints(browser: webdriver.Chrome) -> list[str]:
    """What stands in the console as warning or error since the page was opened."""
    return [
        entry["message"] for entry in browser.get_log("browser") if entry["level"] in ("SEVERE", "WARNING")
    ]


def asked(browser: webdriver.Chrome) -> list[str]:
    """Every address that was asked for since the page was opened, but for data in the page itself."""
    events = [json.loads(entry["message"])["message"] for entry in browser.get_log("performance")]
    addresses = [
        event["params"]["request"]["url"]
        for event in events
        if event["method"] == "Network.requestWillBeSent"
    ]
    return [address for address in addresses if not address.startswith("data:")]


def run(browser: webdriver.Chrome, script: str, *arguments: Any) -> Any:
    """The value of a script that ends in a return."""
    return browser.execute_script(script, *arguments)
