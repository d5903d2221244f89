"""Forty people of a teacher who practise four weeks up to a Monday, and what they hand in. Who is absent, overdue or
stuck, and on what, is planted here; everything else comes of their practice, their computers and their clocks.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta, timezone
from pathlib import Path
from typing import Any
from uuid import UUID

from game.judging.verdicts import Cause, Verdict
from game.practice_log.classes.need import Need
from game.practice_log.database.identity import Identity
from game.practice_log.writing.player_name import record_name
from tests.practice_log.classes.simulated_student import (
    Part,
    SimulatedStudent,
    forgets_the_signature,
    miscounts_ledger_lines,
    takes_a_line_for_its_neighbour,
)
from tests.speaking import speaking

TODAY = date(2026, 11, 30)
FIRST_HALF, SECOND_HALF = (27, 25, 23, 20, 18, 16), (13, 11, 9, 6, 4, 2)
FEW_EVENINGS = ((20,), (13, 9, 4))
"""Evenings, in days before today: three a week, or few. What is read changes after two weeks."""

ZONES = (60, 60, 60, 120, 0, -300)
TITLES = (
    "Korobeiniki", "Old Hundredth", "Lightly Row", "Auld Lang Syne", "Toast for Two Cats", "Ode to Joy in C",
    "Deck the Halls", "Sakura", "Frère Jacques", "Lullaby", "The First Noel", "Au clair de la lune",
)  # fmt: skip
UNSEEN = ("London Bridge", "Silent Night", "Yankee Doodle", "Good King Wenceslas")
_AFTER_DINNER = time(20, 45)
_EVENING, _LATE_AT_NIGHT, _JUST_AFTER_MIDNIGHT = time(18, 10), time(23, 58), time(0, 30)


@dataclass(frozen=True, kw_only=True, eq=False)
class Planted:
    """Somebody of the class: how they are called, and what they need of their teacher. Whoever is stuck is so on some
    bars, with wrong notes of a cause, or with right ones that are late.
    """

    number: int
    name: str
    live: "Callable[[Planted, Room], None]"
    need: Need = Need.FINE
    stuck_on: Part | None = None
    cause: Cause | None = None
    verdict: Verdict = Verdict.WRONG_PITCH
    habits: Mapping[str, Any] = field(default_factory=dict)

    @property
    def player(self) -> Identity:
        return Identity(uuid=UUID(int=0x57D0_0000 + self.number), name=self.name)

    @property
    def zone_minutes(self) -> int:
        return self.habits.get("zone_minutes", ZONES[self.number % len(ZONES)])


class Room:
    """Where the class lives: folders of the computers, one for what is handed in, and the `evenings` on which people
    practise: of a shorter class, fewer.
    """

    def __init__(self, place: Path, evenings: tuple[tuple[int, ...], ...] = (FIRST_HALF, SECOND_HALF)) -> None:
        self.place, self.folder, self.evenings = place, place / "class", evenings

    def student(self, one: Planted, computer: str = "home", **changes: Any) -> SimulatedStudent:
        return SimulatedStudent(
            self.place / f"{one.number:02} {computer}",
            one.player,
            seed=f"{one.number} {computer}",
            **{"zone_minutes": one.zone_minutes, **one.habits, **changes},
        )

    def practise(
        self, one: Planted, student: SimulatedStudent, halves: Iterable[int] = (0, 1), *, until: int = 0, **changes: Any
    ) -> None:
        """The evenings of two weeks or four, up to so many days before today, on what was set."""
        for half in halves:
            for nth, days_ago in enumerate(self.evenings[half]):
                if days_ago >= until:
                    parts = changes.get("parts") or of_course(one.number, half)
                    # Nothing is set that could not be done in the evenings there are.
                    usual_texts = [set_homework(one, half)] if len(self.evenings[half]) > 2 else []
                    texts = [] if nth else changes.get("texts", usual_texts)
                    student.practise(on_day(days_ago, student.zone_minutes), parts, assignments=texts)
            self.read_at_sight(one, student, half, until)

    def read_at_sight(self, one: Planted, student: SimulatedStudent, half: int, until: int = 0) -> None:
        """Once in two weeks something is read that was never seen: every other one reads it against the click."""
        days_ago = self.evenings[half][-1]
        if days_ago >= until:
            part = (UNSEEN[(one.number + half) % len(UNSEEN)], 1, 4)
            moment = on_day(days_ago, student.zone_minutes, _AFTER_DINNER)
            student.read_at_sight(moment, part, tempo_bpm=None if one.number % 3 == 0 else 56)

    def hand_in(self, student: SimulatedStudent, name: str, *, days_ago: int = 0) -> Path:
        return student.export(self.folder / f"{name}.zip", on_day(days_ago, 60, time(23, 30)))


def on_day(days_ago: int, zone_minutes: int, at: time = _EVENING) -> datetime:
    """A time of the clock on the wall where somebody is."""
    return datetime.combine(day(days_ago), at, timezone(timedelta(minutes=zone_minutes)))


def day(days_ago: int) -> date:
    return TODAY - timedelta(days=days_ago)


def homework(title: str, due_days_ago: int, *parts: str) -> str:
    """An assignment as a teacher writes it."""
    return f'title = "{title}"\ndue = {day(due_days_ago)}\n' + "".join(parts)


def set_part(part: Part, stages: str = '"time"', tempo: int = 58) -> str:
    """A part of an assignment."""
    title, first, last = part
    return f'[[tune]]\ntitle = "{title}"\nbars = [{first}, {last}]\nstages = [{stages}]\ntempo = {tempo}\n'


def of_course(number: int, half: int) -> tuple[Part, Part]:
    """What somebody reads for two weeks, set by their teacher."""
    at = 2 * number + 5 * half
    return (TITLES[at % len(TITLES)], 1, 4), (TITLES[(at + 3) % len(TITLES)], 1, 4)


def set_homework(one: Planted, half: int) -> str:
    """What the teacher sets for two weeks, due when these are over."""
    title = f"Weeks {2 * half + 45} and {2 * half + 46}"
    return homework(title, 15 - 14 * half, *map(set_part, of_course(one.number, half)))


def usual(one, room):
    """Three evenings a week, and all that was set is done."""
    student = room.student(one)
    room.practise(one, student)
    room.hand_in(student, f"{one.number:02} {one.name}")


def stops_in_the_second_week(one, room):
    student = room.student(one)
    room.practise(one, student, until=18, texts=[])
    room.hand_in(student, one.name)


def played_last_a_week_ago(one, room):
    """Late in the evening, which was the next day in Greenwich already."""
    student = room.student(one)
    room.practise(one, student, until=9, texts=[])
    student.practise(on_day(7, student.zone_minutes, time(23, 30)), of_course(one.number, 1))
    room.hand_in(student, one.name)


def came_once(one, room):
    """And left undone what was set: of somebody who is not there that is not said first."""
    student = room.student(one)
    student.practise(
        on_day(25, student.zone_minutes), [of_course(one.number, 0)[0]], assignments=[set_homework(one, 0)]
    )
    room.hand_in(student, one.name)


def works_at_one_passage(one, room):
    """Evening after evening; what was set is not due yet."""
    student, later = room.student(one), homework("For Advent", -4, set_part(one.stuck_on))
    room.practise(one, student, parts=[one.stuck_on], texts=[later])
    room.hand_in(student, one.name)


def leaves_a_part(one, room):
    student = room.student(one)
    for half in (0, 1):
        room.practise(one, student, [half], parts=of_course(one.number, half)[:1], texts=[set_homework(one, half)])
    room.hand_in(student, one.name)


def never_as_fast_as_set(one, room):
    student = room.student(one)
    fast = homework("The fair", 3, set_part(of_course(one.number, 1)[0], tempo=160))
    room.practise(one, student, [0])
    room.practise(one, student, [1], texts=[fast])
    room.hand_in(student, one.name)


def does_it_after_its_day(one, room):
    student = room.student(one)
    first, second = of_course(one.number, 0)
    room.practise(one, student, [0], parts=[first])
    room.practise(one, student, [1], parts=[second], texts=[])
    room.hand_in(student, one.name)


def withdraws_what_was_set(one, room):
    student = room.student(one)
    room.practise(one, student, [0])
    with student.sitting(on_day(14, student.zone_minutes)) as session:
        opened = session.assignments.open(homework("Too much", 13, set_part(("Rondo alla turca", 1, 4), tempo=200)))
        session.assignments.withdraw(opened.id)
    room.practise(one, student, [1])
    room.hand_in(student, one.name)


def has_two_computers(one, room):
    """The clock of one of them is twenty-five minutes fast. An export of each is handed in."""
    home, school = room.student(one), room.student(one, "school", clock_wrong=timedelta(minutes=25))
    room.practise(one, home, [0])
    for days_ago in room.evenings[1]:
        for student, at in ((school, time(13, 5)), (home, time(20, 15))):
            student.practise(on_day(days_ago, student.zone_minutes, at), of_course(one.number, 1))
    for student in (home, school):
        room.hand_in(student, f"{one.name} {student.folder.name[3:]}")


def plays_past_midnight_and_travels(one, room):
    """From the evening into the next day, and later in Japan."""
    student = room.student(one)
    for days_ago in room.evenings[0]:
        student.practise(on_day(days_ago, student.zone_minutes, _LATE_AT_NIGHT), of_course(one.number, 0))
    student.zone_minutes = 9 * 60
    student.zone = timezone(timedelta(hours=9))
    room.practise(one, student, [1], texts=[])
    room.hand_in(student, one.name)


def plays_tomorrow_already(one, room):
    """Where they are it is Tuesday while the teacher's Monday is not over."""
    student = room.student(one)
    room.practise(one, student)
    student.practise(on_day(-1, student.zone_minutes, _JUST_AFTER_MIDNIGHT), of_course(one.number, 1))
    room.hand_in(student, one.name)


def renames_themselves(one, room):
    student = room.student(one)
    room.practise(one, student, [0])
    room.hand_in(student, "before", days_ago=15)
    record_name(student.folder / "practice.sqlite", one.name, now=on_day(14, student.zone_minutes))
    room.practise(one, student, [1])
    room.hand_in(student, one.name)


def hands_in_twice(one, room):
    student = room.student(one)
    room.practise(one, student)
    export = room.hand_in(student, one.name)
    (room.folder / "sent again" / "practice (1).zip").parent.mkdir()
    (room.folder / "sent again" / "practice (1).zip").write_bytes(export.read_bytes())


def hands_in_old_and_new(one, room):
    student = room.student(one)
    room.practise(one, student, [0])
    room.hand_in(student, f"{one.name} 15 November", days_ago=15)
    room.practise(one, student, [1])
    room.hand_in(student, f"{one.name} 29 November")


CUT_OFF = "cut off.zip"


def sends_a_file_that_is_cut_off(one, room):
    """Beside a whole one of before."""
    student = room.student(one)
    room.practise(one, student)
    export = room.hand_in(student, one.name, days_ago=1)
    (room.folder / CUT_OFF).write_bytes(export.read_bytes()[: export.stat().st_size // 2])


def comes_back_after_a_while(one, room):
    """On the first day of this week, early in the morning, which was still the day before in Greenwich."""
    student = room.student(one)
    room.practise(one, student, [0])
    student.practise(on_day(6, student.zone_minutes, _JUST_AFTER_MIDNIGHT), of_course(one.number, 1))
    room.hand_in(student, one.name)


def knows_it_by_ear(one, room):
    student = room.student(one)
    known = of_course(one.number, 1)[0]
    room.practise(one, student, [0])
    student.know_by_ear(on_day(14, student.zone_minutes), known)
    room.practise(one, student, [1])
    room.hand_in(student, one.name)


def listens_first(one, room):
    student = room.student(one)
    room.practise(one, student, [0])
    student.listen(on_day(14, student.zone_minutes), of_course(one.number, 1)[1])
    room.practise(one, student, [1])
    room.hand_in(student, one.name)


def reads_in_german(one, room):
    with speaking("de"):
        usual(one, room)


ERASED = Planted(number=11, name="Edda Vergessen", live=usual)

_STUCK = {"live": works_at_one_passage, "need": Need.STUCK}
CLASS = (
    Planted(number=1, name="Bruno", live=stops_in_the_second_week, need=Need.ABSENT),
    Planted(number=2, name="Clara", live=played_last_a_week_ago, need=Need.ABSENT, habits={"zone_minutes": -300}),
    Planted(number=3, name="Dario", live=came_once, need=Need.ABSENT),
    Planted(
        number=4, name="Elif", stuck_on=("The Landlord’s Ladder", 1, 4), cause=Cause.SIGNATURE,
        habits={"wrong": forgets_the_signature}, **_STUCK,
    ),
    Planted(
        number=5, name="Farid", stuck_on=("Rondo alla turca", 1, 4), cause=Cause.LEDGER,
        habits={"wrong": miscounts_ledger_lines}, **_STUCK,
    ),
    Planted(
        number=6, name="Greta", stuck_on=("Toast for Two Cats", 1, 4), cause=Cause.NEIGHBOUR,
        habits={"wrong": takes_a_line_for_its_neighbour}, **_STUCK,
    ),
    Planted(
        number=7, name="Hugo", stuck_on=("In the Hall of the Mountain King", 1, 4), cause=Cause.SLIP,
        habits={"slips": 1.0}, **_STUCK,
    ),
    Planted(
        number=8, name="Ines", stuck_on=("Old Hundredth", 1, 4), verdict=Verdict.LATE,
        habits={"late_ms": 170.0, "late_above_bpm": 40.0}, **_STUCK,
    ),
    Planted(number=9, name="Jonas", live=leaves_a_part, need=Need.OVERDUE),
    Planted(number=10, name="Kaja", live=never_as_fast_as_set, need=Need.OVERDUE),
    ERASED,
    Planted(number=12, name="Liv", live=has_two_computers),
    Planted(number=13, name="Mika", live=plays_past_midnight_and_travels),
    Planted(number=14, name="Nele, once Cornelia", live=renames_themselves),
    Planted(number=15, name="Anna Schmidt", live=usual),
    Planted(number=16, name="Anna Schmidt", live=usual),
    Planted(number=17, name="Olga", live=hands_in_twice),
    Planted(number=18, name="Pavel", live=hands_in_old_and_new),
    Planted(number=19, name="Quentin", live=sends_a_file_that_is_cut_off),
    Planted(number=20, name="Rosa", live=usual, habits={"strings": False}),
    Planted(number=21, name="Jörg Müßig-Öztürk", live=reads_in_german),
    Planted(number=22, name="Sami", live=comes_back_after_a_while, habits={"zone_minutes": 60}),
    Planted(number=23, name="Tilda", live=does_it_after_its_day),
    Planted(number=24, name="Uri", live=knows_it_by_ear),
    Planted(number=25, name="Vera", live=withdraws_what_was_set),
    Planted(number=26, name="Wim", live=listens_first),
    Planted(number=27, name="Xenia", live=plays_tomorrow_already, habits={"zone_minutes": 13 * 60}),
    *(Planted(number=number, name=f"Student {number}", live=usual) for number in range(28, 41)),
)  # fmt: skip

OF_EACH_KIND = (1, 4, 9, 11)
"""One of each kind, for where few are enough."""


def played_out(place: Path, *, everybody: bool) -> tuple[Room, tuple[Planted, ...]]:
    """The class as it practised and handed in; not everybody: one of each kind, on fewer evenings."""
    room = Room(place) if everybody else Room(place, FEW_EVENINGS)
    students = CLASS if everybody else tuple(one for one in CLASS if one.number in OF_EACH_KIND)
    for one in students:
        one.live(one, room)
    return room, students
