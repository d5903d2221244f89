"""Which texts stand where over a line of music. Pure.

verovio says where there is room for chord symbols and endings. Words at the end of a bar it lets run on over
the next one; they belong before the bar line (trade), so they are placed here.
"""

from collections.abc import Iterator, Sequence

from game.engraving.shapes import Box, System, Text, TextKind, boxes_of
from game.engraving.svg_reader import RawText
from game.music.score import Bar

# About how wide a letter of the quiet words is, and of a chord symbol, in staff spaces.
_LETTER_WIDTH = {TextKind.WORDS: 0.75, TextKind.CHORD: 1.0, TextKind.ENDING: 0.8, TextKind.BAR_NUMBER: 0.6}
_LINE_HEIGHT = 1.9
_GAP = 0.5
_BAR_NUMBER_RISE = 1.0


def place_texts(systems: Sequence[System], raw_texts: Sequence[RawText], bars: Sequence[Bar]) -> None:
    """Give each system its texts: chord symbols as the bars have them, endings, words, and bar numbers.

    The first line has no number.
    """
    chords = {index: iter(bar.chords) for index, bar in enumerate(bars)}
    for raw in sorted(raw_texts, key=lambda raw: raw.kind not in ("harm", "ending")):
        system = systems[raw.system]
        if raw.kind == "harm":
            chord = next(chords[raw.bar], None)
            text = chord.text if chord else raw.text
            system.texts.append(Text(TextKind.CHORD, text, raw.x, raw.baseline))
        elif raw.kind == "ending":
            system.texts.append(Text(TextKind.ENDING, f"{raw.text.rstrip('.')}.", raw.x, raw.baseline))
        else:
            system.texts.append(_words(system, raw))
    for system in systems[1:]:
        number = bars[system.bars[0]].number
        baseline = system.top_line - _BAR_NUMBER_RISE
        system.texts.append(Text(TextKind.BAR_NUMBER, number, system.left, baseline))


def _words(system: System, raw: RawText) -> Text:
    """Words that end with their bar, above all that stands there."""
    x = system.bar_ends[system.bars.index(raw.bar)]
    left = x - len(raw.text) * _LETTER_WIDTH[TextKind.WORDS]
    baseline = raw.baseline
    for box in sorted(_in_the_way(system, left, x), key=lambda box: -box.bottom):
        if box.top - _GAP < baseline and box.bottom > baseline - _LINE_HEIGHT:
            baseline = box.top - _GAP
    return Text(TextKind.WORDS, raw.text, x, baseline, ends_at_x=True)


def _in_the_way(system: System, left: float, right: float) -> Iterator[Box]:
    """Boxes of print and of texts between two x."""
    texts = (
        Box(text.x, text.baseline - 1.4, text.x + len(text.text) * _LETTER_WIDTH[text.kind], text.baseline)
        for text in system.texts
        if not text.ends_at_x
    )
    for box in (*boxes_of(system), *texts):
        if box.left < right and box.right > left:
            yield box
