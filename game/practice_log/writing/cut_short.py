"""A take judged from what the log holds of it, as it would have been judged at its end: one that was cut short, or one
of long ago by a judge of today.
"""

from dataclasses import replace
from datetime import datetime
from fractions import Fraction

from game.coach.stages import Pulse
from game.instrument.decoding.played import PlayedNote
from game.instrument.sources.note_sources import PlayedOn
from game.judging.expected import ExpectedNote
from game.judging.free import judge_free
from game.judging.letters import NamedNote, begin_naming, confirm_name, finish_naming, give_name, reveal_name
from game.judging.octave import lowered, octaves_above
from game.judging.timed import judge_timed
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import TimedGrid, timed_grid
from game.judging.untimed import HintStep, UntimedRules, begin, finish, hear, hint
from game.judging.verdicts import Judgement, NoteVerdict, Verdict
from game.judging.version import JUDGE_VERSION
from game.practice_log.rows.log_records import HelpGiven, Outcome, RawTake, TakeBegun, TakeEnded

_BEFORE_S = 1e-6


def ending_of(begun: TakeBegun, raw: RawTake, *, ended_at: datetime) -> TakeEnded:
    """The ending for a take that was cut short: give it to `reopen_take(...).end`."""
    letters = begun.terms.stage.named
    return TakeEnded(
        ended_at=ended_at,
        outcome=Outcome.CUT_SHORT,
        judge=JUDGE_VERSION,
        judgement=None if letters else judged_again(begun, raw),
        named=named_again(begun, raw) if letters else (),
    )


def judged_again(begun: TakeBegun, raw: RawTake, *, upto: int | None = None) -> Judgement:
    """The judgement of what was played, times counted from the take's time 0. What was not reached is unread: the notes
    after `upto`, where it is known how many the take came to.

    Notes without places are taken in the octave that most of the first ones were played in; those of a guitar that was
    heard are where they sounded.
    """
    if not raw.played:
        return Judgement(verdicts=tuple(NoteVerdict(n=note.n, verdict=Verdict.UNREAD) for note in begun.asked.notes))
    played = _in_octave(begun, raw.played)
    terms = begun.terms
    if not in_rhythm(begun):
        return _untimed(begun, played, raw.helped)
    rules = TimedRules(
        pitch_counts=terms.pitch_counts,
        hinted=frozenset(given.n for given in raw.helped),
        graces=begun.asked.graces,
    )
    # Nobody knows when the program was killed; what was due after the last sign of life is not held against them.
    last_s = max(note.started_s for note in played)
    if terms.pulse is Pulse.FREE or terms.tempo_bpm is None:
        rules = replace(rules, ended_s=None if upto == len(begun.asked.notes) else last_s)
        return judge_free(begun.asked.notes, played, rules, spans=begun.asked.spans).judgement
    notes, grid = _on_the_click(begun, terms.tempo_bpm)
    if upto is None:
        rules = replace(rules, ended_s=last_s)
    elif upto < len(notes):
        rules = replace(rules, ended_s=max(last_s, grid.onsets_s[upto] - _BEFORE_S))
    return judge_timed(notes, played, grid, rules)


def in_rhythm(begun: TakeBegun) -> bool:
    """Whether it was judged when each note came: always in some stages, in others where each note had a click."""
    return begun.terms.stage.rhythm_counts or begun.terms.pulse is Pulse.METRONOME


def _on_the_click(begun: TakeBegun, tempo_bpm: float) -> tuple[tuple[ExpectedNote, ...], TimedGrid]:
    """When each note was due. Where the rhythm does not count each written note had a click of its own."""
    terms, notes = begun.terms, begun.asked.notes
    if not terms.stage.rhythm_counts:
        even = tuple(
            replace(note, note=replace(note.note, onset=Fraction(index), length=Fraction(1)))
            for index, note in enumerate(notes)
        )
        return even, timed_grid([note.note for note in even], tempo_bpm=tempo_bpm, spans=())
    grid = timed_grid(
        [note.note for note in notes],
        tempo_bpm=tempo_bpm * float(terms.beat_length),
        spans=begun.asked.spans,
        swing=terms.swing,
        window_ms=terms.window_ms,
    )
    return notes, grid


def named_again(begun: TakeBegun, raw: RawTake) -> tuple[NamedNote, ...]:
    """The notes of a `letters` take with the names given so far; those not reached are unread."""
    take = begin_naming([note.note for note in begun.asked.notes], now_s=0.0)
    revealed = {given.n for given in raw.helped}
    for given in raw.names:
        if take.asked and take.asked.n in revealed:
            take = reveal_name(take)
        if given.name is not None:
            take, _ = give_name(take, given.name, now_s=given.at_s)
        else:
            take = reveal_name(take)
            take, _ = confirm_name(take, said_right=bool(given.said_right), now_s=given.at_s)
    return finish_naming(take)


def _untimed(begun: TakeBegun, played: tuple[PlayedNote, ...], helped: tuple[HelpGiven, ...]) -> Judgement:
    """The take gone through once more, help and notes in the order of their times."""
    rules = UntimedRules(waits=begun.terms.waits, wants_home=begun.terms.wants_home)
    take = begin(begun.asked.notes, now_s=0.0, rules=rules)
    steps: list[tuple[float, HintStep | PlayedNote]] = [(given.at_s, given.step) for given in helped]
    steps += [(note.started_s, note) for note in played]
    for _, step in sorted(steps, key=lambda step: step[0]):
        if isinstance(step, PlayedNote):
            take, _ = hear(take, step)
        else:
            take = hint(take, step)
    return finish(take)


def _in_octave(begun: TakeBegun, played: tuple[PlayedNote, ...]) -> tuple[PlayedNote, ...]:
    if begun.instrument.kind is PlayedOn.HEARD or any(note.place is not None for note in played):
        return played
    asked = [note.sounding for note in begun.asked.notes]
    return lowered(played, octaves_above(asked, [note.sounding for note in played]))
