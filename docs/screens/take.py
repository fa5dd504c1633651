"""Takes a picture of every page of the demonstration, on a phone, a tablet and a laptop, by day and by night.

    .venv/bin/python docs/screens/take.py [WORD ...]

With words, only pages whose name holds one of them. Needs a Chromium on this machine and the packages of the tests.
"""

from __future__ import annotations

import io
import os
import socket
import sys
import tempfile
import threading
import time
from collections import Counter
from pathlib import Path

import uvicorn
from PIL import Image, ImageDraw
from playwright.sync_api import Browser, Page, sync_playwright

from firstpull.bench.demo import open_demo
from firstpull.bench.find import enter
from firstpull.bench.parting import PartSaid, part_step
from firstpull.bench.picturing import keep_picture, mark_for_owner
from firstpull.bench.shop import Shop
from firstpull.web.app import make_app

HERE = Path(__file__).parent
CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
SIZES = {"phone": (390, 844), "tablet": (820, 1180), "laptop": (1280, 800)}
TALLEST = 2600
COLOURS = 28
COLOURFUL = 60
WAIT_MS = 240_000
PAGES = {
    "rack": "/", "take-in": "/take-in", "settings": "/settings", "find": "/job/1", "find-calm": "/job/3",
    "something-else": "/job/1/did", "check": "/job/1/check/spark-at-tester", "number": "/job/1/check/coil-gap",
    "repair": "/job/1/repair/renew-coil", "strip": "/job/1/strip/coil-gap", "owner": "/job/1/owner",
    "release": "/job/1/release", "returned": "/job/5/release", "parts": "/job/1/parts", "orders": "/parts",
    "pictures": "/job/1/pictures", "bill": "/job/1/bill", "before": "/job/1/history", "paper": "/job/1/paper",
    "meanwhile": "/rounds", "handbook": "/handbook/?q=spark", "handbook-check": "/handbook/check-spark-at-tester.html",
    "handbook-fault": "/handbook/fault-stop-lead-chafed.html", "machines": "/handbook/machines",
    "refused": "/job/none", "devices": "/devices", "pair": "/pair",
}


def serve(shop: Shop) -> str:
    """Serve the demonstration from this process; returns its address."""
    with socket.socket() as door:
        door.bind(("127.0.0.1", 0))
        port = door.getsockname()[1]
    server = uvicorn.Server(uvicorn.Config(make_app(shop), host="127.0.0.1", port=port, log_level="warning"))
    threading.Thread(target=server.run, daemon=True).start()
    while not server.started:
        time.sleep(0.05)
    return f"http://127.0.0.1:{port}"


def dress(shop: Shop) -> None:
    """A morning's more work: fuel open on one job, a part, a picture."""
    def how(job: str, act: str) -> dict[str, object]:
        return {"act_id": act, "based_on": shop.record(job).last_seq, "by": "Wren"}

    enter(shop, "4", {"access": "fuel-hose", "state": "off"}, **how("4", "dress-1"))  # type: ignore[arg-type]
    said = PartSaid("Coil", cost="31.50", supplier="Harrow Vale Stores", proof="Spark at the tester: dark")
    part_step(shop, "1", "wanted", said, **how("1", "dress-2"))  # type: ignore[arg-type]
    picture = Image.new("RGB", (640, 480), (206, 204, 190))
    pen = ImageDraw.Draw(picture)
    pen.rectangle((170, 120, 470, 380), fill=(90, 96, 98))
    pen.ellipse((240, 170, 400, 330), fill=(150, 152, 150), outline=(40, 40, 40), width=6)
    out = io.BytesIO()
    picture.save(out, "JPEG")
    keep_picture(shop, "1", out.getvalue(), "the coil, before it came off", **how("1", "dress-3"))  # type: ignore[arg-type]
    mark_for_owner(shop, "1", "dress-3", True, **how("1", "dress-4"))  # type: ignore[arg-type]


def chief(picture: Image.Image) -> list[tuple[int, int, int]]:
    """The colours that a picture cannot do without: the commonest, and the few that are no grey."""
    found: Counter[tuple[int, int, int]] = Counter()
    data = picture.tobytes()
    for red, green, blue in zip(data[::3], data[1::3], data[2::3], strict=True):
        found[red, green, blue] += 1
    for colour in found:
        if max(colour) - min(colour) > COLOURFUL:
            found[colour] *= 20
    return [colour for colour, _ in found.most_common(COLOURS)]


def keep(page: Page, file: Path) -> None:
    """One picture in few colours, no taller than is looked at."""
    # What sticks to an edge while scrolling stands at its place in a picture of the whole sheet.
    page.evaluate("document.querySelectorAll('.dock, .bands').forEach((one) => { one.style.position = 'static'; })")
    page.evaluate("document.querySelectorAll('img').forEach((one) => { one.loading = 'eager'; })")
    page.wait_for_load_state("networkidle")
    data = page.screenshot(full_page=True, animations="disabled")
    picture = Image.open(io.BytesIO(data)).convert("RGB")
    picture = picture.crop((0, 0, picture.width, min(picture.height, TALLEST)))
    palette = Image.new("P", (1, 1))
    palette.putpalette([part for colour in chief(picture) for part in colour])
    picture.quantize(palette=palette, dither=Image.Dither.NONE).save(file, optimize=True)


def take(browser: Browser, address: str, pages: dict[str, str]) -> None:
    """Every page at every size, by day and by night."""
    for size, (width, height) in SIZES.items():
        for scheme in ("light", "dark"):
            context = browser.new_context(
                viewport={"width": width, "height": height}, base_url=address,
                color_scheme="dark" if scheme == "dark" else "light",
            )
            page = context.new_page()
            page.set_default_timeout(WAIT_MS)
            for path in ("/job/1", "/job/2", "/job/3", "/job/4"):  # the rack then shows what comes next on each
                page.goto(path)
            for name, path in pages.items():
                page.goto(path)
                keep(page, HERE / f"{name}-{size}-{scheme}.png")
                print(name, size, scheme, flush=True)
            context.close()


def main() -> None:
    """Take them all, or those that were named."""
    words = sys.argv[1:]
    pages = {name: path for name, path in PAGES.items() if not words or any(word in name for word in words)}
    with tempfile.TemporaryDirectory() as folder:
        shop, _ = open_demo(Path(folder) / "demo")
        dress(shop)
        address = serve(shop)
        with sync_playwright() as play:
            browser = play.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
            take(browser, address, pages)
            browser.close()
        shop.store.close()


if __name__ == "__main__":
    main()
