"""A take that was cut short, judged from what the log holds of it, as it would have been judged at its end."""

from datetime import datetime

from game.coach.stages import Pulse
from game.instrument.decoding.played import PlayedNote
from game.judging.free import judge_free
from game.judging.letters import NamedNote, begin_naming, confirm_name, finish_naming, give_name, reveal_name
from game.judging.octave import lowered, octaves_above
from game.judging.timed import judge_timed
from game.judging.timed_verdict import TimedRules
from game.judging.tolerance import timed_grid
from game.judging.untimed import HintStep, UntimedRules, begin, finish, hear, hint
from game.judging.verdicts import Judgement, NoteVerdict, Verdict
from game.judging.version import JUDGE_VERSION
from game.practice_log.rows.log_records import HelpGiven, Outcome, RawTake, TakeBegun, TakeEnded


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


def judged_again(begun: TakeBegun, raw: RawTake) -> Judgement:
    """The judgement of what was played, times counted from the take's time 0. What was not reached is unread.

    Notes without places are taken in the octave that most of the first ones were played in.
    """
    if not raw.played:
        return Judgement(verdicts=tuple(NoteVerdict(n=note.n, verdict=Verdict.UNREAD) for note in begun.asked.notes))
    played = _in_octave(begun, raw.played)
    terms = begun.terms
    if not terms.stage.rhythm_counts:
        return _untimed(begun, played, raw.helped)
    rules = TimedRules(
        pitch_counts=terms.pitch_counts,
        hinted=frozenset(given.n for given in raw.helped),
        graces=begun.asked.graces,
        # Nobody knows when the program was killed; what was due after the last sign of life is not held against them.
        ended_s=max(note.started_s for note in played),
    )
    if terms.pulse is Pulse.FREE or terms.tempo_bpm is None:
        return judge_free(begun.asked.notes, played, rules, spans=begun.asked.spans).judgement
    grid = timed_grid(
        [note.note for note in begun.asked.notes],
        tempo_bpm=terms.tempo_bpm * float(terms.beat_length),
        spans=begun.asked.spans,
        swing=terms.swing,
        window_ms=terms.window_ms,
    )
    return judge_timed(begun.asked.notes, played, grid, rules)


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
    if any(note.place is not None for note in played):
        return played
    asked = [note.sounding for note in begun.asked.notes]
    return lowered(played, octaves_above(asked, [note.sounding for note in played]))
