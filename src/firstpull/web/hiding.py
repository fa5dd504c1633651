"""A page made fit for the screen that asked: what it may not do is not on it, and its forms carry its token."""

from __future__ import annotations

import re
from html import unescape

from firstpull.web.roles import entry_for
from firstpull.web.viewer import Viewer

_FORM = re.compile(r"<form\b[^>]*>.*?</form>", re.DOTALL | re.IGNORECASE)
_OPENING = re.compile(r"<form\b[^>]*>", re.IGNORECASE)
_LINK = re.compile(r'<a\b[^>]*\bhref="(/[^"]*)"[^>]*>.*?</a>', re.DOTALL)
_ELSEWHERE = re.compile(r'<button\b[^>]*\bformaction="([^"]*)"[^>]*>.*?</button>', re.DOTALL)
_ACTION = re.compile(r'\baction="([^"]*)"')
_POST = re.compile(r'\bmethod="post"', re.IGNORECASE)


def allowed(viewer: Viewer, method: str, address: str) -> bool:
    """Whether the guard would let this screen through to an address."""
    entry = entry_for(method, unescape(address).partition("#")[0].partition("?")[0])
    if entry is None:
        return viewer.here
    if viewer.role is None:
        return entry.unpaired
    if (entry.here and not viewer.here) or (entry.names and not viewer.contacts):
        return False
    return any(viewer.may(act) for act in entry.acts)


def fitted(text: str, viewer: Viewer, token: str) -> str:
    """The page without forms, buttons and links that would be refused, and with the token in every form that sends."""
    field = f'<input type="hidden" name="csrf" value="{token}">'

    def form(found: re.Match[str]) -> str:
        whole = found.group()
        opening = _OPENING.match(whole)
        if opening is None or not _POST.search(opening.group()):
            return whole
        action = _ACTION.search(opening.group())
        if action and not allowed(viewer, "POST", action.group(1)):
            return ""
        return f"{opening.group()}{field}{whole[opening.end():]}"

    def button(found: re.Match[str]) -> str:
        return found.group() if allowed(viewer, "POST", found.group(1)) else ""

    def link(found: re.Match[str]) -> str:
        return found.group() if allowed(viewer, "GET", found.group(1)) else ""

    return _LINK.sub(link, _ELSEWHERE.sub(button, _FORM.sub(form, text)))
