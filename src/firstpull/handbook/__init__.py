"""What the trade knows, as data: TOML chapters with their reader, schema and cross-references.

`entries` says what an entry may hold, `read` reads and checks files, `book` is the whole handbook in memory.
Knows nothing of how it is reasoned about.
"""
