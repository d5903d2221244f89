"""Takes that an older judge judged, with what it made of players who ran ahead of the click: wrong notes."""

from dataclasses import replace
from datetime import timedelta

from game.coach.stages import Pulse, Stage
from game.instrument.decoding.played import PlayedNote
from game.judging.verdicts import Cause, Judgement, NoteVerdict, Verdict
from game.practice_log.rows.judgement_rows import put_ending
from game.practice_log.rows.log_records import Outcome, Terms
from game.practice_log.rows.played_rows import put_played
from game.practice_log.rows.take_rows import put_take
from tests.made import passage
from tests.practice_log.logged_takes import DEVICE, MORNING, begun, ended

OLD_JUDGE = 1
LINE = passage(*("F4 e, G4 e, A4 e, G4 e, C5 e, A4 e, G4 e, F4 e",) * 8, key=-1)
ON_THE_CLICK = Terms(stage=Stage.TIME, pulse=Pulse.METRONOME, tempo_bpm=80.0)


def in_time_take(minutes=0, terms=ON_THE_CLICK, tune=LINE):
    return begun(terms, minutes=minutes, tune=tune)


def played_by(take, *, faster=0.0, count=None, wrong=()):
    """Every note at its home, ahead of the click by a share; those numbered `wrong` a fret too high."""
    beat_s = 60.0 / (take.terms.tempo_bpm or 80.0)
    return tuple(
        PlayedNote(
            started_s=round(float(note.note.onset) * beat_s * (1 - faster), 6),
            sounding=note.sounding + (note.n in wrong),
            place=replace(note.home.place, fret=note.home.place.fret + (note.n in wrong)),
            source="pickup",
        )
        for note in take.asked.notes[:count]
    )


def old_judgement(take, played, *, every=3):
    """What the old judge said: one note in `every` was wrong, though all of them were right."""
    verdicts = []
    for index, note in enumerate(take.asked.notes):
        if index >= len(played):
            verdicts.append(NoteVerdict(n=note.n, verdict=Verdict.UNREAD))
            continue
        right = bool(index % every)
        verdicts.append(
            NoteVerdict(
                n=note.n,
                verdict=Verdict.CLEAN if right else Verdict.WRONG_PITCH,
                answers=(played[index],),
                cause=None if right else Cause.UNKNOWN,
                offset_ms=10.0,
            )
        )
    return Judgement(verdicts=tuple(verdicts))


def put_judged(log, take, played, judgement, *, judge=OLD_JUDGE, device=DEVICE, minutes=1, outcome=Outcome.FINISHED):
    """A take with its judgement; returns its number."""
    number = put_take(log, take, device)
    for note in played:
        put_played(log, number, note)
    at = take.started_at - MORNING + timedelta(minutes=minutes)
    told = replace(ended(judgement, outcome=outcome), judge=judge, ended_at=MORNING + at)
    put_ending(log, number, told, device)
    return number


def put_rushed(log, minutes=0, **how):
    """A take of a player 3 % ahead of the click, all right, and what the old judge said of it; returns its number."""
    take = in_time_take(minutes)
    played = played_by(take, faster=0.03)
    return put_judged(log, take, played, old_judgement(take, played), **how)
