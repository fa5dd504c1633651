"""Opening the door to the network: under which names, and with which certificate."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from firstpull.base.errors import FirstpullError
from firstpull.web.certificate import papers
from firstpull.web.doors import Door, own_names
from firstpull.web.listening import Papers


def network_door(folder: Path, port: int, https: bool, asked: Sequence[str] = ()) -> tuple[Door, Papers | None]:
    """The door for phones, and the files of its certificate when the line is closed.

    Raises:
        FirstpullError: this machine has no name on a network, or no certificate can be made.
    """
    names = own_names(asked)
    if not names:
        raise FirstpullError("this machine is on no network", "--lan", "join one, or say its address with --name")
    if not https:
        return Door(names, port, lan=True), None
    files, mark = papers(folder, names)
    return Door(names, port, lan=True, https=True, fingerprint=mark), files
