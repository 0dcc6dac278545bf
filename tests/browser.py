"""A headless Chromium, driven over pipes by the DevTools protocol."""

from __future__ import annotations

import base64
import json
import os
import shutil
import subprocess
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

NAMES = ("chromium", "chromium-browser", "google-chrome", "chrome")
CHROMIUM = next(filter(None, map(shutil.which, NAMES)), None)
OPTIONS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--hide-scrollbars",
    "--no-first-run",
    "--remote-debugging-pipe",
)
HEIGHT = 900
TROUBLE = ("Runtime.consoleAPICalled", "Runtime.exceptionThrown", "Log.entryAdded")


class Browser:
    """One tab; ``trouble`` holds all that its console said, ``asked`` every address it fetched."""

    def __init__(self, read: int, write: int) -> None:
        self.read, self.write = read, write
        self.held = b""
        self.number = 0
        self.session = ""
        self.trouble: list[dict[str, Any]] = []
        self.asked: list[str] = []
        target = self.call("Target.createTarget", url="about:blank")["targetId"]
        attached = self.call("Target.attachToTarget", targetId=target, flatten=True)
        self.session = attached["sessionId"]
        for domain in ("Page", "Runtime", "Log", "Network"):
            self.call(f"{domain}.enable")

    def call(self, method: str, **words: Any) -> dict[str, Any]:
        """Call a method; what happens meanwhile is kept."""
        self.number += 1
        message = {"id": self.number, "method": method, "params": words}
        if self.session:
            message["sessionId"] = self.session
        os.write(self.write, json.dumps(message).encode() + b"\0")
        while True:
            answer = self._next()
            if answer.get("id") == self.number:
                if "error" in answer:
                    raise RuntimeError(answer["error"])
                found: dict[str, Any] = answer["result"]
                return found

    def _next(self) -> dict[str, Any]:
        while b"\0" not in self.held:
            more = os.read(self.read, 1 << 20)
            if not more:
                raise EOFError
            self.held += more
        one, _, self.held = self.held.partition(b"\0")
        message: dict[str, Any] = json.loads(one)
        if message.get("method") in TROUBLE:
            self.trouble.append(message["params"])
        if message.get("method") == "Network.requestWillBeSent":
            self.asked.append(message["params"]["request"]["url"])
        self.loaded = message.get("method") == "Page.loadEventFired"
        return message

    def open(self, path: Path, width: int) -> None:
        """Open a file in a window of so many pixels."""
        self.trouble, self.asked = [], []
        self.call(
            "Emulation.setDeviceMetricsOverride",
            width=width, height=HEIGHT, deviceScaleFactor=1, mobile=width < 500,
        )  # fmt: skip
        self.call("Page.navigate", url=path.resolve().as_uri())
        while not self.loaded:
            self._next()

    def tell(self, script: str) -> Any:
        """Value of an expression on the page."""
        found = self.call("Runtime.evaluate", expression=script, returnByValue=True)
        assert "exceptionDetails" not in found, found
        return found["result"].get("value")

    def picture(self) -> bytes:
        """PNG of the whole page."""
        size = self.call("Page.getLayoutMetrics")["cssContentSize"]
        clip = {"x": 0, "y": 0, "width": size["width"], "height": size["height"], "scale": 1}
        found = self.call("Page.captureScreenshot", captureBeyondViewport=True, clip=clip)
        return base64.b64decode(found["data"])

    def printed(self, width: float, height: float) -> bytes:
        """PDF on paper of so many millimetres."""
        size = {"paperWidth": width / 25.4, "paperHeight": height / 25.4}
        return base64.b64decode(self.call("Page.printToPDF", printBackground=False, **size)["data"])


@contextmanager
def browser(profile: Path) -> Iterator[Browser]:
    """Start Chromium with a profile of its own, and end it."""
    assert CHROMIUM is not None
    to_read, to_write = os.pipe(), os.pipe()

    def wire() -> None:  # runs in the child, whose pipes are 3 and 4
        os.dup2(os.dup(to_write[0]), 103)
        os.dup2(os.dup(to_read[1]), 104)
        os.dup2(103, 3)
        os.dup2(104, 4)

    process = subprocess.Popen(
        [CHROMIUM, *OPTIONS, f"--user-data-dir={profile}"],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        preexec_fn=wire,  # noqa: PLW1509 - no threads here, and only this can place the pipes
        close_fds=False,
    )
    os.close(to_write[0])
    os.close(to_read[1])
    try:
        yield Browser(to_read[0], to_write[1])
    finally:
        os.close(to_write[1])
        os.close(to_read[0])
        try:
            process.wait(timeout=10)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
