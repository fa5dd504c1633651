"""The square code on a tag: a link to the job that a telephone can read."""

import io

import segno


def square_code(link: str) -> str:
    """A link as an SVG square code, with the four modules of quiet space its standard asks for.

    Source: ISO/IEC 18004 for the quiet space; error level M (about 15 in 100) is judgement for a tag that gets dirty.
    """
    out = io.BytesIO()
    segno.make(link, error="m", micro=False).save(out, kind="svg", xmldecl=False, border=4, dark="#1F2428")
    return out.getvalue().decode("utf-8")
