"""A song: a form with units that come back, their rhythm, a melody over plain chords, and the chords that fit it."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import pairwise
from random import Random

from game.lines.accidentals_in_songs import TuneNote, with_accidentals
from game.lines.degree_chords import Chord
from game.lines.footing import place_of
from game.lines.form import Unit, phrases_of, song_form
from game.lines.harmonizing import Heard, harmonized
from game.lines.line_request import LineRequest
from game.lines.line_weights import Idiom
from game.lines.manners import SONG_MANNERS
from game.lines.notating import bars_of
from game.lines.plain_chords import chords_by_degree, plain_chords
from game.lines.returns import returns_in
from game.lines.rhythms import HALF, QUARTER, ticks_of
from game.lines.song_footings import song_footings, song_rules
from game.lines.song_plan import SongPlan
from game.lines.song_rhythm import SongHabits, song_onsets
from game.lines.spots import spots_of
from game.lines.walk import walk
from game.music.chords import ChordSymbol
from game.music.score import Bar

# So many bars running with the same notes are too many, and so many times the same note; so often another song is made.
_SAME_BARS, _SAME_NOTES, _TRIES = 3, 6, 8
_THIRD = 2
# How often a note before two beats of silence and more is no longer than its own beat.
_SHORT = 0.1


def tune(request: LineRequest, rng: Random) -> tuple[Bar, ...]:
    """The bars of a song, a pickup bar first where it has one: not the same bar three times running, and something in
    it of what its level is about, as far as that can be had.
    """
    for _ in range(_TRIES):
        bars = _tune(request, rng)
        if not is_stuck(bars) and has_its_own(bars, request):
            break
    return bars


def is_stuck(bars: Sequence[Bar]) -> bool:
    """Whether three bars running have the same notes, or a note comes six times running."""
    rows = [bar.events for bar in bars]
    if any(row == rows[at - 1] == rows[at - 2] for at, row in enumerate(rows) if at + 1 >= _SAME_BARS):
        return True
    struck = [note.pitch.midi for bar in bars for note in bar.notes if not note.tied_from_previous]
    return any(len(set(struck[at : at + _SAME_NOTES])) == 1 for at in range(len(struck) - _SAME_NOTES + 1))


def has_its_own(bars: Sequence[Bar], request: LineRequest) -> bool:
    """Whether a song of a level with leaps has a leap, and one of a level with accidentals an accidental."""
    pitches = [note.pitch for bar in bars for note in bar.notes]
    leaps = any(abs(after.staff_step - before.staff_step) > _THIRD for before, after in pairwise(pitches))
    key = request.scale.key
    altered = any(pitch.alter != key.alter_of(pitch.step) for pitch in pitches)
    return (leaps or request.level.leap <= _THIRD) and (altered or not request.level.chromatic)


def _tune(request: LineRequest, rng: Random) -> tuple[Bar, ...]:
    plan = _planned(request, rng)
    line = walk(song_footings(plan, rng), song_rules(plan, rng), returns_in(plan, rng), rng)
    chords = _chords_under(plan, line)
    by_midi = {pitch.midi: pitch for pitch in request.scale.pitches}
    span = _span_ticks(request)
    notes = [
        TuneNote(spot, by_midi[midi], chords[max(0, spot.onset) // span])
        for spot, midi in zip(plan.struck, line, strict=True)
    ]
    pitches = iter(with_accidentals(request, notes, rng))
    placed = [(spot, None if spot.rest else next(pitches)) for spot in plan.spots]
    return bars_of(placed, request.meter, request.scale.key, _symbols(chords, request))


def _planned(request: LineRequest, rng: Random) -> SongPlan:
    manner = SONG_MANNERS[request.level.number]
    idiom = Idiom.LEAD if rng.random() < manner.lead else Idiom.FOLK
    units = song_form(request.bars, manner.returns, rng)
    habits = SongHabits(
        rhythm=request.rhythm, idiom=idiom, meter=request.meter, bar_again=manner.bar_again, dense=manner.dense
    )
    onsets = song_onsets(units, habits, rng)
    end = request.bars * ticks_of(request.meter)
    flat = [onset for unit in onsets for onset in unit]
    spots = spots_of(flat, end, request.rhythm, request.meter, rng, short=_SHORT)
    chords = plain_chords(request.level, request.scale, phrases_of(request.bars), rng)
    return SongPlan(request, manner, idiom, units, tuple(onsets), tuple(spots), _alike(units, chords))


def _alike(units: Sequence[Unit], chords: Sequence[Chord]) -> tuple[Chord, ...]:
    """The chords, those of a unit that comes back as they were the first time; the very last one stays."""
    found = list(chords)
    firsts: dict[str, Unit] = {}
    for unit in units:
        first = firsts.setdefault(unit.letter, unit)
        kept = unit.bars - 1 if unit.ends_song else unit.bars
        found[unit.start : unit.start + kept] = found[first.start : first.start + kept]
    return tuple(found)


def _span_ticks(request: LineRequest) -> int:
    """How long a chord lasts at least, in ticks: half a bar where that has two beats, else a bar."""
    length = ticks_of(request.meter)
    return HALF if length % (2 * HALF) == 0 and not request.meter.compound else length


def _chords_under(plan: SongPlan, line: Sequence[int]) -> tuple[Chord, ...]:
    request = plan.request
    span, length = _span_ticks(request), ticks_of(request.meter)
    heard: list[list[Heard]] = [[] for _ in range(request.bars * length // span)]
    for spot, midi in zip(plan.struck, line, strict=True):
        if spot.onset >= 0:
            heard[spot.onset // span].append(Heard(midi % 12, place_of(spot.onset, request.meter)))
    inside = [at * span % length > 0 for at in range(len(heard))]
    return harmonized(heard, inside, chords_by_degree(request.level, request.scale))


def _symbols(chords: Sequence[Chord], request: LineRequest) -> list[tuple[ChordSymbol, ...]]:
    """The chord symbols of each bar: at its beginning, and where the chord changes inside."""
    span = _span_ticks(request)
    each = ticks_of(request.meter) // span
    rows = [chords[bar * each : (bar + 1) * each] for bar in range(request.bars)]
    return [
        tuple(
            chord.symbol(Fraction(at * span, QUARTER))
            for at, chord in enumerate(row) if at == 0 or chord != row[at - 1]
        )
        for row in rows
    ]  # fmt: skip
