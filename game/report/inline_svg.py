"""A matplotlib figure as SVG to stand inside a page: no file, no request, and words for those who cannot see it."""

import re
from html import escape
from io import StringIO

from matplotlib import rc_context
from matplotlib.figure import Figure

_LETTERING = "path"
"""Outlines, so that no font is asked for."""

_ROOT = re.compile(r"<svg\b[^>]*>", re.DOTALL)
_METADATA = re.compile(r"<metadata>.*?</metadata>", re.DOTALL)
_SIZE = re.compile(r'viewBox="([^"]+)"')
_ID = re.compile(r'\bid="([^"]+)"|(?:xlink:)?href="#([^"]+)"|url\(#([^)]+)\)')


def inline_svg(figure: Figure, *, name: str, alternative: str) -> str:
    """The picture as one `<svg>` element, as wide as its place. `name` is unique on the page and goes before all ids;
    `alternative` says in a sentence what is to be seen. Lettering becomes outlines, so no font is asked for.
    """
    out = StringIO()
    with rc_context({"svg.fonttype": _LETTERING, "svg.hashsalt": name}):
        figure.savefig(out, format="svg", metadata={"Date": None})
    text = out.getvalue()
    root = _ROOT.search(text)
    size = _SIZE.search(root[0]) if root else None
    if root is None or size is None:
        raise ValueError("the drawing library wrote no SVG that we know")
    body = _METADATA.sub("", text[root.end() :])
    body = _ID.sub(lambda found: _renamed(found, name), body).replace("xlink:href", "href")
    said = escape(alternative, quote=True)
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{size[1]}" role="img" aria-label="{said}">{body.strip()}'


def _renamed(found: re.Match[str], name: str) -> str:
    own, linked, painted = found.groups()
    if own is not None:
        return f'id="{name}-{own}"'
    return f'href="#{name}-{linked}"' if linked is not None else f"url(#{name}-{painted})"
