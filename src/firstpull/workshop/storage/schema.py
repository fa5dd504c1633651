"""The tables as they are today. `migrations` builds the same step by step; a test holds them together.

Money is never a column: it stands as decimal text inside a body. Moments are UTC text that sorts.
"""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Column,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    Table,
    Text,
    UniqueConstraint,
)

metadata = MetaData()

_SORTED_BY_BYTES = Text().with_variant(Text(collation="C"), "postgresql")

about = Table("about", metadata, Column("key", Text, primary_key=True), Column("value", Text, nullable=False))

jobs = Table(
    "jobs",
    metadata,
    Column("job", Text, primary_key=True),
    Column("last_seq", Integer, nullable=False),
    Column("person", Text, nullable=False),
    Column("machine", Text, nullable=False),
    Column("closed", Integer, nullable=False),
    Column("opened_at", Text, nullable=False),
    Column("line", Text, nullable=False),
    Index("jobs_newest", "opened_at", "job"),
    Index("jobs_open", "closed", "opened_at"),
    Index("jobs_person", "person"),
    Index("jobs_machine", "machine"),
)

events = Table(
    "events",
    metadata,
    Column("job", Text, primary_key=True),
    Column("seq", Integer, primary_key=True),
    Column("act_id", Text, nullable=False),
    Column("act_part", Integer, nullable=False),
    Column("based_on", Integer, nullable=False),
    Column("kind", Text, nullable=False),
    Column("version", Integer, nullable=False),
    Column("at_utc", Text, nullable=False),
    Column("by_hand", Text, nullable=False),
    Column("body", Text, nullable=False),
    Column("crc", BigInteger, nullable=False),
    UniqueConstraint("act_id", "act_part", name="events_act"),
)

private_words = Table(
    "private_words",
    metadata,
    Column("job", Text, primary_key=True),
    Column("seq", Integer, primary_key=True),
    Column("words", Text, nullable=False),
    Column("crc", BigInteger, nullable=False),
)

people = Table("people", metadata, Column("person", Text, primary_key=True), Column("fields", Text, nullable=False))

erasures = Table("erasures", metadata, Column("person", Text, primary_key=True), Column("at_utc", Text, nullable=False))

blobs = Table(
    "blobs",
    metadata,
    Column("hash", Text, primary_key=True),
    Column("type", Text, nullable=False),
    Column("data", LargeBinary, nullable=False),
)

blob_owners = Table(
    "blob_owners",
    metadata,
    Column("hash", Text, primary_key=True),
    Column("person", Text, primary_key=True),
    Index("blob_owners_person", "person"),
)

settings = Table("settings", metadata, Column("key", Text, primary_key=True), Column("value", Text, nullable=False))

stamps = Table(
    "stamps",
    metadata,
    Column("hash", Text, primary_key=True),
    Column("kind", Text, nullable=False),
    Column("data", LargeBinary, nullable=False),
)

job_words = Table(
    "job_words",
    metadata,
    Column("word", _SORTED_BY_BYTES, primary_key=True),
    Column("job", Text, primary_key=True),
    Column("private", Integer, primary_key=True),
    Index("job_words_job", "job"),
    sqlite_with_rowid=False,
)

people_words = Table(
    "people_words",
    metadata,
    Column("word", _SORTED_BY_BYTES, primary_key=True),
    Column("person", Text, primary_key=True),
    Index("people_words_person", "person"),
    sqlite_with_rowid=False,
)

# What a backup carries. The search words are made anew from it, and `about` belongs to the file itself.
CARRIED = (jobs, events, private_words, people, erasures, blobs, blob_owners, settings, stamps)
