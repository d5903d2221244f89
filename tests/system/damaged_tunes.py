"""A folder of tunes as it lies on a disk: formats and folders mixed, some files damaged, each in another way."""

import os
from pathlib import Path

from tests.tunes.hand_written import note, score, zipped
from tests.tunes.hostile_tunes import HOSTILE_TUNES
from tests.tunes.made_tunes import abc, midi, musicxml

GOOD = 190
ENTITIES = '<!DOCTYPE score-partwise [<!ENTITY a "aaaaaaaaaa">]>'
DAMAGED: dict[bytes, bytes | None] = {
    b"01 empty.abc": b"",
    b"02 letter.abc": b"Dear reader, this is a letter.",
    b"03 cut short.xml": score(note("C4", 16))[:-30],
    b"04 damaged.mxl": HOSTILE_TUNES["an archive with damaged bytes"](),
    b"05 encrypted.mxl": HOSTILE_TUNES["an encrypted archive"](),
    b"06 cut short.mid": midi(1)[:-20],
    b"07 pipe.mid": None,
    b"08 entities.xml": score("&a;", doctype=ENTITIES),
    b"09 divisions.xml": HOSTILE_TUNES["prime divisions in a bar"](),
    b"10 caf\xe9.abc": b"X:1\nT:Words alone\nK:C\n",
}
"""Ten files by the bytes of their names, each damaged in another way; None is a pipe that nobody writes to."""


def damaged_folder(folder: Path) -> Path:
    """A folder with 190 good tunes and the ten damaged ones among them; one good name is not UTF-8 either."""
    for number in range(GOOD):
        name, content = _good(number)
        path = Path(os.fsdecode(os.fsencode(folder) + b"/tunes/%d of ten/%s" % (number % 10, name)))
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    for name, content in DAMAGED.items():
        path = Path(os.fsdecode(os.fsencode(folder) + b"/tunes/" + name))
        if content is None:
            os.mkfifo(path)
        else:
            path.write_bytes(content)
    return folder / "tunes"


def _good(number: int) -> tuple[bytes, bytes]:
    if number == 0:
        return b"caf\xe9.abc", abc(number)
    if number % 10 == 1:
        return b"%03d.mxl" % number, zipped(("tune.xml", musicxml(number)))
    if number % 10 == 2:
        return b"%03d.musicxml" % number, musicxml(number)
    if number % 3 == 0:
        return b"%03d.mid" % number, midi(number)
    return b"%03d.abc" % number, abc(number)
