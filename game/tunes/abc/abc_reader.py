"""One voice of an ABC tune read sign by sign into bars: lengths, accidentals, ties, tuplets, broken rhythm,
repeats, chord symbols, changes of key and metre (ABC 2.1).

An accidental holds for its letter in every octave until the bar line, as in ABC 2.1 by default (and in abc2midi),
unless the file asks otherwise (`%%propagate-accidentals`); our page shows at each note what it needs. A line of text
that ends on a full bar ends the bar (many collections leave that bar line out).
"""

import re
from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from game.errors import TuneError
from game.message import Message, message
from game.music.chords import ChordSymbol
from game.music.keys import Key
from game.music.meter import Meter
from game.music.pitch import MAX_ALTER, Pitch
from game.music.score import Tuplet
from game.text.clean_text import cleaned
from game.tunes.abc.abc_bars import AbcEvent, BarBuilder, OpenBar
from game.tunes.abc.abc_fields import KeyField, default_length, key_of, meter_of, tuplet_ratio, unit_length_of
from game.tunes.abc.abc_text import AbcTune, AbcVoice, body_field
from game.tunes.abc.abc_tokens import (
    BarLineToken,
    BrokenRhythmToken,
    ChordToken,
    DecorationToken,
    FieldToken,
    GraceToken,
    NoteToken,
    OtherToken,
    RestToken,
    TextToken,
    Token,
    TupletToken,
    tokens_of,
)  # fmt: skip
from game.tunes.abc.chord_text import chord_of
from game.tunes.left_out import LeftOut, bars_listed
from game.tunes.limits import MAX_BARS, MAX_SIGNS
from game.tunes.musicxml.order_words import is_instruction, with_instruction
from game.tunes.section_words import LONGEST_SECTION, section_in

_NO_CHORD = ("N.C.", "NC", "N.C")
_PLACES_OF_WORDS = "^_<>@"
# "D.C.alfine" is how ABC 2.1 spells it.
_JOINED_GOAL = re.compile(r"al(fine|coda)$", re.IGNORECASE)
_MOST_CHORDS_A_BAR = 32
_MOST_DOTS = 3


class VoiceReader:
    """Walks the signs of a voice with key, metre and unit length in force, counting what it leaves out."""

    def __init__(self, tune: AbcTune, voice: AbcVoice, name: str, octaves: int) -> None:
        self._name = name
        self._octaves = octaves
        self._left_out = LeftOut()
        self._key = key_of(tune.field("K")) or KeyField(Key())
        header = message("abc.header", file=name)
        meter = meter_of(tune.field("M"), header) if tune.field("M") else None
        unit = tune.field("L")
        self._unit = unit_length_of(unit, header) if unit else default_length(meter)
        self._meter = meter or Meter()
        self.meter_named = meter is not None
        self._bars = BarBuilder(name, self._key.key, self._meter)
        self._propagate = next(
            (value.split()[-1] for letter, value in tune.header if letter == "%%" and "propagate-acc" in value), "pitch"
        )
        self._in_bar: dict[tuple[str, int], int] = {}
        self._next_factor = Fraction(1)
        self._tuplet: tuple[Tuplet, int] | None = None
        self._tie: AbcEvent | None = None
        self._tied_back: AbcEvent | None = None
        self._before_endings: AbcEvent | None = None
        self._tied_into_ending = False
        self._overlaid = False
        self._overlay_over_bars = False
        self._line = self._signs = 0
        self._voice = voice
        if not self._key.usual:
            self._leave_out("tune.odd_key_at_notes")

    def bars(self) -> list[OpenBar]:
        """Read the voice. Raises `TuneError` with the number of the line."""
        for number, line in self._voice.lines:
            self._line = number
            field = body_field(line)
            if field:
                self._field(*field)
            elif not line.startswith("%%"):
                self._read_line(line, number)
        bars = self._bars.finish()
        self._break_tie()
        return bars

    def warnings(self) -> tuple[Message, ...]:
        """What was left out or guessed, one sentence each, with bars counted from 1 as whole numbers."""
        return self._left_out.warnings(bars_listed)

    def _leave_out(self, key: str) -> None:
        self._left_out.add(key, len(self._bars.bars) + 1)

    def _read_line(self, line: str, number: int) -> None:
        try:
            for sign in tokens_of(line, number):
                self._take(sign)
        except TuneError as fault:
            if dict(fault.message.values).get("file") == self._name:
                raise
            raise TuneError("abc.line_fault", file=self._name, fault=fault) from fault
        if self._bars.open.length == self._bars.open.meter.bar_length and self._bars.open.started:
            # Our bar ends; accidentals hold on, for the text has no bar line.
            self._bar_line(BarLineToken("", ""))

    def _take(self, sign: Token) -> None:  # noqa: C901, PLR0912 - one line a kind of sign
        self._signs += 1
        if self._signs > MAX_SIGNS:
            raise TuneError("abc.too_many_signs", file=self._name, limit=MAX_SIGNS)
        if self._overlaid and not self._ends_overlay(sign):
            return
        match sign:
            case BarLineToken():
                self._bar_line(sign)
            case FieldToken(letter, value):
                self._field(letter, value)
            case NoteToken():
                self._sound(sign)
            case ChordToken():
                self._chord(sign)
            case RestToken():
                self._silence(sign)
            case GraceToken(notes):
                self._graces(notes)
            case TupletToken():
                self._begin_tuplet(sign)
            case BrokenRhythmToken(count):
                self._break_rhythm(count)
            case TextToken(text):
                self._words(text)
            case DecorationToken(name):
                self._decorate(name)
            case OtherToken():
                self._other(sign)

    def _ends_overlay(self, sign: Token) -> bool:
        """Whether this sign is heeded while a second voice is passed over: the bar line ends it, or the sign for that
        where it goes on over several bars.
        """
        if self._overlay_over_bars:
            return sign == OtherToken("&)")
        return isinstance(sign, BarLineToken | FieldToken)

    def _other(self, sign: OtherToken) -> None:
        if sign.sign in {"(&", "&)"}:
            self._overlay_over_bars = sign.sign == "(&"
            self._overlaid = False
        elif sign.sign == "&":
            self._overlaid = True
            self._leave_out("tune.voice_over")
        elif sign.sign == "-" and self._bars.open.events:
            # A tie written apart from its note; after grace notes it is a slur.
            last = self._bars.open.events[-1]
            if last.pitch and not last.grace:
                self._tie = last
                last.tied_to_next = True

    def _bar_line(self, sign: BarLineToken) -> None:
        self._bars.close_bar(self._key.key, self._meter)
        if sign.text.startswith(":"):
            self._tie_back()
        self._bars.add_bar_line(sign.text, sign.ending, dotted=sign.dotted)
        if sign.ending:
            self._tie_into_ending(first=sign.ending.startswith("1"))
        self._overlaid = False
        if sign.text:
            # An ending may begin in the middle of a bar: then accidentals still hold.
            self._in_bar = {}

    def _tie_back(self) -> None:
        """A tie over a closing repeat sign leads to the beginning of what is repeated; out of an ending only there."""
        first = self._bars.first_of_section()
        if self._tie is None or first is None or first.pitch != self._tie.pitch:
            return
        first.tied_from_previous = True
        self._tied_back = self._tie
        if self._bars.in_ending:
            self._tie = None

    def _tie_into_ending(self, *, first: bool) -> None:
        """A tie that stands open where the endings begin leads into each of them, and none out of one into the next."""
        if first:
            self._before_endings, self._tied_into_ending = self._tie, False
        elif self._before_endings is not None:
            self._break_tie()
            self._tie = self._before_endings

    def _field(self, letter: str, value: str) -> None:
        where = message("abc.line", file=self._name, line=self._line)
        if letter == "K":
            self._key = key_of(value) or self._key
            self._in_bar = {}
        elif letter == "M":
            meter = meter_of(value, where)
            if meter is None:
                self._leave_out("tune.without_metre")
            self._meter = meter or self._meter
            self.meter_named = self.meter_named or meter is not None
        elif letter == "L":
            self._unit = unit_length_of(value, where)
        elif letter == "P":
            self._begin_part(cleaned(value, 40))
        elif letter == "I" and "propagate-acc" in value:
            self._propagate = value.rsplit(maxsplit=1)[-1]
        if letter in "KM":
            self._bars.set_signatures(self._key.key, self._meter)

    def _begin_part(self, label: str) -> None:
        self._bars.close_bar(self._key.key, self._meter)
        self._bars.open.part = label
        self._name_section(label)

    def _name_section(self, name: str) -> None:
        if name and not is_instruction(name):
            self._bars.begin_section(name[:LONGEST_SECTION])

    def _sound(self, note: NoteToken) -> None:
        pitch = self._pitch(note)
        event = self._event(note.length, pitch)
        if event is None:
            return
        tie = self._tie
        if tie is not None:
            if tie.pitch == pitch:
                event.tied_from_previous = tie.tied_to_next = True
                self._tied_into_ending |= tie is self._before_endings
            elif not self._has_other_end(tie):
                tie.tied_to_next = False
        event.tied_to_next = note.tied
        self._tie = event if note.tied else None

    def _chord(self, chord: ChordToken) -> None:
        self._leave_out("tune.top_note_of_chords")
        pitches = [(self._pitch(note), note) for note in chord.notes]
        _, top = max(pitches, key=lambda pair: pair[0].midi)
        for text in chord.texts:
            self._words(text)
        self._sound(top)

    def _silence(self, silence: RestToken) -> None:
        self._break_tie()
        if not silence.bars:
            self._event(silence.length, None)
            return
        if silence.bars > MAX_BARS:
            raise TuneError("abc.rest_too_long", line=self._line, count=silence.bars, limit=MAX_BARS)
        for index in range(silence.bars):
            if index:
                self._bar_line(BarLineToken("|", ""))
            self._bars.add(AbcEvent(self._bars.open.meter.bar_length, None))

    def _graces(self, notes: Iterable[NoteToken]) -> None:
        for note in notes:
            self._bars.add(AbcEvent(Fraction(1, 2), self._pitch(note), grace=True))

    def _event(self, units: Fraction, pitch: Pitch | None) -> AbcEvent | None:
        event = AbcEvent(units * self._unit * self._next_factor, pitch)
        self._next_factor = Fraction(1)
        if self._tuplet is not None:
            ratio, left = self._tuplet
            event.tuplet = replace(ratio, stops=left == 1)
            self._tuplet = (replace(ratio, starts=False), left - 1) if left > 1 else None
        self._bars.add(event)
        return event

    def _pitch(self, note: NoteToken) -> Pitch:
        octave = note.octave + self._octaves
        where = (note.step, 0 if self._propagate.startswith("pitch") else octave)
        alter = note.alter
        if alter is not None:
            if not self._propagate.startswith("not"):
                self._in_bar[where] = alter
        elif where in self._in_bar:
            alter = self._in_bar[where]
        elif self._tie and self._tie.pitch and (self._tie.pitch.step, self._tie.pitch.octave) == (note.step, octave):
            # A tie carries an accidental over the bar line.
            alter = self._tie.pitch.alter
        else:
            alter = self._key.alter_of(note.step)
        return Pitch(note.step, max(-MAX_ALTER, min(MAX_ALTER, alter)), max(0, min(9, octave)))

    def _begin_tuplet(self, sign: TupletToken) -> None:
        if sign.covers:
            normal = tuplet_ratio(sign.actual, sign.normal, self._meter)
            self._tuplet = Tuplet(actual=sign.actual, normal=normal, starts=True), sign.covers

    def _break_rhythm(self, count: int) -> None:
        """`a>b`: the first half as long again, the second half as long; `>>` a quarter, and so on."""
        short = Fraction(1, 2 ** min(abs(count), _MOST_DOTS))
        before, after = (2 - short, short) if count > 0 else (short, 2 - short)
        last = next((event for event in reversed(self._bars.open.events) if not event.grace), None)
        if last is not None:
            last.printed *= before
            self._next_factor = after

    def _words(self, text: str) -> None:
        bar = self._bars.open
        plain = cleaned(text, 60)
        if not plain.startswith(tuple(_PLACES_OF_WORDS)):
            chord = chord_of(plain, Fraction(0))
            if chord:
                self._take_chord(chord)
                return
        words = plain.lstrip(_PLACES_OF_WORDS)
        if words in _NO_CHORD:
            self._take_chord(ChordSymbol(onset=Fraction(0), root="", kind="none", text="N.C."))
        bar.marks = with_instruction(bar.marks, words)
        self._name_section(section_in(words, letters_too=words != plain and not bar.started))

    def _take_chord(self, chord: ChordSymbol) -> None:
        bar = self._bars.open
        if bar.chords and all(event.grace for event in bar.events[bar.chords[-1][0] :]):
            self._leave_out("tune.chords_shared")
        if len(bar.chords) < _MOST_CHORDS_A_BAR:
            bar.chords.append((len(bar.events), chord))

    def _decorate(self, name: str) -> None:
        bar = self._bars.open
        plain = name.lower()
        if plain == "coda":
            bar.bare_coda = True
        elif plain == "dacoda":
            bar.marks = replace(bar.marks, to_coda=True)
        else:
            words = _JOINED_GOAL.sub(r" al \1", "D.C." if plain == "dacapo" else name)
            bar.marks = with_instruction(bar.marks, words)

    def _break_tie(self) -> None:
        if self._tie is not None:
            self._tie.tied_to_next = self._has_other_end(self._tie)
            self._tie = None

    def _has_other_end(self, tie: AbcEvent) -> bool:
        """Whether a tie leads somewhere already: back to a beginning, or into an ending."""
        return tie is self._tied_back or (self._tied_into_ending and tie is self._before_endings)
