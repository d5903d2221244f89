"""The Score: what the page shows, bar by bar. Order of play is made from it in `game.music.order`.

All times are exact fractions of a quarter note. Pitches are as written on the page; `Reading` says how the page and
the sound are related.
"""

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from game.message import Message
from game.music.chords import ChordSymbol
from game.music.clef import Clef
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import Pitch


class Reading(Enum):
    """How a written note is read: in which clef, and how far below the page it sounds.

    Guitar and bass guitar sound an octave below the page (trade), at concert pitch the sound is what is written.
    """

    GUITAR = "guitar"
    CONCERT = "concert"
    BASS = "bass"
    CONCERT_BASS = "concert-bass"

    @property
    def octaves_down(self) -> int:
        """Octaves from the page down to the sound."""
        return 1 if self in (Reading.GUITAR, Reading.BASS) else 0

    @property
    def clef(self) -> Clef:
        """The clef of the page."""
        return Clef.BASS if self in (Reading.BASS, Reading.CONCERT_BASS) else Clef.TREBLE


@dataclass(frozen=True, slots=True, kw_only=True)
class Tuplet:
    """`actual` notes in the time of `normal`; `starts` and `stops` mark the ends of the bracket."""

    actual: int
    normal: int
    starts: bool = False
    stops: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class NoteValue:
    """The printed note value. `base` is in quarter notes, a power of two from 1/32 (a 128th) to 8 (a breve)."""

    base: Fraction
    dots: int = 0
    tuplet: Tuplet | None = None

    @property
    def length(self) -> Fraction:
        """What the printed value comes to, in quarter notes."""
        length = self.base * (2 - Fraction(1, 2**self.dots))
        return length * self.tuplet.normal / self.tuplet.actual if self.tuplet else length


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """One notehead on the page.

    `onset` counts from the start of the bar; `length` is what it takes up (0 for a grace note), normally that of
    `value`. A tie joins it to the notehead of the same pitch that follows or precedes, also over the bar line.
    """

    onset: Fraction
    length: Fraction
    value: NoteValue
    pitch: Pitch
    tied_to_next: bool = False
    tied_from_previous: bool = False
    grace: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Rest:
    """A rest. `whole_bar` draws the centred bar rest, whatever the metre."""

    onset: Fraction
    length: Fraction
    value: NoteValue
    whole_bar: bool = False


Event = Note | Rest


class Jump(Enum):
    """Where a D.C. or D.S. goes back to."""

    DA_CAPO = "da capo"
    DAL_SEGNO = "dal segno"


class Until(Enum):
    """How far a jump's own words say to play: "al Fine", "al Coda"."""

    FINE = "fine"
    CODA = "coda"


class BarLine(Enum):
    """A bar line other than the plain one and those of repeat signs; the values are MusicXML 4.0's `bar-style`."""

    DOUBLE = "light-light"
    FINAL = "light-heavy"
    HEAVY = "heavy"
    DASHED = "dashed"
    DOTTED = "dotted"


class OrderDoubt(Enum):
    """Signs that can be read in two ways, and how they are read; the other way is the player's to choose."""

    SHORT_BRACKET = "short bracket"
    """A bracket that stops before its repeat sign reaches to the sign."""
    FAR_SIGN = "far sign"
    """A repeat sign far behind a first ending, with no second behind it, is not the bracket's own."""
    LAST_BRACKET = "last bracket"
    """A repeat sign behind a last ending belongs to it, or closes a section of its own: by the endings' lengths."""
    NO_SIGN = "no sign"
    """Where a bracket has no repeat sign the next bracket says that the player goes back."""
    LONE_BRACKET = "lone bracket"
    """A first ending that has neither sign nor second is played straight on."""
    SAME_NUMBER = "same number"
    """Of two brackets with one number the second is for the time after."""
    GAP = "gap"
    """A time through that no bracket is for is played by the bracket before."""
    DIVISION = "division"
    """A repeat sign without an opening one goes back to the last double bar line or section."""
    OVER_DIVISION = "over division"
    """It goes back over one that stands close before it, or behind Fine."""
    REPEAT_AND_JUMP = "repeat and jump"
    """A repeat sign and a jump in one bar that lead to one place are both obeyed."""
    FINE_ALONE = "fine alone"
    """Without a jump, Fine ends the last time through the last repeat."""
    TO_CODA_ALONE = "to coda alone"
    """Without a jump, To Coda acts the last time through its repeat."""
    FINE_IN_ENDING = "fine in ending"
    """After a jump the ending is played that holds Fine, or To Coda."""
    EARLY_JUMP = "early jump"
    """A jump a few bars before the coda is taken when these bars are played."""
    BARS_BEHIND_JUMP = "bars behind jump"
    """A few bars behind the last jump are never played."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BarMarks:
    """Signs that steer the order of play, and those that show how the page is divided.

    `repeat_end` is 0, or how often the section is played in all (2 for a plain sign). `endings` are the numbers of
    the bracket this bar stands under. `to_coda`, `jump` and `fine` act at the end of the bar, `segno` and `coda`
    mark its start. `until` is what the jump says in words; None obeys whichever of Fine and To Coda comes first.
    `read_otherwise` are the doubts about signs of this bar in which the player chose the other reading.

    As printed: `jump_words` are the jump's own words ("D.S. al 2nd ending"), "" where the page has none of its own;
    `bar_line` is the one at the end of the bar, None for a plain one and where a repeat sign stands; `section` is the
    word or letter above the start of the bar ("A", "Chorus").
    """

    repeat_start: bool = False
    repeat_end: int = 0
    endings: tuple[int, ...] = ()
    ending_starts: bool = False
    ending_stops: bool = False
    segno: bool = False
    coda: bool = False
    to_coda: bool = False
    fine: bool = False
    jump: Jump | None = None
    until: Until | None = None
    read_otherwise: tuple[OrderDoubt, ...] = ()
    jump_words: str = ""
    bar_line: BarLine | None = None
    section: str = ""

    @property
    def divides(self) -> bool:
        """Whether what stands at the end of the bar shows that a section of the tune is over."""
        return self.bar_line in (BarLine.DOUBLE, BarLine.FINAL, BarLine.HEAVY)


NO_MARKS = BarMarks()


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One bar of the page. `number` is as printed; `length` is what the bar really holds, shorter in a pickup bar."""

    number: str
    meter: Meter
    key: Key
    length: Fraction
    events: tuple[Event, ...]
    chords: tuple[ChordSymbol, ...] = ()
    marks: BarMarks = NO_MARKS
    pickup: bool = False

    @property
    def notes(self) -> tuple[Note, ...]:
        """The noteheads, graces too, without the rests."""
        return tuple(event for event in self.events if isinstance(event, Note))


@dataclass(frozen=True, slots=True, kw_only=True)
class Score:
    """A tune as its page shows it, one melodic line.

    `file_format` is "musicxml", "abc" or "midi". `octave_reason` says in one sentence how the octave was settled, None
    where nothing was; `sound_fixed` that the file settles which pitches sound, not only what the page shows. `warnings`
    say what was left out or guessed. `swung` is what the page asks for, None when it says nothing. `feel` are its
    words of tempo and feel as printed at its head ("Medium bossa"), "" for none.
    """

    title: str
    reading: Reading
    bars: tuple[Bar, ...]
    file_format: str = "musicxml"
    composer: str = ""
    part: str = ""
    octave_reason: Message | None = None
    sound_fixed: bool = False
    swung: bool | None = None
    feel: str = ""
    warnings: tuple[Message, ...] = ()
