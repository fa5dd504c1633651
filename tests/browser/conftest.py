"""A real server on a free port with a workshop of its own, and a real browser."""

from __future__ import annotations

import contextlib
import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

CHROMIUM = Path("/usr/bin/chromium")
ARGUMENTS = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]
START_SECONDS = 90.0
WAIT_MS = 40_000
NewPage = Callable[..., Page]


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """The browser of this machine."""
    if not CHROMIUM.exists():
        if os.environ.get("CI") == "true":
            pytest.fail(f"no browser at {CHROMIUM}")
        pytest.skip(f"no browser at {CHROMIUM}: install Debian's chromium to run the browser tests")
    expect.set_options(timeout=WAIT_MS)
    with sync_playwright() as play:
        found = play.chromium.launch(executable_path=str(CHROMIUM), args=ARGUMENTS)
        yield found
        found.close()


def free_port() -> int:
    """A port that nobody listens on, below those given to outgoing lines; a range for each worker."""
    worker = int(os.environ.get("PYTEST_XDIST_WORKER", "gw0").removeprefix("gw")) % 4
    first = 20_000 + worker * 3_000
    for port in range(first + os.getpid() % 2_000, first + 3_000):
        with socket.socket() as door, contextlib.suppress(OSError):
            door.bind(("127.0.0.1", port))
            return port
    pytest.fail(f"no free port from {first} to {first + 3_000}")


class Bench:
    """A server process that can be stopped and started again on the same port and folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.port = free_port()
        self.address = f"http://127.0.0.1:{self.port}"
        self.process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        """Serve, and wait until it answers."""
        command = [sys.executable, "-c", "from firstpull.cli.main import main; main()", "serve",
                   "--data", str(self.folder), "--port", str(self.port)]
        self.process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        ends = time.monotonic() + START_SECONDS
        while time.monotonic() < ends:
            try:
                urllib.request.urlopen(f"{self.address}/static/tokens.css", timeout=2).close()
            except (urllib.error.URLError, OSError):
                assert self.process.poll() is None, "the server ended before it answered"
                time.sleep(0.2)
            else:
                return
        pytest.fail(f"no answer from the server after {START_SECONDS} seconds")

    def stop(self) -> None:
        """End the process."""
        if self.process is not None:
            self.process.terminate()
            self.process.wait(timeout=15)
            self.process = None


@pytest.fixture(scope="session")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Bench]:
    """An empty workshop, open in the browser."""
    found = Bench(tmp_path_factory.mktemp("workshop"))
    found.start()
    yield found
    found.stop()


@pytest.fixture
def new_page(browser: Browser, bench: Bench) -> Iterator[NewPage]:
    """Opens a page of a phone or a laptop; anything the console complains of fails the test."""
    opened: list[Page] = []
    complaints: list[str] = []

    def make(width: int = 390, height: int = 844, *, scripts: bool = True, dark: bool = False) -> Page:
        context = browser.new_context(
            viewport={"width": width, "height": height}, java_script_enabled=scripts, base_url=bench.address,
            color_scheme="dark" if dark else "light",
        )
        page = context.new_page()
        page.set_default_timeout(WAIT_MS)
        page.on("console", lambda said: complaints.append(said.text) if said.type == "error" else None)
        page.on("pageerror", lambda error: complaints.append(str(error)))
        opened.append(page)
        return page

    yield make
    for page in opened:
        page.context.close()
    meant = ("ERR_CONNECTION_REFUSED", "status of 422", "status of 409")
    unmeant = [c for c in complaints if not any(words in c for words in meant)]
    assert unmeant == []
