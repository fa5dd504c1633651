"""Several programs that open one new record at the same moment."""

from __future__ import annotations

import os
from pathlib import Path

from firstpull.workshop.events import new_event
from firstpull.workshop.storage import open_store


def test_a_record_begun_by_eight_programs_at_once_is_one_record(address: str) -> None:
    children = []
    for number in range(8):
        child = os.fork()
        if child == 0:
            try:
                body = {"text": f"from {number}"}
                event = new_event("J1", "note", body, by="sam", at="2026-04-11T09:00:00Z", act_id=f"a{number}")
                open_store(address).append([event])
            except BaseException:
                os._exit(1)
            os._exit(0)
        children.append(child)
    assert [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children] == [0] * 8
    store = open_store(address)
    assert {event.act_id for event in store.read("J1")} == {f"a{n}" for n in range(8)}
    assert store.check().faults == ()
    store.close()


def test_nothing_is_left_beside_a_new_record(tmp_path: Path) -> None:
    open_store(tmp_path / "record.db").close()
    assert [path.name for path in tmp_path.iterdir()] == ["record.db"]
