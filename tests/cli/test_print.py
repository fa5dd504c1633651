"""`firstpull print`: sheets as files."""

from __future__ import annotations

from pathlib import Path

import pypdf
import pytest

from tests.cli.at_the_shell import Shell


@pytest.fixture
def shell(tmp_path: Path) -> Shell:
    return Shell(tmp_path)


def words(path: Path) -> str:
    return " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(path).pages).split())


def test_a_tag_lies_where_it_was_asked_for_and_has_the_size_that_was_asked_for(shell: Shell, tmp_path: Path) -> None:
    job = shell.take_in()
    out = tmp_path / "tag.pdf"
    assert shell.said("print", job, "tag", "--out", str(out), "--paper", "letter").strip() == str(out)
    assert float(pypdf.PdfReader(out).pages[0].mediabox.width) == pytest.approx(612.0)
    assert "Ada Fenwright" in words(out)
    assert shell.said("print", job, "receipt").strip() == f"job-{job}-receipt.pdf"
    assert "€80.00" in words(tmp_path / f"job-{job}-receipt.pdf")


def test_what_cannot_be_printed_is_refused_in_one_message_and_leaves_no_file(shell: Shell, tmp_path: Path) -> None:
    job = shell.take_in()
    out = tmp_path / "sheet.pdf"
    assert "released" in shell.refused("print", job, "hand-over", "--out", str(out))
    assert "tag" in shell.refused("print", job, "tagg", "--out", str(out))
    assert "no job" in shell.refused("print", "99", "tag", "--out", str(out))
    assert not out.exists()
    assert "nowhere" in shell.refused("print", job, "tag", "--out", str(tmp_path / "nowhere" / "tag.pdf"))


def test_the_shop_s_own_words_stand_on_its_papers(shell: Shell, tmp_path: Path) -> None:
    job = shell.take_in()
    shell.said("shop", "words", "name=Mill Yard bench", 'lines=["3 Mill Yard", "Tuesdays"]', "currency=EUR")
    assert '"find_fee": "30"' in shell.said("shop", "charges", "find_fee=30", "rate_per_hour=48")
    assert '"rate_per_hour": 48.0' in shell.said("shop", "charges")
    shell.said("print", job, "receipt", "--out", "r.pdf")
    sheet = words(tmp_path / "r.pdf")
    assert "Mill Yard bench" in sheet
    assert "Tuesdays" in sheet
    assert "€30.00" in sheet
    assert "currency" in shell.refused("shop", "words", "currency=euros")
    assert "KEY=VALUE" in shell.refused("shop", "words", "name")
