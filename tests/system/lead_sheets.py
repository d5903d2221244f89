"""Twenty lead sheets, as a player's own folder has them: melodies over chord symbols, of several keys and levels."""

from pathlib import Path
from random import Random

from game.engraving.notation import musicxml
from game.lines.fresh_line import fresh_line
from game.lines.levels import level_of
from game.lines.scale import key_named
from game.neck.neck_map import standard_map

_KEYS = ("C", "F", "G", "Bb", "D", "Dm", "Am", "Gm", "Eb", "Em")
SHEETS = 20
BEYOND = 6
"""So many of them lie in a higher position than the rest."""


def folder_of_lead_sheets(folder: Path) -> Path:
    """A folder with the sheets as MusicXML files; the last ones lie in position IX."""
    folder.mkdir()
    for number in range(1, SHEETS + 1):
        neck_map = standard_map(position=5 if number <= SHEETS - BEYOND else 9)
        key = key_named(_KEYS[number % len(_KEYS)])
        score = fresh_line(level_of(4 + number % 4), neck_map, key=key, bars=8, rng=Random(number))
        text = musicxml(score.bars, score.reading, title=f"Landing Stage {number}", swung=score.swung)
        (folder / f"sheet-{number:02}.musicxml").write_text(text, encoding="utf-8")
    return folder
