"""No room, no right to write, a damaged file, a clock that jumps: a clear word, nothing lost, and work goes on."""

from __future__ import annotations

import os
import random
import resource
import shutil
import subprocess
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from firstpull.base.errors import StorageError
from firstpull.workshop.events import Event, new_event
from firstpull.workshop.fold import fold
from firstpull.workshop.port import Store
from firstpull.workshop.storage import open_store

PAGE = 4096


def note(act: str, text: str = "x", job: str = "J1", at: str = "2026-04-11T09:00:00Z") -> Event:
    return new_event(job, "note", {"text": text}, by="sam", at=at, act_id=act)


@contextmanager
def files_no_larger_than(size: int) -> Iterator[None]:
    """Let no file of this process grow beyond the size."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


def write_until_refused(store: Store) -> tuple[list[str], StorageError]:
    """Append until the disk says no; returns the acknowledged acts and what was said."""
    done: list[str] = []
    for number in range(2000):
        try:
            store.append([note(f"n{number}", "y" * 2000), note(f"n{number}", "z" * 2000, "J2")])
        except StorageError as error:
            return done, error
        done.append(f"n{number}")
    raise AssertionError("the disk never filled up")


def assert_nothing_lost(store: Store, done: list[str]) -> None:
    for job in ("J1", "J2"):
        assert [event.act_id for event in store.read(job)] == done
    assert store.check().faults == ()


def test_a_file_that_may_not_grow_gives_a_clear_word_and_work_goes_on(tmp_path: Path) -> None:
    store = open_store(tmp_path / "record.db")
    with files_no_larger_than(600_000):
        done, error = write_until_refused(store)
    assert len(done) > 3
    assert str(tmp_path / "record.db") in str(error)
    assert "disk" in str(error)
    assert_nothing_lost(store, done)
    again = f"n{len(done)}"
    store.append([note(again), note(again, job="J2")])
    assert_nothing_lost(store, [*done, again])
    store.close()


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of four megabytes in memory."""
    place = tmp_path / "disk"
    place.mkdir()
    if os.getuid() != 0 or shutil.which("mount") is None:
        pytest.skip("a small disk of its own needs the right to mount one")
    made = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=4m", "tmpfs", str(place)], check=False)
    if made.returncode:
        pytest.skip("this machine does not let a test mount a small disk")
    yield place
    subprocess.run(["umount", "-l", str(place)], check=True)


def test_a_full_disk_gives_a_clear_word_and_work_goes_on_when_there_is_room(small_disk: Path) -> None:
    store = open_store(small_disk / "record.db")
    (small_disk / "ballast").write_bytes(b"b" * 2_000_000)
    done, error = write_until_refused(store)
    assert "no room left" in str(error)
    assert_nothing_lost(store, done)
    with pytest.raises(StorageError, match="no backup was made"):
        store.backup(small_disk / "day.backup")
    assert list(small_disk.glob("*.backup*")) == []
    (small_disk / "ballast").unlink()
    again = f"n{len(done)}"
    store.append([note(again), note(again, job="J2")])
    assert_nothing_lost(store, [*done, again])
    store.close()


def as_nobody(work: Callable[[], None]) -> None:
    """Run the work in a child without special rights; an assertion that fails there fails here."""
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        said = ""
        try:
            if os.getuid() == 0:
                os.setegid(65534)
                os.seteuid(65534)
            work()
        except BaseException as error:
            said = f"{type(error).__name__}: {error}"
        os.write(writer, said.encode())
        os._exit(0)
    os.close(writer)
    with os.fdopen(reader) as pipe:
        said = pipe.read()
    os.waitpid(child, 0)
    assert said == ""


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that every user can reach, unlike those of pytest."""
    place = Path(os.path.realpath(f"/tmp/firstpull-hardship-{os.getpid()}"))
    place.mkdir(mode=0o755)
    yield place
    for path in (place, *place.iterdir()):
        path.chmod(0o755)
    shutil.rmtree(place)


def test_a_folder_that_may_not_be_written_is_named(open_folder: Path) -> None:
    open_folder.chmod(0o555)

    def work() -> None:
        with pytest.raises(StorageError, match="cannot be opened") as caught:
            open_store(open_folder / "record.db")
        assert str(open_folder) in str(caught.value)

    as_nobody(work)


def test_a_record_that_may_only_be_read_refuses_to_be_written_in_clear_words(open_folder: Path) -> None:
    store = open_store(open_folder / "record.db")
    store.append([note("a")])
    store.close()
    (open_folder / "record.db").chmod(0o444)
    open_folder.chmod(0o555)

    def work() -> None:
        with pytest.raises(StorageError, match=r"may not be written|cannot be opened") as caught:
            open_store(open_folder / "record.db").append([note("b")])
        assert str(open_folder) in str(caught.value)

    as_nobody(work)
    open_folder.chmod(0o755)
    (open_folder / "record.db").chmod(0o644)
    again = open_store(open_folder / "record.db")
    assert [event.act_id for event in again.read("J1")] == ["a"]
    again.close()


def test_a_clock_that_is_set_back_changes_no_order_and_takes_no_minutes(store: Store) -> None:
    def clock(act: str, state: str, at: str) -> Event:
        return new_event("J1", "clock", {"state": state}, by="sam", at=at, act_id=act)

    store.append([clock("a", "started", "2026-04-11T09:00:00Z"), clock("b", "paused", "2026-04-11T09:10:00Z")])
    store.append([clock("c", "started", "2026-04-11T09:20:00Z"), clock("d", "paused", "2020-01-01T00:00:00Z")])
    store.append([note("e", at="2020-01-01T00:00:01Z")])
    events = store.read("J1")
    assert [event.act_id for event in events] == ["a", "b", "c", "d", "e"]
    assert fold(events).minutes == 10
    assert store.append([note("e", at="2020-01-01T00:00:01Z")]) == events[-1:]


def filled(path: Path) -> dict[str, tuple[Event, ...]]:
    """A record of some pages, closed and folded into one file."""
    store = open_store(path)
    person = store.put_person({"name": "Ada Brook"})
    for job in ("J1", "J2", "J3"):
        store.append([new_event(job, "opened", {"person": person, "words": "dead"}, by="sam",
                                at="2026-04-11T09:00:00Z", act_id=f"o-{job}")])  # fmt: skip
        store.append([note(f"{job}-{n}", f"word{n} " * 20, job) for n in range(40)])
    events = {job: store.read(job) for job in ("J1", "J2", "J3")}
    store.close()
    return events


def damage(path: Path, page: int, kind: str, seed: int) -> None:
    """Overwrite one page, counted from the first; -1 is the last."""
    data = bytearray(path.read_bytes())
    pages = len(data) // PAGE
    start = (page % pages) * PAGE
    draw = random.Random(seed)
    match kind:
        case "zeros":
            data[start : start + PAGE] = bytes(PAGE)
        case "noise":
            data[start : start + PAGE] = draw.randbytes(PAGE)
        case "bits":
            for _ in range(40):
                data[start + draw.randrange(PAGE)] ^= 1 << draw.randrange(8)
        case _:
            del data[start:]
    path.write_bytes(bytes(data))


def test_a_damaged_last_page_is_said_and_what_can_be_read_is_brought_over(tmp_path: Path) -> None:
    path = tmp_path / "record.db"
    store = open_store(path)
    store.append([note("before", "old")])
    store.backup(tmp_path / "day.backup")
    store.close()
    events = filled(path)
    damage(path, -1, "noise", 1)
    try:
        damaged = open_store(path)
    except StorageError as error:
        said = str(error)
    else:
        said = str(damaged.check().faults)
        damaged.close()
    assert "malformed" in said or "written" in said or "btree" in said.lower()
    (tmp_path / "new").mkdir()
    new = open_store(tmp_path / "new" / "record.db")
    new.restore(tmp_path / "day.backup")
    out = new.salvage(path)
    assert out.lost >= 0
    assert new.check().faults == ()
    found = {event.act_id for job in events for event in new.read(job)}
    wanted = {event.act_id for job in events for event in events[job]}
    assert "before" in found
    assert len(wanted - found) <= out.lost
    assert len(found & wanted) > 0.5 * len(wanted)
    new.append([note("goes-on")])
    assert new.salvage(path).events == 0
    new.close()


@pytest.mark.parametrize("kind", ["zeros", "noise", "bits", "cut"])
def test_whatever_page_is_damaged_no_job_is_silently_wrong(tmp_path: Path, kind: str) -> None:
    path = tmp_path / "whole.db"
    events = filled(path)
    pages = path.stat().st_size // PAGE
    refused = 0
    for page in range(0, pages, max(1, pages // 24)):
        torn = tmp_path / f"torn-{page}.db"
        shutil.copy(path, torn)
        damage(torn, page, kind, page)
        try:
            store = open_store(torn)
        except StorageError:
            refused += 1
            continue
        for job, whole in events.items():
            try:
                read = store.read(job)
            except StorageError:
                refused += 1
                continue
            assert [(one.seq, one.act_id, dict(one.body)) for one in read] == [
                (one.seq, one.act_id, dict(one.body)) for one in whole
            ]
        store.close()
    assert refused > 0


def test_a_salvage_of_nothing_says_so(store: Store, tmp_path: Path) -> None:
    (tmp_path / "rubbish.db").write_bytes(b"not a record " * 1000)
    for path in (tmp_path / "rubbish.db", tmp_path / "missing.db"):
        with pytest.raises(StorageError) as caught:
            store.salvage(path)
        assert str(path) in str(caught.value)
