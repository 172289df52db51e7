"""A browser without a window that reaches this machine only, and a server for a built site."""

import contextlib
import functools
import http.server
import json
import os
import shutil
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from selenium.webdriver import Chrome

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-sync", "--disable-dev-shm-usage",
    "--no-first-run", "--disable-background-networking", "--disable-component-update", "--hide-scrollbars",
    # whatever the browser wants from elsewhere for itself is not found
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1",
)  # fmt: skip


def missing(reason: str) -> None:
    """Skip, or fail where the tests run for all."""
    if os.environ.get("CI") == "true":
        pytest.fail(reason)
    pytest.skip(reason)


@contextlib.contextmanager
def browser(profile: Path) -> Iterator[Chrome]:
    """A browser with a profile of its own; skips the test where there is none, but fails it where CI=true."""
    program = next((found for name in BROWSERS if (found := shutil.which(name))), None)
    driver = shutil.which("chromedriver")
    if program is None or driver is None:
        missing("no Chromium or Chrome with its chromedriver was found")
    from selenium.webdriver import Chrome, ChromeOptions
    from selenium.webdriver.chrome.service import Service

    options = ChromeOptions()
    options.binary_location = program or ""
    for flag in (*FLAGS, f"--user-data-dir={profile}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    chrome = Chrome(options=options, service=Service(driver))
    try:
        yield chrome
    finally:
        chrome.quit()


class _Handler(http.server.SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        """Say nothing."""


class _Server(http.server.ThreadingHTTPServer):
    # a page asks for many files at once; one that finds no place in the queue would wait for a minute
    request_queue_size = 128


@contextlib.contextmanager
def served(folder: Path) -> Iterator[str]:
    """Serve the folder to this machine at a free port; the address without a slash at its end."""
    handler = functools.partial(_Handler, directory=str(folder))
    with _Server(("127.0.0.1", 0), handler) as server:
        thread = threading.Thread(target=server.serve_forever)
        thread.start()
        try:
            yield f"http://127.0.0.1:{server.server_port}"
        finally:
            server.shutdown()
            thread.join()


@dataclass(frozen=True)
class Visit:
    """What the browser said while it showed pages."""

    severe: list[str]
    requests: list[str]


def told_by(chrome: Chrome) -> Visit:
    """Severe lines of the console and addresses asked for since this was last asked."""
    severe = [entry["message"] for entry in chrome.get_log("browser") if entry["level"] == "SEVERE"]
    requests = []
    for entry in chrome.get_log("performance"):
        message: dict[str, Any] = json.loads(entry["message"])["message"]
        if message["method"] == "Network.requestWillBeSent":
            requests.append(message["params"]["request"]["url"])
    return Visit(severe, requests)


def resize(chrome: Chrome, width: int, height: int = 800) -> None:
    """Make the page's area that wide, below the least width of a window as well."""
    metrics = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False}
    chrome.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", metrics)


def prefer(chrome: Chrome, scheme: str, media: str = "") -> None:
    """Let the system prefer light or dark, and the page be for the screen or for print."""
    # without motion a colour is there at once
    features = [
        {"name": "prefers-color-scheme", "value": scheme},
        {"name": "prefers-reduced-motion", "value": "reduce"},
    ]
    chrome.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": media, "features": features})
