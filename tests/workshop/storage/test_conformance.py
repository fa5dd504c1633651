"""What every store promises, run over SQLite and over a real PostgreSQL server."""

from __future__ import annotations

import json
import threading
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from firstpull.base.errors import FirstpullError, InputError, StorageError
from firstpull.workshop.events import Event, new_event
from firstpull.workshop.fold import fold
from firstpull.workshop.port import Store
from firstpull.workshop.storage import finding
from firstpull.workshop.two_hands import to_look_at

Opener = Callable[[], Store]
AT = "2026-04-11T09:00:00.000Z"
PNG = b"\x89PNG\r\n\x1a\n" + b"a picture of a chafed lead"


def act(kind: str, body: Mapping[str, Any], act_id: str, job: str = "J1", **more: Any) -> Event:
    """An event of the demo hand."""
    return new_event(job, kind, body, by=more.pop("by", "sam"), at=more.pop("at", AT), act_id=act_id, **more)


def take_in(store: Store, job: str = "J1", name: str = "Ada Brook", **body: Any) -> str:
    """A customer at the counter."""
    person = store.put_person({"name": name, "phone": "555 0101", "plates": {"m1": "HV-7781"}})
    facts = {"person": person, "complaint": ["will-not-start"], "words": "dead as a doornail", **body}
    store.append([act("opened", facts, f"open-{job}", job)])
    return person


def test_an_act_sent_twice_is_stored_once(store: Store) -> None:
    first = store.append([act("note", {"text": "lead chafed"}, "a1")])
    again = store.append([act("note", {"text": "lead chafed"}, "a1")])
    assert first == again == store.read("J1")
    assert [event.seq for event in first] == [1]


def test_an_act_sent_twice_within_one_append_with_others_keeps_its_place(store: Store) -> None:
    store.append([act("note", {"text": "one"}, "a1")])
    stored = store.append([act("note", {"text": "one"}, "a1"), act("note", {"text": "two"}, "a2")])
    assert [(event.act_id, event.seq) for event in stored] == [("a1", 1), ("a2", 2)]


def test_several_events_may_share_one_act(store: Store) -> None:
    both = [
        act("access", {"item": "cover", "state": "off"}, "r"),
        act("reading", {"check": "k", "reading": "x"}, "r"),
    ]
    assert store.append(both) == store.append(both) == store.find_act("r")
    assert len(store.read("J1")) == 2


def test_a_round_is_one_act_on_several_jobs(store: Store) -> None:
    stored = store.append([act("repair", {"repair": "soak"}, "round", job) for job in ("J3", "J1", "J2")])
    assert [(event.job, event.seq) for event in stored] == [("J3", 1), ("J1", 1), ("J2", 1)]
    assert len(store.find_act("round")) == 3


def test_all_or_nothing(store: Store) -> None:
    bad = replace(act("note", {}, "b2"), body={"text": float("nan")})
    with pytest.raises(FirstpullError):
        store.append([act("note", {"text": "fine"}, "b1"), bad])
    assert store.read("J1") == ()
    assert store.jobs() == ()


def test_what_was_stored_is_there_after_opening_again(opened: Opener) -> None:
    body = {"check": "spark-at-tester", "reading": "dark", "arrangement": {"drive": "drill"}, "spread": 0.1}
    stored = opened().append([act("reading", body, "a1")])
    assert opened().read("J1") == stored
    assert stored[0].body == body


def test_letters_of_every_script_and_odd_signs_come_back(store: Store) -> None:
    text = "für Jürgen — Vergaser 清掃 \x00 \u2028 ''; DROP TABLE events; --\U0001f527"
    store.append([act("note", {"text": text}, "a1")])
    assert store.read("J1")[0].body["text"] == text


def test_reading_after_a_number_gives_only_what_is_newer(store: Store) -> None:
    store.append([act("note", {"text": str(n)}, f"n{n}") for n in range(5)])
    assert [event.seq for event in store.read("J1", after_seq=3)] == [4, 5]
    assert store.read("nobody") == ()


def test_an_unknown_kind_and_a_newer_version_are_kept_and_given_back(store: Store) -> None:
    odd = Event("J1", 0, "x1", 0, "levitated", 3, AT, "sam", {"height": [1, {"m": 2.5}]})
    newer = Event("J1", 0, "x2", 0, "note", 99, AT, "sam", {"text": "from the future"})
    store.append([odd, newer])
    found = store.read("J1")
    assert [(event.kind, event.version, event.body) for event in found] == [
        ("levitated", 3, odd.body),
        ("note", 99, newer.body),
    ]
    assert len(fold(found).unknown) == 2


def test_many_hands_at_once_leave_no_gap_and_lose_nothing(opened: Opener) -> None:
    stores = [opened() for _ in range(4)]
    failures: list[BaseException] = []

    def work(hand: int) -> None:
        try:
            for n in range(15):
                shared = act("note", {"text": "same act from everywhere"}, f"shared-{n}")
                stores[hand].append([act("note", {"text": "mine"}, f"{hand}-{n}", by=f"hand{hand}")])
                stores[hand].append([shared])
        except BaseException as error:
            failures.append(error)

    threads = [threading.Thread(target=work, args=(hand,)) for hand in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    found = stores[0].read("J1")
    assert [event.seq for event in found] == list(range(1, 4 * 15 + 15 + 1))
    assert stores[0].check().faults == ()


def test_rounds_over_the_same_jobs_in_other_orders_do_not_lock_each_other(opened: Opener) -> None:
    stores = [opened(), opened()]
    orders = (["J1", "J2", "J3"], ["J3", "J2", "J1"])

    def work(hand: int) -> None:
        for n in range(10):
            stores[hand].append([act("note", {"text": "r"}, f"{hand}-{n}", job) for job in orders[hand]])

    threads = [threading.Thread(target=work, args=(hand,)) for hand in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=30)
    assert [len(stores[0].read(job)) for job in ("J1", "J2", "J3")] == [20, 20, 20]


def test_job_numbers_are_never_given_twice(opened: Opener) -> None:
    stores = [opened(), opened()]
    given: list[int] = []
    threads = [
        threading.Thread(target=lambda one=one: given.extend(one.next_number() for _ in range(10))) for one in stores
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(given) == list(range(1, 21))


def test_a_stale_release_waits_for_a_look_and_a_reading_does_not(store: Store) -> None:
    store.append([act("opened", {}, "o"), act("access", {"item": "cover", "state": "off"}, "c", by="kim")])
    release = act("release", {"way": "working"}, "rel", based_on=1)
    waiting = store.offer([release], to_look_at)
    assert waiting.waits
    assert [event.act_id for event in waiting.changed] == ["c"]
    reading = act("reading", {"check": "k", "reading": "x"}, "rd", based_on=1)
    assert not store.offer([reading], to_look_at).waits
    assert [event.kind for event in store.read("J1")] == ["opened", "access", "reading"]
    seen = store.offer([replace(release, based_on=3)], to_look_at)
    assert [event.seq for event in seen.stored] == [4]


def test_a_list_of_jobs_shows_where_each_one_stands(store: Store) -> None:
    person = take_in(store, "J1", machine="m1", machine_class="walk-mower-ohv", number="1")
    store.append([act("opened", {"machine": "m2"}, "o2", "J2", at="2026-04-12T09:00:00.000Z")])
    store.append([act("handed-back", {}, "h2", "J2")])
    newest, oldest = store.jobs()
    assert (newest.job, newest.stage, newest.closed) == ("J2", "handed-back", True)
    assert (oldest.stage, oldest.machine_class, oldest.complaint) == (
        "received",
        "walk-mower-ohv",
        ("will-not-start",),
    )
    assert [line.job for line in store.jobs(open_only=True)] == ["J1"]
    assert [line.job for line in store.jobs(machine="m2")] == ["J2"]
    assert [line.job for line in store.jobs(person=person)] == ["J1"]
    assert [line.job for line in store.jobs(limit=1)] == ["J2"]


def test_an_undo_reaches_the_list_and_the_search(store: Store) -> None:
    store.append([act("opened", {}, "o"), act("note", {"text": "wrongly typed here"}, "n")])
    store.append([act("handed-back", {}, "h")])
    store.append([act("withdrawn", {"acts": ["h", "n"]}, "w")])
    assert store.jobs()[0].stage == "received"
    assert store.search("wrongly") == ()
    assert len(store.read("J1")) == 4


@pytest.mark.parametrize("text", ["brook", "BRO", "door 555", "hv-7781", "will not start", "ada doornail"])
def test_a_job_is_found_by_the_beginnings_of_its_words(store: Store, text: str) -> None:
    take_in(store)
    take_in(store, "J2", name="Ole Fen", words="hunts", complaint=["hunts"])
    assert "J1" in [line.job for line in store.search(text)]


@pytest.mark.parametrize("text", ["", "  ", "%", "brook fen", "zzz", "*", '"'])
def test_a_search_that_fits_nothing_finds_nothing(store: Store, text: str) -> None:
    take_in(store)
    assert store.search(text) == ()


@pytest.mark.parametrize("common", [0, 1, 2, 5])
def test_common_words_find_the_same_jobs_as_rare_ones(
    store: Store, monkeypatch: pytest.MonkeyPatch, common: int
) -> None:
    for number in range(8):
        name, complaint = ("Ada Brook", "hunts") if number % 2 else ("Ole Fen", "bogs")
        take_in(store, f"J{number}", name=f"{name}{number}", complaint=[complaint], words=f"rack {number % 3}")
    texts = ("j", "brook", "hunts", "bogs brook", "rack", "rack 2 hunts", "ole rack", "zzz rack", "brook3", "555 hunts")
    plain = {text: store.search(text) for text in texts}
    few = {text: store.search(text, limit=2) for text in texts}
    assert [len(plain[text]) for text in ("j", "hunts", "bogs brook", "rack 2 hunts")] == [8, 4, 0, 1]
    monkeypatch.setattr(finding, "COMMON", common)
    assert {text: store.search(text) for text in texts} == plain
    assert {text: store.search(text, limit=2) for text in texts} == few


def test_a_changed_name_is_found_and_the_old_one_is_not(store: Store) -> None:
    person = take_in(store)
    store.put_person({"name": "Ada Marsh"}, person)
    assert store.search("brook") == ()
    assert [line.job for line in store.search("marsh")] == ["J1"]
    assert store.find_people("mar")[0] == (person, {"name": "Ada Marsh"})


def test_an_erased_person_is_nowhere_and_the_engine_facts_stay(store: Store, tmp_path: Path) -> None:
    person = take_in(store)
    other = take_in(store, "J2", name="Ole Fen", words="hunts")
    mine, shared = store.put_blob(PNG, "image/png", person), store.put_blob(PNG + b"2", "image/png", person)
    store.put_blob(PNG + b"2", "image/png", other)
    store.append([act("reading", {"check": "k", "reading": "dark", "words": "her lead"}, "r")])
    store.append([act("levitated", {"seen_by": "Ada"}, "x")])
    assert store.erase_person(person, by="sam", at=AT) == ("J1",)
    assert store.get_person(person) is None
    assert store.search("brook") == store.search("doornail") == ()
    assert (store.get_blob(mine), store.get_blob(shared) is not None) == (None, True)
    events = store.read("J1")
    assert events[0].body == {"person": person, "complaint": ["will-not-start"], "_erased": ["words"]}
    assert fold(events).readings[0].body["reading"] == "dark"
    assert fold(events).erased
    store.export_lines(tmp_path / "all.jsonl")
    text = (tmp_path / "all.jsonl").read_text()
    assert not any(word in text for word in ("Brook", "doornail", "her lead", "Ada"))
    assert "Ole Fen" in text
    assert store.erase_person(person, by="sam", at=AT) == ("J1",)
    assert len(store.read("J1")) == len(events)
    with pytest.raises(InputError):
        store.put_person({"name": "Ada Brook"}, person)


def test_a_photo_must_be_what_it_claims(store: Store) -> None:
    hash = store.put_blob(PNG, "image/png")
    blob = store.get_blob(hash)
    assert blob is not None
    assert (blob.data, blob.type) == (PNG, "image/png")
    assert store.put_blob(PNG, "image/png") == hash
    for data, type in ((PNG, "image/jpeg"), (b"", "image/png"), (b"<script>", "text/html")):
        with pytest.raises(InputError):
            store.put_blob(data, type)
    assert store.get_blob("0" * 64) is None


def test_settings_and_stamps_are_kept_whole(opened: Opener) -> None:
    first = opened()
    first.put_setting("altitude_m", 240)
    first.put_setting("altitude_m", 250)
    first.put_setting("rule", {"days": 30, "how": ["post"]})
    hash = first.put_stamp("handbook", b"the whole handbook\x00\xff")
    again = opened()
    assert again.settings() == {"altitude_m": 250, "rule": {"days": 30, "how": ["post"]}}
    assert again.get_setting("nothing", "default") == "default"
    assert again.get_stamp(hash) == b"the whole handbook\x00\xff"
    assert again.get_stamp("unknown") is None
    with pytest.raises(InputError):
        again.put_setting("bad", float("inf"))


def test_a_backup_brings_everything_back(store: Store, tmp_path: Path) -> None:
    person = take_in(store)
    store.put_setting("currency", "EUR")
    hash = store.put_blob(PNG, "image/png", person)
    before = store.read("J1")
    number = store.next_number()
    made = store.backup(tmp_path / "day.backup")
    store.append([act("note", {"text": "after the backup"}, "late")])
    took = store.restore(tmp_path / "day.backup")
    assert (made.jobs, made.events, made.people) == (took.jobs, took.events, took.people) == (1, 1, 1)
    assert store.read("J1") == before
    assert store.search("brook")[0].job == "J1"
    assert store.get_setting("currency") == "EUR"
    assert store.get_blob(hash) is not None
    assert store.next_number() == number + 1
    assert store.check().faults == ()


def test_a_backup_of_one_database_opens_the_other(
    store: Store, tmp_path: Path, postgres_url: str, request: pytest.FixtureRequest
) -> None:
    from firstpull.workshop.storage import open_store

    take_in(store)
    store.backup(tmp_path / "day.backup")
    (tmp_path / "other").mkdir()
    other = open_store(tmp_path / "other" / "record.db")
    other.restore(tmp_path / "day.backup")
    assert other.read("J1") == store.read("J1")
    other.append([act("note", {"text": "goes on"}, "n")])
    other.backup(tmp_path / "back.backup")
    store.restore(tmp_path / "back.backup")
    assert store.read("J1") == other.read("J1")
    other.close()


def test_who_was_erased_does_not_come_back_with_an_older_backup(opened: Opener, tmp_path: Path) -> None:
    store = opened()
    person = take_in(store)
    hash = store.put_blob(PNG, "image/png", person)
    store.backup(tmp_path / "old.backup")
    store.erase_person(person, by="sam", at=AT)
    copy = store.restore(tmp_path / "old.backup")
    assert copy.forgotten == 1
    assert store.get_person(person) is None
    assert store.get_blob(hash) is None
    assert "words" not in store.read("J1")[0].body
    assert fold(store.read("J1")).erased


def test_the_list_beside_the_backup_is_enough_on_a_new_machine(opened: Opener, tmp_path: Path) -> None:
    from firstpull.workshop.storage import open_store

    store = opened()
    person = take_in(store)
    store.backup(tmp_path / "old.backup")
    store.erase_person(person, by="sam", at=AT)
    (tmp_path / "new").mkdir()
    new = open_store(tmp_path / "new" / "record.db")
    new.restore(tmp_path / "old.backup")
    assert new.get_person(person) is None
    assert new.search("brook") == ()
    new.close()


@pytest.mark.parametrize("harm", ["cut", "flip", "missing", "garbage", "other"])
def test_a_damaged_backup_is_refused_and_the_record_stays(store: Store, tmp_path: Path, harm: str) -> None:
    take_in(store)
    store.append([act("note", {"text": "needle in a stack " * 40}, f"n{n}") for n in range(40)])
    path = tmp_path / "day.backup"
    store.backup(path)
    data = path.read_bytes()
    if harm == "cut":
        path.write_bytes(data[: len(data) // 2])
    elif harm == "flip":
        at = data.index(b"needle in a stack")
        path.write_bytes(data[:at] + b"noodle" + data[at + 6 :])
    elif harm == "missing":
        path.unlink()
    elif harm == "garbage":
        path.write_bytes(b"not a database at all" * 1000)
    else:
        import sqlite3

        path.unlink()
        sqlite3.connect(path).execute("CREATE TABLE about (key TEXT, value TEXT)").connection.close()
    before = store.read("J1")
    with pytest.raises(StorageError) as caught:
        store.restore(path)
    assert str(path) in str(caught.value)
    assert store.read("J1") == before


def test_everything_goes_out_and_comes_in_again(store: Store, opened: Opener, tmp_path: Path) -> None:
    from firstpull.workshop.storage import open_store

    person = take_in(store)
    store.append([Event("J1", 0, "x", 1, "levitated", 3, AT, "sam", {"a": 1})])
    hash = store.put_blob(PNG, "image/png", person)
    stamp = store.put_stamp("rates", b"rates")
    store.put_setting("currency", "EUR")
    lines = store.export_lines(tmp_path / "all.jsonl")
    assert lines == len((tmp_path / "all.jsonl").read_text().splitlines()) == 6
    (tmp_path / "new").mkdir()
    new = open_store(tmp_path / "new" / "record.db")
    assert new.import_lines(tmp_path / "all.jsonl") == 2
    assert new.import_lines(tmp_path / "all.jsonl") == 0
    assert new.read("J1") == store.read("J1")
    assert new.search("brook")[0].job == "J1"
    assert new.get_blob(hash) == store.get_blob(hash)
    assert (new.get_stamp(stamp), new.get_setting("currency")) == (b"rates", "EUR")
    new.close()


def test_facts_without_names_hold_no_name_and_no_words(store: Store, tmp_path: Path) -> None:
    person = take_in(store, machine="m1", may_approve="Bob Brook")
    store.append([act("reading", {"check": "k", "reading": "dark"}, "r", by="Sam Lind")])
    store.append([act("note", {"text": "Ada rang"}, "n"), act("levitated", {"who": "Ada"}, "l")])
    store.append([act("repair", {"repair": "renew-plug", "scribble": "for Ada"}, "p")])
    store.export_lines(tmp_path / "facts.jsonl", names=False)
    store.export_csv(tmp_path / "facts.csv")
    text = (tmp_path / "facts.jsonl").read_text() + (tmp_path / "facts.csv").read_text()
    assert not any(word in text for word in ("Ada", "Brook", "Sam", "sam", "doornail", "7781", person, "m1"))
    facts = [json.loads(line)["event"] for line in (tmp_path / "facts.jsonl").read_text().splitlines()]
    assert [fact["kind"] for fact in facts] == ["opened", "reading", "note", "levitated", "repair"]
    assert facts[1]["body"] == {"check": "k", "reading": "dark"}
    assert "J1,,will-not-start,finding,0,2026-04-11,0.0,,1,1" in (tmp_path / "facts.csv").read_text()


def test_a_file_with_one_bad_line_adds_nothing_and_names_the_line(store: Store, tmp_path: Path) -> None:
    take_in(store)
    store.export_lines(tmp_path / "all.jsonl")
    good = (tmp_path / "all.jsonl").read_text()
    (tmp_path / "bad.jsonl").write_text(good.replace("J1", "J9").replace("open-", "o9-") + '{"event":{"job":1}}\n')
    with pytest.raises(InputError) as caught:
        store.import_lines(tmp_path / "bad.jsonl")
    assert "line 3" in str(caught.value)
    assert store.read("J9") == ()


def test_a_cell_that_looks_like_a_formula_is_only_text(store: Store, tmp_path: Path) -> None:
    store.append([act("opened", {"machine_class": "=2+5"}, "o")])
    store.export_csv(tmp_path / "facts.csv")
    assert "'=2+5" in (tmp_path / "facts.csv").read_text()
