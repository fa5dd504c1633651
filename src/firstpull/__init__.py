"""Finds what is wrong with a pull-start engine, proves it, and keeps the record of the job.

Rooms, from the bottom up: base, engine, handbook, gauges and safety, reasoning and workshop,
paper, season and practice, bench, cli and web. Read docs/map.md first.
"""

__version__ = "0.1.0"
