"""The report as HTML: one file that needs nothing beside it, asks for nothing, and runs no script.

Everything that came out of files (titles, names) is escaped by jinja2; only our own pictures go in as they are.
"""

import base64
import re
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from game.paths import shipped
from game.text.catalogue import chosen, say

_CODE = re.compile("`([^`]*)`")
_TYPED = re.compile(r"""(?:--[a-z-]+ )?(?:"[^"]*"|'[^']*'|\S)+""")
"""An option with its value, or a word: what is in quotes is one."""

_RANGE = re.compile(r"\S{1,12} \d{1,4}–\d{1,4}[.,:;]*")
"""Some bars, with the word before them; of a long one its end."""

_BEGIN_BYTES = 2000
_FACES = ((400, "HomefretText-Regular"), (600, "HomefretText-SemiBold"))


def html_page(template: str, **parts: Any) -> str:
    """A page from a template of `content/report`, its gaps filled with `parts`."""
    language = chosen().language
    return _environment().get_template(template).render(css=_css(), fonts=_fonts(), language=language, say=say, **parts)


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(shipped("content", "report")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=False,
    )
    environment.filters["drawn"] = _drawn
    environment.filters["with_code"] = _with_code
    environment.filters["typed"] = _typed
    environment.filters["kept"] = _kept
    environment.globals["generator"] = generator
    return environment


def generator(of: str = "") -> str:
    """What a page says of what made it; a student's page of a class is of the page of all, by the name of its file."""
    return " ".join(filter(None, ("Homefret", of)))


def is_student_page_of(path: Path, index_name: str) -> bool:
    """Whether a file is one that was written here as a student's page beside a page of all. Raises `OSError`."""
    with path.open("rb") as file:
        begin = file.read(_BEGIN_BYTES)
    return f'<meta name="generator" content="{escape(generator(index_name))}">'.encode() in begin


def _drawn(svg: str) -> Markup:
    """A picture of ours, whose words `inline_svg` has escaped."""
    return Markup(svg)  # noqa: S704


def _with_code(text: str) -> Markup:
    """A sentence in which what stands between two grave accents is to be typed as it is."""
    parts = enumerate(_CODE.split(text))
    return Markup().join(Markup("<code>{}</code>").format(part) if odd % 2 else escape(part) for odd, part in parts)


def _typed(line: str) -> Markup:
    """A line for a terminal that may be broken between its words alone, and not between an option and its value."""
    return Markup(" ").join(Markup("<span>{}</span>").format(part) for part in _TYPED.findall(line))


def _kept(text: str) -> Markup:
    """A text in which "bars 1–4" is never broken."""
    parts, at = Markup(), 0
    for found in _RANGE.finditer(text):
        parts += escape(text[at : found.start()]) + Markup('<span class="kept">{}</span>').format(found[0])
        at = found.end()
    return parts + escape(text[at:])


@cache
def _css() -> Markup:
    return Markup(shipped("content", "report", "paper.css").read_text(encoding="utf-8"))  # noqa: S704


@cache
def _fonts() -> tuple[dict[str, Any], ...]:
    return tuple(
        {"weight": weight, "base64": base64.b64encode(shipped("content", "fonts", f"{name}.ttf").read_bytes()).decode()}
        for weight, name in _FACES
    )
