"""A headless Chromium driven over WebDriver (W3C Recommendation, 5 June 2018) with nothing but the standard library."""

import base64
import json
import re
import subprocess
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager

from tests.system.needs import require
from tests.system.waiting import AT_MOST_S

# The sandbox of Chromium does not start as root.
FLAGS = ["--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--window-size=1280,900"]
_READY = re.compile(r"started successfully on port (\d+)")


class Browser:
    """One window. `run` executes a script that answers through its last argument."""

    def __init__(self, session_url: str) -> None:
        self._session = session_url

    def open(self, url: str) -> None:
        """Load a page, and wait until it stands."""
        _post(f"{self._session}/url", {"url": url})

    def as_wide_as(self, width: int, height: int = 900) -> None:
        """Give pages this width in CSS pixels, as on a phone: no window can be made as narrow."""
        size = {"width": width, "height": height, "deviceScaleFactor": 1, "mobile": False}
        told = {"cmd": "Emulation.setDeviceMetricsOverride", "params": size}
        _post(f"{self._session}/goog/cdp/execute", told)

    def printed(self, *, width_cm: float, height_cm: float) -> bytes:
        """The page as a PDF on sheets of this size, with the margins that the page itself asks for."""
        none = dict.fromkeys(("top", "bottom", "left", "right"), 0)
        words = {"page": {"width": width_cm, "height": height_cm}, "margin": none}
        return base64.b64decode(_post(f"{self._session}/print", words))

    def run(self, script: str) -> object:
        """What an asynchronous script answers."""
        return _post(f"{self._session}/execute/async", {"script": script, "args": []})

    def log(self, kind: str) -> list[dict]:
        """The lines of a log (`browser` or `performance`) since it was last asked for."""
        return _post(f"{self._session}/se/log", {"type": kind})

    def asked_for(self) -> list[str]:
        """Every address the pages asked for since the last call."""
        told = [json.loads(line["message"])["message"] for line in self.log("performance")]
        return [one["params"]["request"]["url"] for one in told if one["method"] == "Network.requestWillBeSent"]


@contextmanager
def browser(folder) -> Iterator[Browser]:
    """A browser that keeps all it writes in `folder`."""
    chromium = require("chromium", package="chromium")
    driver = require("chromedriver", package="chromium-driver")
    with subprocess.Popen(
        [driver, "--port=0"], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    ) as process:
        try:
            ready = next(filter(None, map(_READY.search, process.stdout)))
            base = f"http://127.0.0.1:{ready[1]}/session"
            options = {"binary": chromium, "args": [*FLAGS, f"--user-data-dir={folder}"]}
            logs = {"browser": "ALL", "performance": "ALL"}
            wanted = {"browserName": "chrome", "goog:chromeOptions": options, "goog:loggingPrefs": logs}
            session = f"{base}/{_post(base, {'capabilities': {'alwaysMatch': wanted}})['sessionId']}"
            _post(f"{session}/timeouts", {"script": int(1000 * AT_MOST_S)})
            try:
                yield Browser(session)
            finally:
                _ask(urllib.request.Request(session, method="DELETE"))
        finally:
            process.terminate()


def _post(url: str, body: dict):
    words = json.dumps(body).encode()
    return _ask(urllib.request.Request(url, data=words, headers={"Content-Type": "application/json"}))


def _ask(request: urllib.request.Request):
    with urllib.request.urlopen(request, timeout=2 * AT_MOST_S) as answer:
        return json.load(answer)["value"]
