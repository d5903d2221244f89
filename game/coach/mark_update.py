"""What a take leaves of marks in the record of its passage."""

from dataclasses import replace

from game.coach.events import TakeResult
from game.coach.mark_rules import is_found, is_in_time, is_read, sign_off, was_told
from game.coach.marks import Mark, is_signed_off
from game.coach.numbers import CoachNumbers
from game.coach.records import PassageRecord


def with_marks(record: PassageRecord, result: TakeResult, first_today: bool, numbers: CoachNumbers) -> PassageRecord:
    """The marks this take earned, each once and for good: by the rules of now, and what the coach said when it was
    played. That it was read is told by the rules alone.
    """
    half = sign_off(result, first_today=first_today, numbers=numbers)
    sign_offs = (*record.sign_offs, half) if half else record.sign_offs
    earned = (
        (Mark.FOUND, is_found(result)),
        (Mark.IN_TIME, is_in_time(result, numbers)),
        (Mark.SIGNED_OFF, half is not None and is_signed_off(sign_offs, numbers)),
    )
    told = tuple(mark for mark, is_earned in earned if is_earned or was_told(mark, result))
    read_day = result.day if record.read_day is None and is_read(result, numbers) else record.read_day
    if not half and not told and read_day == record.read_day and not result.self_marked:
        # Most takes earn nothing: years of them are gone through at once.
        return record
    new = tuple(mark for mark in told if mark not in record.marks)
    by_word = {*record.marks_by_word, *new} if result.self_marked else set(record.marks_by_word) - set(told)
    return replace(
        record,
        marks=(*record.marks, *new),
        marks_by_word=tuple(mark for mark in Mark if mark in by_word),
        sign_offs=sign_offs,
        read_day=read_day,
    )
