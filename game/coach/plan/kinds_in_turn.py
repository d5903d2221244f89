"""Which kind of music a new tune is to be: songs and lead sheets in turn, a study once its lead sheet was begun. Pure.

Who learns to read wants to read a lead sheet. Who begins has songs first, for the notes' sake, and from some evening of
the second week on a lead sheet as soon as one is within reach; after that they alternate.
"""

from enum import IntEnum

from game.coach.numbers import NUMBERS, CoachNumbers
from game.coach.plan.plan_steps import Situation, UnseenTune
from game.music.tune_kind import TuneKind


class Turn(IntEnum):
    """How much it is a tune's turn, the first first."""

    ITS_STUDY = 0
    ITS_KIND = 1
    ANOTHER = 2
    A_STUDY = 3


def turn_of(tune: UnseenTune, situation: Situation, numbers: CoachNumbers = NUMBERS) -> Turn:
    """Whether it is this tune's turn. It never is for what is out of reach: too many new pitches for somebody who
    begins, or so far below the level that it would only fill the turn.
    """
    if not _is_within_reach(tune, situation, numbers):
        return Turn.A_STUDY if tune.kind is TuneKind.STUDY else Turn.ANOTHER
    if tune.kind is TuneKind.STUDY:
        after_sheet = _last_kind(situation) is TuneKind.LEAD_SHEET
        begun = any(one.name == tune.beside for one in situation.begun)
        return Turn.ITS_STUDY if after_sheet and begun else Turn.A_STUDY
    return Turn.ITS_KIND if tune.kind is kind_in_turn(situation, numbers) else Turn.ANOTHER


def kind_in_turn(situation: Situation, numbers: CoachNumbers = NUMBERS) -> TuneKind:
    """A lead sheet after a song and a song after a lead sheet or a study; before anything was begun a lead sheet. Who
    begins has songs alone on their first evenings.
    """
    if situation.known is not None and situation.evening < numbers.lead_sheet_evening:
        return TuneKind.SONG
    return TuneKind.LEAD_SHEET if _last_kind(situation) in (None, TuneKind.SONG) else TuneKind.SONG


def most_difficulty(tune: UnseenTune, situation: Situation, numbers: CoachNumbers = NUMBERS) -> float:
    """How difficult a tune of the book may be to be begun: what all this is for may be a little more so."""
    over = numbers.lead_over_level if tune.kind is TuneKind.LEAD_SHEET else numbers.tune_over_level
    return situation.level + over


def comes_meanwhile(tune: UnseenTune, situation: Situation, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether a tune of the book may be begun while another one is not found yet: the first lead sheet of somebody who
    begins, in its turn. Who is slow with one song reads nothing else for weeks otherwise.
    """
    begins = situation.known is not None
    first = all(one.kind is not TuneKind.LEAD_SHEET for one in situation.begun)
    return begins and first and tune.kind is TuneKind.LEAD_SHEET and turn_of(tune, situation, numbers) is Turn.ITS_KIND


def is_its_turn_at_sight(tune: UnseenTune, situation: Situation, numbers: CoachNumbers = NUMBERS) -> bool:
    """Whether a tune is of the kind of the day at sight: of the days on which one is read, every other one has a lead
    sheet, where any is near the level.
    """
    kind = TuneKind.SONG if situation.day % 4 else TuneKind.LEAD_SHEET
    return tune.kind is kind and tune.difficulty >= situation.level - numbers.turn_under_level


def kept_from_sight(situation: Situation, numbers: CoachNumbers = NUMBERS) -> frozenset[str]:
    """The tunes of the book that are not spent at first sight: studies, which are to be worked at, and lead sheets as
    long as hardly any are within reach.
    """
    book = [tune for tune in situation.unseen if not tune.own]
    sheets = [
        tune
        for tune in book
        if tune.kind is TuneKind.LEAD_SHEET and tune.difficulty <= most_difficulty(tune, situation, numbers)
    ]
    kept = sheets if len(sheets) <= numbers.lead_sheets_kept else []
    return frozenset(tune.name for tune in (*kept, *(one for one in book if one.kind is TuneKind.STUDY)))


def _last_kind(situation: Situation) -> TuneKind | None:
    return situation.begun[-1].kind if situation.begun else None


def _is_within_reach(tune: UnseenTune, situation: Situation, numbers: CoachNumbers) -> bool:
    new = tune.unmet if situation.known is not None else 0
    return new <= numbers.new_a_day and tune.difficulty >= situation.level - numbers.turn_under_level
