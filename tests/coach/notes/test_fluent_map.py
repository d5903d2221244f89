"""A map is fluent at nine of ten at first sight, in eighths at 60, on three of five days, no home slower than 1.5 s."""

from dataclasses import replace

from game.coach.notes.fluent_map import map_fluency
from game.coach.notes.items import Item, ItemKey, map_name
from game.coach.notes.map_days import MapDay
from game.coach.notes.map_identity import map_key
from game.coach.notes.mastery import Mastery
from game.coach.numbers import NUMBERS
from game.music.accidentals import AlteredBy
from game.music.keys import Key, spelled
from game.neck.neck_map import standard_map
from game.neck.tuning import Place
from tests.coach.judged_takes import MAP

QUICK = Item(readings=6, right=6.0, timed=4.0, mean_log_s=-0.4, squares=0.1, day=100)
SLOW = QUICK._replace(mean_log_s=0.9)
WELL, BADLY = {"asked": 30, "right": 28}, {"asked": 30, "right": 24}


def key_at(neck_map, sounding):
    return ItemKey(
        written=spelled(sounding + 12 * neck_map.reading.octaves_down, Key()).name,
        shown=AlteredBy.NOTHING,
        map_name=map_name(neck_map),
        place=neck_map.places[sounding],
        sounding=sounding,
    )


def known(neck_map=MAP, days=(WELL, WELL, WELL), **of_pitch):
    """All homes of a map found quickly, but for those told ("s60"), and some days at first sight."""
    items = {key_at(neck_map, sounding): of_pitch.get(f"s{sounding}", QUICK) for sounding in neck_map.places}
    items = {key: item for key, item in items.items() if item is not None}
    told = tuple(MapDay(96 + n, **day) for n, day in enumerate(days))
    return Mastery(items=items, day=100, map_days={map_key(neck_map): told})


def test_three_good_days_with_every_home_quick_make_a_map_fluent():
    assert map_fluency(known(), MAP).fluent


def test_two_good_days_do_not():
    told = map_fluency(known(days=(WELL, WELL)), MAP)
    assert not told.fluent
    assert (told.days_reached, told.days_needed) == (2, 3)


def test_three_of_the_newest_five_days_are_enough_and_older_ones_do_not_count():
    assert map_fluency(known(days=(WELL, BADLY, WELL, BADLY, WELL)), MAP).fluent
    assert not map_fluency(known(days=(WELL, WELL, WELL, BADLY, BADLY, WELL, BADLY, WELL)), MAP).fluent


def test_a_day_with_a_few_notes_at_first_sight_tells_nothing():
    few = {"asked": NUMBERS.fluent_day_notes - 1, "right": NUMBERS.fluent_day_notes - 1}
    told = map_fluency(known(days=(WELL, WELL, few, few, few)), MAP)
    assert not told.fluent
    assert len(told.days) == 2


def test_a_slow_home_keeps_a_map_back_and_is_named():
    told = map_fluency(known(s60=SLOW), MAP)
    assert not told.fluent
    assert told.slow == (60,)


def test_homes_never_met_keep_a_map_back_and_are_named():
    told = map_fluency(known(s44=None, s73=None), MAP)
    assert not told.fluent
    assert told.not_met == (44, 73)
    assert (told.lacking, told.homes) == (2, 30)


def test_a_home_read_once_or_never_timed_tells_too_little():
    once, untimed = QUICK._replace(readings=1), QUICK._replace(timed=0.0)
    assert map_fluency(known(s60=once, s62=untimed), MAP).not_met == (60, 62)


def test_a_home_that_is_often_wrong_keeps_a_map_back():
    unsure = QUICK._replace(right=4.0, wrong=2.0)
    assert map_fluency(known(s60=unsure), MAP).slow == (60,)


def test_without_anything_read_nothing_is_fluent():
    told = map_fluency(Mastery(), MAP)
    assert not told.fluent
    assert (len(told.not_met), told.days) == (30, ())


def test_days_on_which_no_places_were_told_make_it_fluent_by_pitch_and_say_so():
    by_ear = {**WELL, "placed": False}
    told = map_fluency(known(days=(WELL, by_ear, WELL)), MAP)
    assert told.fluent
    assert not told.placed


def test_a_map_with_a_home_moved_keeps_its_days_and_lacks_that_home_alone():
    moved = standard_map(choices={64: Place(3, 9)})
    assert MAP.places[64] != Place(3, 9)
    told = map_fluency(known(), moved)
    assert told.read_fluently
    assert told.not_met == (64,)


def test_a_joined_map_is_read_at_first_sight_anew():
    joined = standard_map(
        choices={sounding: place for sounding, place in standard_map(position=9).places.items() if sounding > 64}
    )
    assert not map_fluency(known(), joined).days


def test_once_it_was_said_bad_days_take_nothing_back():
    mastery = known(days=(BADLY,) * 5, s60=SLOW)
    assert not map_fluency(mastery, MAP).fluent
    assert map_fluency(mastery, MAP, told=True).fluent
    assert not map_fluency(replace(mastery, items={}), MAP, told=True).fluent
