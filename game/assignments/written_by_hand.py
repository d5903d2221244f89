"""What people write into an assignment that TOML does not know: days as 7.12.2026, bars as 5-8, curved quotation marks.

TOML's own reader stops at the first of them, and says so in its own words. Here each line that it cannot read is put as
it was meant, so that the rest is read too, and all that is wrong is told at once. Nothing of this is ever kept. Pure.
"""

import re
from collections.abc import Iterator, Sequence
from typing import Any, Final, NamedTuple

from game.assignments.map_table import quoted
from game.assignments.toml_table import table_in
from game.message import Message, message
from game.text.clean_text import cleaned

MOST_LINES: Final = 300
MOST_LETTERS: Final = 20_000
"""Of a text that is read so: a page of a teacher's has a tenth of it, and whoever waits is a person."""

_MOST_JOINED: Final = 12
"""Lines that one value may stand on."""

_TEXTS: Final = ("title", "note", "file", "tuning", "read", "stretch", "seam", "written")
_TABLES: Final = ("tune", "line")
_MAP: Final = "map"
_SHOWN: Final = 60
_SPACES: Final = dict.fromkeys("\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}\N{ZERO WIDTH NO-BREAK SPACE}", " ")
_STRAIGHT: Final = str.maketrans(dict.fromkeys("„“”‟«»", '"') | _SPACES)
_QUOTES: Final = "\"'„“”‟«»‚‘’‛`´"
_BARE: Final = re.compile(r"[A-Za-z0-9_-]+")
_OPENS: Final = ("[", '"""', "'''")
_AT_END: Final = "document"
"""What the reader says, where the line number would stand, of a value that goes on."""


class TableByHand(NamedTuple):
    """What a text comes to, and what is wrong with its lines; what its fields say of themselves is not among it."""

    table: dict[str, Any]
    faults: list[Message]


def table_by_hand(text: str) -> TableByHand | None:
    """The table of a text that is no TOML, line by line; None for one that is too long for that, or too far off."""
    lines = text.replace("\r\n", "\n").split("\n")
    if len(lines) > MOST_LINES or len(text) > MOST_LETTERS:
        return None
    faults: list[Message] = []
    try:
        return TableByHand(table_in("\n".join(_meant(lines, faults))), faults)
    except ValueError:
        return None


def _meant(lines: Sequence[str], faults: list[Message]) -> Iterator[str]:
    """The lines, those that cannot be read as they were meant. Of a field that stands twice in its table, and of a
    second map, the first is meant.
    """
    said, has_map, at = set[str](), False, 0
    while at < len(lines):
        place, taken, own = message("assignment.at_text_line", number=at + 1), _readable(lines, at), list[Message]()
        line = "\n".join(lines[at : at + taken]) if taken else _line_meant(lines[at], own)
        at += max(1, taken)
        heading, field = _heading(line), _field(line)
        if heading is not None:
            said = set()
            if heading in _TABLES and not line.strip().startswith("[["):
                own.append(message("assignment.no_tables", name=heading))
                line = f"[[{heading}]]"
            elif heading == _MAP:
                if has_map:
                    own.append(message("assignment.stands_twice", field=heading))
                    line = '["map (2)"]'
                has_map = True
        elif field is not None and field[0] in said:
            own.append(message("assignment.stands_twice", field=cleaned(field[0], _SHOWN)))
            line = ""
        elif field is not None:
            said.add(field[0])
        faults += [message("assignment.fault_at", where=place, fault=fault) for fault in own]
        yield line


def _readable(lines: Sequence[str], at: int) -> int:
    """How many lines from one on can be read together: 1 for most, more where a value goes on, 0 for none."""
    field = _field(lines[at])
    goes_on = field is not None and field[1].startswith(_OPENS)
    for count in range(1, min(_MOST_JOINED if goes_on else 1, len(lines) - at) + 1):
        try:
            table_in("\n".join(lines[at : at + count]))
        except ValueError as error:
            if _AT_END not in str(error):
                return 0
        else:
            return count
    return 0


def _field(line: str) -> tuple[str, str] | None:
    """Name and value of a field; None where a line is none."""
    name, equals, value = line.partition("=")
    name = name.strip().strip(_QUOTES).strip()
    return (name, value.strip()) if equals and name and name[0] not in "[]#" else None


def _heading(line: str) -> str | None:
    """The name of the table that begins with a line; None where none does."""
    plain = line.partition("#")[0].strip()
    return plain.strip("[] ") if plain.startswith("[") and "=" not in plain else None


def _line_meant(line: str, faults: list[Message]) -> str:
    """A line that cannot be read, as it was meant; an empty one where nobody can tell."""
    straight = line.translate(_STRAIGHT)
    if straight != line and _readable([straight], 0):
        faults.append(message("assignment.curved_quotes", line=cleaned(straight, _SHOWN)))
        return straight
    heading, field = _heading(straight), _field(straight)
    if heading is not None:
        if heading not in (*_TABLES, _MAP):
            # That nobody knows it, is told of the whole.
            return f"[[{quoted(heading)}]]"
        faults.append(message("assignment.no_heading", given=cleaned(line, _SHOWN)))
        return f"[{heading}]" if heading == _MAP else f"[[{heading}]]"
    if field is None:
        faults.append(message("assignment.no_field", given=cleaned(line, _SHOWN)))
        return ""
    name, value = field
    if not value.startswith('"'):
        value = value.partition("#")[0].strip()
    value = value.strip(_QUOTES)
    if name in _TEXTS:
        faults.append(message("assignment.no_quotes", line=f"{name} = {quoted(cleaned(value, _SHOWN))}"))
    return f"{name if _BARE.fullmatch(name) else quoted(name)} = {quoted(value)}"
