"""A phone comes in over the network: paired at the bench screen, working, and turned away; and over a closed line."""

from __future__ import annotations

import hashlib
import io
import re
import socket
import ssl
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page, expect

from firstpull.bench.intake import Counter, take_in
from firstpull.bench.wiring import open_shop
from tests.browser.conftest import START_SECONDS, WAIT_MS, free_port
from tests.browser.test_accessible import MEASURE, SMALLEST_TARGET, SMALLEST_TEXT
from tests.paper.reading import codes_in

pytestmark = pytest.mark.browser

TRUST = ssl.create_default_context()
TRUST.check_hostname = False
TRUST.verify_mode = ssl.CERT_NONE


class OpenShop:
    """A workshop that is open to the network, with one job whose kind of machine nobody said yet."""

    def __init__(self, folder: Path, https: bool) -> None:
        shop = open_shop(folder)
        said = Counter("Ada Fenwright", "0555 0101", "won't start, ring Ada", "90", "")
        self.job = take_in(shop, said, act_id="in-1", by="Wren")
        shop.store.close()
        self.folder, self.port = folder, self.two_free_ports()
        self.bench = f"http://127.0.0.1:{self.port}"
        self.lan = f"{'https' if https else 'http'}://localhost:{self.port + 1}"
        command = [sys.executable, "-c", "from firstpull.cli.main import main; main()", "serve", "--lan", "--name",
                   "localhost", "--data", str(folder), "--port", str(self.port), *(["--https"] if https else [])]
        self.process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        for address in (self.bench, self.lan):
            self._wait(f"{address}/static/tokens.css")

    @staticmethod
    def two_free_ports() -> int:
        for start in range(free_port(), 32_000, 2):
            with socket.socket() as one, socket.socket() as two:
                try:
                    one.bind(("127.0.0.1", start))
                    two.bind(("0.0.0.0", start + 1))
                except OSError:
                    continue
                return start
        pytest.fail("no two free ports beside each other")

    def _wait(self, address: str) -> None:
        ends = time.monotonic() + START_SECONDS
        while time.monotonic() < ends:
            try:
                urllib.request.urlopen(address, timeout=2, context=TRUST).close()
            except (urllib.error.URLError, OSError):
                assert self.process.poll() is None, "the server ended before it answered"
                time.sleep(0.2)
            else:
                return
        pytest.fail(f"no answer at {address} after {START_SECONDS} seconds")

    def stop(self) -> int:
        """End the process and return how it ended."""
        self.process.terminate()
        return self.process.wait(timeout=15)


@pytest.fixture(params=[False, True], ids=["plain", "https"])
def open_lan(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[OpenShop]:
    found = OpenShop(tmp_path, request.param)
    yield found
    found.stop()


def opened(browser: Browser, address: str, width: int) -> tuple[BrowserContext, Page]:
    """A page of its own context, so that neither knows the other's cookies."""
    context = browser.new_context(viewport={"width": width, "height": 844}, base_url=address, ignore_https_errors=True)
    page = context.new_page()
    page.set_default_timeout(WAIT_MS)
    return context, page


def test_a_phone_is_paired_works_with_its_role_and_is_turned_away(browser: Browser, open_lan: OpenShop) -> None:
    https = open_lan.lan.startswith("https")
    (one, bench), (two, phone) = opened(browser, open_lan.bench, 1280), opened(browser, open_lan.lan, 390)
    phone.goto(f"/job/{open_lan.job}")
    expect(phone).to_have_url(re.compile(r"/pair$"))
    bench.goto("/devices")
    bench.get_by_label("Bench", exact=True).check()
    bench.get_by_role("button", name="Show a code").click()
    code = bench.locator(".pairing-code").inner_text()
    drawn = Image.open(io.BytesIO(bench.locator("figure.pairing").screenshot()))
    assert codes_in(drawn) == [f"{bench.locator('#code b').first.inner_text()}?code={code.replace(' ', '')}"]
    assert bench.locator(".fingerprint").count() == (1 if https else 0)
    if https:
        der = ssl.get_server_certificate(("127.0.0.1", open_lan.port + 1))
        mark = hashlib.sha256(ssl.PEM_cert_to_DER_cert(der)).hexdigest().upper()
        assert bench.locator(".fingerprint").inner_text().replace(":", "") == mark
    phone.goto(f"/pair?code={code.replace(' ', '')}")
    for page in (bench, phone):
        seen = Axe().run(page)
        assert seen.violations_count == 0, seen.generate_report()
        assert page.evaluate(MEASURE, [SMALLEST_TARGET, SMALLEST_TEXT]) == []
    phone.get_by_label("What to call this device").fill("Tam's phone")
    phone.get_by_role("button", name="Pair it").click()
    expect(phone.get_by_role("heading", name="The rack")).to_be_visible()
    expect(phone.get_by_text("Others on this network can read along")).to_have_count(0 if https else 1)
    expect(phone.get_by_role("link", name="Take one in")).to_have_count(0)
    (cookie,) = two.cookies()
    assert (cookie["httpOnly"], cookie["sameSite"], cookie["secure"]) == (True, "Strict", https)
    phone.goto(f"/job/{open_lan.job}")
    expect(phone.get_by_text("won't start, ring the owner")).to_be_visible()
    assert "Ada" not in phone.content()
    bench.goto(f"/job/{open_lan.job}")
    expect(bench.get_by_text("won't start, ring Ada")).to_be_visible()
    bench.goto("/devices")
    bench.get_by_role("button", name="Turn Tam's phone away").click()
    expect(bench.get_by_text("Turned away: 1")).to_be_visible()
    phone.goto(f"/job/{open_lan.job}")
    expect(phone).to_have_url(re.compile(r"/pair$"))
    phone.goto(f"/pair?code={code.replace(' ', '')}")
    phone.get_by_label("What to call this device").fill("again")
    phone.get_by_role("button", name="Pair it").click()
    expect(phone.get_by_text("This code lets nobody in")).to_be_visible()
    one.close()
    two.close()


def test_the_server_stops_both_doors_when_it_is_told_to(tmp_path: Path) -> None:
    found = OpenShop(tmp_path, https=False)
    assert found.stop() in (0, -15)
    for port in (found.port, found.port + 1):
        with socket.socket() as knock:
            assert knock.connect_ex(("127.0.0.1", port)) != 0


def test_without_the_word_for_it_nothing_but_this_machine_is_listened_to(tmp_path: Path) -> None:
    port = OpenShop.two_free_ports()
    command = [sys.executable, "-c", "from firstpull.cli.main import main; main()", "serve", "--data", str(tmp_path),
               "--port", str(port)]
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        ends = time.monotonic() + START_SECONDS
        while time.monotonic() < ends and not _listening(port):
            time.sleep(0.2)
        assert _listening(port) == {"127.0.0.1"}
        assert not _listening(port + 1)
    finally:
        process.terminate()
        process.wait(timeout=15)


def _listening(port: int) -> set[str]:
    """The addresses at which somebody listens on a port, as the system lists them."""
    found: set[str] = set()
    for table in ("tcp", "tcp6"):
        path = Path("/proc/net") / table
        for line in path.read_text(encoding="ascii").splitlines()[1:] if path.exists() else []:
            place, state = line.split()[1], line.split()[3]
            address, number = place.split(":")
            if state == "0A" and int(number, 16) == port:
                words = ".".join(str(byte) for byte in bytes.fromhex(address)[:4][::-1])
                found.add(words if len(address) == 8 else f"six {address}")
    return found
