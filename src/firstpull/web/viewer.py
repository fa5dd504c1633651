"""Who asks: the bench screen, a paired device, or somebody who is not known yet."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.requests import Request

from firstpull.base.errors import FirstpullError
from firstpull.web.roles import ROLE_NAMES, WORDS, Act, Role, may

SCOPE_KEY = "firstpull.viewer"


@dataclass(frozen=True, slots=True)
class Viewer:
    """The screen behind a request. `here` is the bench screen itself; `https` says that nobody reads along."""

    role: Role | None
    device: str = ""
    name: str = ""
    here: bool = False
    https: bool = False

    @property
    def contacts(self) -> bool:
        """Whether it may know whose the machines are: bench screen, shop owner, and a counter nobody overhears."""
        return self.here or self.role is Role.OWNER or (self.role is Role.COUNTER and self.https)

    @property
    def seat(self) -> str:
        """To whom its forms were shown: forms of one seat are worth nothing at another."""
        return "here" if self.here else f"device {self.device}" if self.device else "stranger"

    @property
    def overheard(self) -> bool:
        """Whether others on the network can read along."""
        return not self.here and not self.https

    @property
    def called(self) -> str:
        """How the record names it; the bench screen says who stands there itself."""
        return "" if self.here else f"{self.name}, {ROLE_NAMES[self.role]}" if self.role else "nobody"

    def may(self, act: Act) -> bool:
        """Whether it may do an act."""
        return may(self.role, act)


BENCH_SCREEN = Viewer(Role.OWNER, here=True)


class NotAllowedError(FirstpullError):
    """The role of this screen does not allow the act."""


def viewer_of(request: Request) -> Viewer:
    """Who asks, as the guard found it."""
    found = request.scope[SCOPE_KEY]
    assert isinstance(found, Viewer)
    return found


def refusal(viewer: Viewer, act: Act) -> NotAllowedError:
    """Why a screen may not do an act, in one sentence."""
    who = ROLE_NAMES[viewer.role] if viewer.role else "unpaired"
    return NotAllowedError(f"a {who} screen may not {WORDS[act]}", "", "do it at the bench screen")


def must(request: Request, *acts: Act) -> None:
    """Go on only if whoever asks may do all of these acts.

    Raises:
        NotAllowedError: its role does not allow one of them.
    """
    viewer = viewer_of(request)
    for act in acts:
        if not viewer.may(act):
            raise refusal(viewer, act)
