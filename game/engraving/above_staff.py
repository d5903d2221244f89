"""Everything that stands above a line of music, from the inside to the outside: bar number, positions of the hand,
chord symbols, brackets of endings, sections and signs, the words of jumps. Pure.

verovio tells where moments and bars lie. How high things stand is found here, with the room that texts take in our own
faces, so that no two of them touch and none touches a note: each is put on top of what is there already.
"""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

from game.engraving.bar_words import place_ends, place_starts
from game.engraving.chord_lane import place_chords
from game.engraving.ending_brackets import place_brackets
from game.engraving.position_lane import place_positions
from game.engraving.shapes import System, Text, TextKind, boxes_of
from game.engraving.skyline import Skyline
from game.engraving.svg_reader import RawText, SvgReader
from game.engraving.text_extents import TextMeasure
from game.music.score import Bar
from game.music.written import HeadId

NO_NUMERALS: Final[Mapping[HeadId, str]] = MappingProxyType({})

_NUMBER_RISE: Final = 0.5
# Nothing above a staff comes nearer to its top line.
_FLOOR: Final = 0.4


def fill_above(
    reader: SvgReader, bars: Sequence[Bar], measure: TextMeasure, numerals: Mapping[HeadId, str] = NO_NUMERALS
) -> None:
    """Give each system that was read its texts, signs and brackets, and to noteheads the `numerals` of positions. The
    first line has no bar number.
    """
    chords = [iter(bar.chords) for bar in bars]
    right = max(system.right for system in reader.systems)
    for index, system in enumerate(reader.systems):
        here = [text for text in reader.texts if system.bars[0] <= text.bar <= system.bars[-1]]
        skyline = Skyline(system.left, right, system.top_line - _FLOOR)
        skyline.add(boxes_of(system))
        if index:
            _number(system, bars[system.bars[0]].number, measure, skyline)
        place_positions(system, numerals, measure, skyline)
        moments = [(next(chords[text.bar]).text, text.x) for text in here if text.kind == "harm"]
        place_chords(system, sorted(moments, key=lambda moment: moment[1]), measure, skyline)
        place_brackets(system, bars, measure, skyline)
        place_starts(system, _of(here, "reh"), reader.signs, measure, skyline)
        place_ends(system, _of(here, "dir", "tempo", "repeatMark"), measure, skyline)


def _number(system: System, number: str, measure: TextMeasure, skyline: Skyline) -> None:
    extent = measure(TextKind.BAR_NUMBER, number)
    baseline = skyline.top_over(system.left, system.left + extent.width) - _NUMBER_RISE - extent.drop
    text = Text(TextKind.BAR_NUMBER, number, system.left, baseline, extent)
    system.texts.append(text)
    skyline.add((text.box,))


def _of(texts: Sequence[RawText], *kinds: str) -> list[RawText]:
    return [text for text in texts if text.kind in kinds]
