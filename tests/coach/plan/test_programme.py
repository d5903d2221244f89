"""Three tunes are picked for an evening, which is played once all their pages are signed."""

from datetime import date

from game.coach.plan.programme import Programme, programme_standing, with_picked

EVENING = Programme(tunes=("one", "two", "three"), played=(date(2026, 11, 1),))
PAGES = {"one": ("a", "b"), "two": ("c",), "three": ("d",)}


def standing(signed, pages=PAGES, programme=EVENING):
    return programme_standing(programme, pages, frozenset(signed))


def test_the_evening_is_ready_when_every_page_is_signed():
    assert standing("abcd").ready
    waiting = standing("abd")
    assert (waiting.ready, waiting.pages_left, [tune.ready for tune in waiting.tunes]) == (
        False,
        1,
        [True, False, True],
    )


def test_an_evening_of_fewer_tunes_or_with_one_that_is_gone_is_not_ready():
    assert not standing("abc", programme=Programme(tunes=("one", "two"))).ready
    assert not standing("abcd", pages={"one": ("a", "b"), "two": ("c",)}).ready


def test_a_tune_is_picked_and_picked_out_and_another_choice_was_never_played():
    picked = None
    for tune in ("one", "two", "three"):
        picked = with_picked(picked, tune)
    assert picked.tunes == ("one", "two", "three")
    assert with_picked(picked, "four").tunes == ("one", "two", "four")
    assert with_picked(EVENING, "two") == Programme(tunes=("one", "three"))
