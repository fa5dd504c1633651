"""What the tests read of the pages: links, and lines that are to be typed."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PAGES = sorted([ROOT / "README.md", ROOT / "CHANGELOG.md", *(ROOT / "docs").rglob("*.md")])
_LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)\)")
_FENCE = re.compile(r"^```console\n(.*?)^```", re.DOTALL | re.MULTILINE)


def links(page: Path) -> list[str]:
    """Where the links and pictures of a page lead."""
    return _LINK.findall(page.read_text(encoding="utf-8"))


def console_lines(page: Path) -> list[str]:
    """The lines that a page tells people to type, without the prompt."""
    blocks = _FENCE.findall(page.read_text(encoding="utf-8"))
    return [line.removeprefix("$ ") for block in blocks for line in block.splitlines() if line.strip()]


def anchors(page: Path) -> set[str]:
    """The headings of a page as links name them."""
    heads = re.findall(r"^#+ (.+)$", page.read_text(encoding="utf-8"), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", head.lower()).replace(" ", "-") for head in heads}
