"""Small pieces of HTML: everything that is not marked as HTML already is escaped."""

from __future__ import annotations

import html
from collections.abc import Iterable, Sequence


class Html(str):
    """Text that is HTML already."""

    __slots__ = ()


STYLE = """\
:root { color-scheme: light dark; --ink: #1a1a1a; --paper: #fdfcf8; --line: #8a8578; --link: #0b4f8a; --warn: #fff0c2; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #f0eee6; --paper: #1b1c1e; --line: #8f8c84; --link: #9ccbf5; --warn: #4a3a00; }
}
body { font: 1.125rem/1.5 system-ui, sans-serif; color: var(--ink); background: var(--paper); margin: 0 auto;
  padding: 0 1rem 3rem; max-width: 46rem; }
a { color: var(--link); }
a:focus-visible, input:focus-visible, .scroll:focus-visible { outline: 3px solid var(--link); outline-offset: 2px; }
.skip { position: absolute; left: -99rem; }
.skip:focus { position: static; }
header { padding: .75rem 0; border-bottom: 1px solid var(--line); }
h1 { line-height: 1.2; margin-bottom: .25rem; }
h2 { font-size: 1.25rem; margin: 1.75rem 0 .5rem; }
.cautions { background: var(--warn); border-left: .5rem solid #a33; padding: .5rem 1rem; }
.cautions p { margin: .25rem 0; }
ol.how li { margin: .5rem 0; }
.scroll { overflow-x: auto; margin: .5rem 0; }
table { border-collapse: collapse; }
caption { text-align: left; padding: .25rem 0; }
th, td { border: 1px solid var(--line); padding: .3rem .6rem; text-align: left; vertical-align: top; }
dt { font-weight: bold; }
dd { margin: 0 0 .5rem 1rem; }
.source { font-size: 1rem; border-top: 1px solid var(--line); margin-top: 2rem; padding-top: .5rem; }
input { font: inherit; padding: .6rem; width: 100%; box-sizing: border-box; }
label { font-weight: bold; }
.entries li { padding: .25rem 0; }
@media print { header, .search { display: none; } a { color: inherit; } body { max-width: none; } }
"""


def tag(name: str, *inside: str, **attributes: str) -> Html:
    """An element; `class_` and `for_` give the attributes that are Python words."""
    given = "".join(f' {key.rstrip("_").replace("_", "-")}="{html.escape(value)}"' for key, value in attributes.items())
    return Html(f"<{name}{given}>{joined(inside)}</{name}>")


def joined(pieces: Iterable[str], between: str = "") -> Html:
    """Pieces one after the other, escaped where they are plain text."""
    return Html(between.join(piece if isinstance(piece, Html) else html.escape(piece) for piece in pieces))


def link(file: str, text: str) -> Html:
    """A link to another page of the handbook."""
    return tag("a", text, href=file)


def section(heading: str, *inside: str) -> Html:
    """A heading with what stands under it; nothing when nothing does."""
    body = joined(inside)
    return joined([tag("h2", heading), body, Html("\n")]) if body else Html("")


def paragraph(*inside: str) -> Html:
    """A paragraph; nothing when nothing is in it."""
    return tag("p", *inside) if any(inside) else Html("")


def bullets(items: Iterable[str], kind: str = "ul", class_: str = "") -> Html:
    """A list; nothing when it is empty."""
    given = [tag("li", item) for item in items]
    if not given:
        return Html("")
    return tag(kind, *given, class_=class_) if class_ else tag(kind, *given)


def table(caption: str, heads: Sequence[str], rows: Iterable[Sequence[str]]) -> Html:
    """A table whose first column names its rows; nothing when it has none."""
    body = [tag("tr", tag("th", row[0], scope="row"), *(tag("td", cell) for cell in row[1:])) for row in rows]
    if not body:
        return Html("")
    head = tag("tr", *(tag("th", text, scope="col") for text in heads))
    whole = tag("table", tag("caption", caption), tag("thead", head), tag("tbody", *body))
    # On a narrow screen the table moves sideways in a frame of its own, which keys can reach too.
    return tag("div", whole, class_="scroll", role="region", aria_label=caption, tabindex="0")


def facts(pairs: Iterable[tuple[str, str]]) -> Html:
    """Names with what holds; pairs without a second half are left out."""
    given = [joined([tag("dt", name), tag("dd", value)]) for name, value in pairs if value]
    return tag("dl", *given) if given else Html("")


def page(title: str, kind: str, *inside: str) -> str:
    """A whole page with its way back to the index."""
    above = tag("p", kind) if kind else Html("")
    body = joined(
        [
            tag("a", "Skip to the page", class_="skip", href="#page"),
            tag("header", tag("nav", link("index.html", "Handbook"), aria_label="Handbook")),
            tag("main", tag("h1", title), above, *inside, id="page"),
        ],
        "\n",
    )
    head = joined(
        [
            Html('<meta charset="utf-8">'),
            Html('<meta name="viewport" content="width=device-width, initial-scale=1">'),
            tag("title", f"{title} - handbook"),
            Html('<link rel="stylesheet" href="handbook.css">'),
        ],
        "\n",
    )
    return f'<!DOCTYPE html>\n<html lang="en">\n<head>\n{head}\n</head>\n<body>\n{body}\n</body>\n</html>\n'
