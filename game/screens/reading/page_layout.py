"""Where things stand on a page that is played: places in units of a window of 1280 by 720.

From the top: the heading, the music, the neck where it is shown, one sentence, and the keys. At the right there may be
a ladder or a column. All that a window is higher than 720 units goes to the music and the ladder.
"""

from dataclasses import dataclass
from typing import Final

from game.desk.kit.key_rows import ROW_HEIGHT
from game.desk.kit.ladder import LadderRoom

LEFT: Final = 70.0
"""Where text and music begin."""

TITLE_BASELINE: Final = 84.0
"""Of the title; the quiet facts stand on it, too, or on a line of their own."""

_RIGHT, _LADDER, _COLUMN = 68.0, 268.0, 430.0
_MUSIC_TOP, _SECOND_LINE = 108.0, 28.0
_KEYS, _SENTENCE, _RULE = 75.0, 116.0, 45.0
_NECK_OF_SEEN = 0.35


@dataclass(frozen=True, slots=True, kw_only=True)
class PageLayout:
    """A page in a window of `width` by `height` units.

    `clocked` where rhythm counts. `ladder` and `column` are what stands at the right, `neck` whether one is shown,
    `string_row` whether there is a row of hints for hands on a guitar, `two_lines` whether the heading has a second
    line, `still` whether the music stands still, and so may have the room of the words above the sentence. Of a page
    that is larger than the window so much is `seen` at once: music and neck keep together.
    """

    width: float
    height: float
    clocked: bool = False
    ladder: bool = False
    column: bool = False
    neck: bool = False
    string_row: bool = False
    two_lines: bool = False
    still: bool = False
    seen: float = float("inf")

    @property
    def right(self) -> float:
        """Where text ends."""
        return self.width - _RIGHT

    @property
    def music_right(self) -> float:
        """Where the music ends."""
        if self.ladder:
            return self.width - _LADDER
        return self.width - _COLUMN if self.column else self.right

    @property
    def keys_middle(self) -> float:
        """The middle of the row of keys."""
        return self.height - _KEYS

    @property
    def sentence_baseline(self) -> float:
        """Of the one sentence above the keys."""
        return self.height - _SENTENCE - ROW_HEIGHT * self.string_row

    @property
    def ruled(self) -> bool:
        """Whether there is a line above the sentence, and room for words above that: where a ladder tells how far it
        is, and neither neck nor a page that stands still needs the room.
        """
        return self.ladder and not self.neck and not self.still

    @property
    def rule_y(self) -> float:
        """The line above the sentence, where there is one."""
        return self.sentence_baseline - _RULE

    @property
    def words_baseline(self) -> float:
        """Of what is said of the take: above the line, or in the place of the sentence."""
        return self.rule_y - 16 if self.ruled else self.sentence_baseline

    @property
    def neck_room(self) -> tuple[float, float, float, float]:
        """Left, top, width and height of the strings and frets of the neck; dots and numerals need a little more."""
        height = 128.0 if self.clocked else min(160.0, max(128.0, _NECK_OF_SEEN * self.seen))
        bottom = min(self.sentence_baseline - 46, self.music_top + self.seen)
        return LEFT, bottom - height, self.music_right - LEFT, height

    @property
    def music_top(self) -> float:
        """Where the room of the music begins."""
        return _MUSIC_TOP + (_SECOND_LINE if self.two_lines else 0)

    @property
    def music_bottom(self) -> float:
        """Where the room of the music ends."""
        if self.neck:
            return self.neck_room[1] - 24
        bottom = self.words_baseline - 28 if self.ruled else self.sentence_baseline - 32
        return min(bottom, self.music_top + self.seen)

    @property
    def ladder_room(self) -> LadderRoom:
        """The rails of the ladder."""
        return LadderRoom(self.width - 186, 126, self.height - 164)

    @property
    def column_left(self) -> float:
        """Where the column at the right begins; a line stands before it."""
        return self.width - 368

    @property
    def column_bottom(self) -> float:
        """Where the column ends, above the keys."""
        return self.keys_middle - 24
