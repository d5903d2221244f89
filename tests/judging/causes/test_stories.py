"""The stories of one wrong note."""

from game.instrument.decoding.played import PlayedNote
from game.judging.causes.stories import story_teller
from game.judging.expected import expected_notes
from game.judging.verdicts import Cause
from game.neck.neck_map import standard_map
from game.neck.tuning import STANDARD, Place
from tests.made import passage

MAP = standard_map()
ROW = "G4 q, A4 q, B4 q, E4 q, C4 q, F4 q, D5 q, E5 q"


def told(n: int, place: Place, *, with_place: bool = True) -> dict[Cause, float]:
    teller = story_teller(expected_notes(passage(ROW).notes, MAP))
    played = PlayedNote(started_s=0, sounding=STANDARD.sounding(place), place=place if with_place else None)
    found: dict[Cause, float] = {}
    for story in teller.stories(n - 1, played):
        found[story.cause] = found.get(story.cause, 0) + story.share * story.chance
    return found


def test_a_semitone_that_is_no_reading_of_the_page_is_a_slip_or_unknown():
    assert MAP.home_of(55).place == Place(4, 5)
    assert set(told(1, Place(4, 6))) == {Cause.SLIP, Cause.UNKNOWN}


def test_a_slip_onto_the_home_of_the_next_note_may_be_either():
    home = MAP.home_of(52).place
    assert {Cause.SLIP, Cause.NEIGHBOUR} <= set(told(4, Place(home.string, home.fret + 1)))


def test_a_misread_note_is_seldom_played_away_from_its_home():
    home, elsewhere = MAP.home_of(57).place, Place(5, 12)
    assert told(1, home)[Cause.NEIGHBOUR] > 10 * told(1, elsewhere)[Cause.NEIGHBOUR]


def test_without_a_place_one_string_over_is_still_a_slip():
    assert Cause.SLIP in told(1, Place(3, 5), with_place=False)
    assert Cause.SLIP not in told(1, Place(3, 8), with_place=False)


def test_the_notes_of_a_take_are_counted_by_what_can_happen_to_them():
    counts = story_teller(expected_notes(passage("F#4 q, C#5 q, C4 q, F4 q", key=2).notes, MAP)).counts
    assert (counts.notes, counts.ledger, counts.signature, counts.accidental) == (4, 1, 2, 2)
    assert counts.of("ledger") == 1
    assert counts.of("slip") == 4
