"""The handbook as pages that a repairer can read, search and print without a network.

`render` gives every file by name: an index, one page an entry, one style sheet. `frame` knows HTML and nothing of the
trade, `wording` puts numbers into words, `steps`, `causes` and `things` lay out the kinds of entries.
"""

from firstpull.handbook.pages.render import render

__all__ = ["render"]
