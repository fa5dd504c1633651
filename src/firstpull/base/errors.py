"""One root for every refusal, so that each face can show it in one way."""

from __future__ import annotations

from collections.abc import Iterable


class FirstpullError(Exception):
    """Something was refused: what was wrong, where, and what would be right."""

    def __init__(self, what: str, where: str = "", right: str = "") -> None:
        self.what = what
        self.where = where
        self.right = right
        super().__init__(str(self))

    def __str__(self) -> str:
        text = f"{self.where}: {self.what}" if self.where else self.what
        return f"{text} ({self.right})" if self.right else text

    def as_dict(self) -> dict[str, str]:
        """The same three sentences for a machine to read."""
        return {"what": self.what, "where": self.where, "right": self.right}


class InputError(FirstpullError):
    """A form, a case file or a command held something that cannot be read."""


class HandbookError(FirstpullError):
    """One fault in a chapter file, with its line and key."""


class ManyErrors(FirstpullError):
    """All faults of one document at once, in the order of the document."""

    def __init__(self, errors: Iterable[FirstpullError]) -> None:
        self.errors = tuple(errors)
        super().__init__("\n".join(str(error) for error in self.errors))


class StorageError(FirstpullError):
    """The record could not be written or read; nothing half-written is left behind."""


class RefusedError(FirstpullError):
    """The interlocks do not allow this act now; `right` says what clears it."""
