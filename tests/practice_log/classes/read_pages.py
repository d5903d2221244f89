"""A page as its reader has it: its tables, row by row, and the figures and days that stand in a cell, in English and
German.
"""

import re
from collections import defaultdict
from datetime import date
from html.parser import HTMLParser

MONTHS = {
    "en": "January February March April May June July August September October November December".split(),
    "de": "Januar Februar März April Mai Juni Juli August September Oktober November Dezember".split(),
}
_STEPS = dict(zip("CDEFGAB", (0, 2, 4, 5, 7, 9, 11), strict=True))
_SIGNS = {"♯": "#", "♭": "b", "𝄪": "##", "𝄫": "bb"}


class _Tables(HTMLParser):
    """The body rows of all tables, as text, by their captions."""

    def __init__(self) -> None:
        super().__init__()
        self.found: dict[str, list[list[list[str]]]] = defaultdict(list)
        self._caption = ""
        self._in_caption = False
        self._rows: list[list[str]] | None = None
        self._cell: list[str] | None = None

    def handle_starttag(self, tag, _attrs):
        if tag == "caption":
            self._caption, self._in_caption = "", True
        elif tag == "tbody":
            self._rows = []
        elif tag == "tr" and self._rows is not None:
            self._rows.append([])
        elif tag in ("td", "th") and self._rows is not None:
            self._cell = []

    def handle_endtag(self, tag):
        if tag == "caption":
            self._in_caption = False
        elif tag == "tbody":
            self.found[_plain(self._caption)].append(self._rows or [])
            self._caption, self._rows = "", None
        elif tag in ("td", "th") and self._rows is not None:
            self._rows[-1].append(_plain("".join(self._cell or [])))
            self._cell = None

    def handle_data(self, data):
        if self._cell is not None:
            self._cell.append(data)
        elif self._in_caption:
            self._caption += data


def tables_of(page: str) -> dict[str, list[list[list[str]]]]:
    """By their captions the tables of a page in their order, each as its rows of cells, headings left out."""
    parser = _Tables()
    parser.feed(page)
    parser.close()
    return dict(parser.found)


def _plain(text: str) -> str:
    """On one line, with plain spaces."""
    return " ".join(text.split())


def figures_in(text: str, language: str) -> list[float]:
    """The figures of a cell, those of notes left out: 1,234.5 in English is 1.234,5 in German."""
    found = re.findall(r"(?<![\w♭♯])\d+(?:[.,]\d+)*", text)
    apart, point = (",", ".") if language == "en" else (".", ",")
    return [float(one.replace(apart, "").replace(point, ".")) for one in found]


def days_in(text: str, language: str) -> list[date]:
    """The days of a cell: 3 March 2026 in English is 3. März 2026 in German."""
    months = MONTHS[language]
    found = re.findall(rf"(\d+)\.? ({'|'.join(months)}) (\d{{4}})", text)
    return [date(int(year), months.index(month) + 1, int(day)) for day, month, year in found]


def note_in(text: str) -> str:
    """The first note of a cell, as documents write it: Bb4."""
    return "".join(_SIGNS.get(sign, sign) for sign in re.search(r"[A-G][♯♭𝄪𝄫]?\d", text)[0])


def midi_of(note: str) -> int:
    """The key of a note such as Bb4, with 60 for C4."""
    letter, signs, octave = note[0], note[1:-1], int(note[-1])
    return 12 * (octave + 1) + _STEPS[letter] + signs.count("#") - signs.count("b")
