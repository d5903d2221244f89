"""A `places` take under way: help in steps, pauses, keyboards."""

from game.instrument.decoding.played import PlayedNote
from game.judging.untimed import HintStep
from game.judging.verdicts import Verdict
from game.neck.neck_map import standard_map
from game.practice.places_take import PlacesTake
from tests.made import passage

MAP = standard_map()


def begun(*rows, now_s=0.0):
    return PlacesTake(passage(*rows or ("F4 h, G4 h",)), MAP, now_s=now_s)


def at_home(sounding, at_s):
    return PlayedNote(started_s=at_s, sounding=sounding, place=MAP.home_of(sounding).place)


def keyed(sounding, at_s):
    return PlayedNote(started_s=at_s, sounding=sounding, place=None)


def test_help_comes_in_steps_the_letter_after_five_seconds_the_place_after_ten():
    take = begun()
    assert [take.tick(s) for s in (4.9, 5.0, 9.9, 10.0)] == [None, HintStep.LETTER, None, HintStep.PLACE]


def test_help_is_given_at_once_on_request_one_step_at_a_time():
    take = begun()
    assert [take.ask_help(1.0), take.ask_help(1.1), take.ask_help(1.2)] == [
        HintStep.LETTER,
        HintStep.PLACE,
        HintStep.PLACE,
    ]


def test_the_time_until_help_starts_anew_with_each_note():
    take = begun()
    take.hear(at_home(53, 8.0))
    assert take.tick(12.0) is None
    assert take.so_far().judgement.verdicts[0].verdict is Verdict.CLEAN


def test_while_the_instrument_is_away_nothing_is_judged_and_no_time_runs():
    take = begun()
    take.hear(at_home(53, 1.0))
    take.pause(2.0)
    assert take.hear(at_home(55, 3.0)) is None
    assert take.tick(60.0) is None
    take.resume(62.0)
    take.hear(at_home(55, 63.0))
    assert take.so_far().judgement.verdicts[1].time_to_find_ms == 2000


def test_a_keyboard_players_octave_is_settled_by_the_first_note_and_then_kept():
    take = begun("F4 q, G4 q, A4 h")
    take.hear(keyed(65, 1))
    take.hear(keyed(67, 2))
    take.hear(keyed(57, 3))
    assert take.octaves == 1
    finished = take.so_far()
    assert [v.verdict for v in finished.judgement.verdicts] == [Verdict.CLEAN, Verdict.CLEAN, Verdict.WRONG_PITCH]
    assert finished.judgement.verdicts[2].octave_off


def test_the_octave_can_be_changed_by_hand():
    take = begun()
    take.change_octave()
    take.hear(keyed(65, 1))
    assert take.so_far().clean_count == 1


def test_the_slowest_note_is_a_clean_one_and_never_the_first():
    take = begun("F4 q, G4 q, A4 h")
    take.hear(at_home(53, 9.0))
    take.hear(at_home(55, 9.5))
    take.hear(at_home(57, 11.0))
    assert take.so_far().slowest.n == 3
