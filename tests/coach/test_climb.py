"""Of each tempo the last three takes are kept, and what was kept once is kept."""

from game.coach.climb import TAKES_SHOWN, ClimbTake, climb_after, kept_after, steadiness


def test_of_one_tempo_the_last_three_takes_are_looked_back_at_and_others_stay():
    climb = (ClimbTake(bpm=60, clean=True),)
    for clean in (True, False, True, False):
        climb = climb_after(climb, ClimbTake(bpm=65, clean=clean))
    assert [take.bpm for take in climb] == [60, 65, 65, 65]
    assert [take.clean for take in climb if take.bpm == 65][-TAKES_SHOWN:] == [False, True, False]


def test_years_at_ever_other_tempi_do_not_make_it_long():
    climb = ()
    for bpm in range(30, 300):
        climb = climb_after(climb, ClimbTake(bpm=bpm, clean=True))
    assert len(climb) <= 30
    assert climb[-1].bpm == 299


def test_a_tempo_is_kept_by_a_clean_take_once_in_order_and_not_by_own_word():
    kept = kept_after((60,), ClimbTake(bpm=50, clean=True))
    assert kept == (50, 60)
    assert kept_after(kept, ClimbTake(bpm=60, clean=True)) == kept
    assert kept_after(kept, ClimbTake(bpm=55, clean=False)) == kept
    assert kept_after(kept, ClimbTake(bpm=55, clean=True, own_word=True)) == kept


def test_a_player_is_the_steadier_the_more_of_the_last_three_takes_were_clean_in_a_row():
    def takes(*clean: bool, own_word: bool = False) -> tuple[ClimbTake, ...]:
        return tuple(ClimbTake(bpm=60 + at, clean=one, own_word=own_word) for at, one in enumerate(clean))

    rows = (), takes(True, False), takes(False, True), takes(True, False, True, True), takes(False, True, True, True)
    assert [round(3 * steadiness(row)) for row in rows] == [0, 0, 1, 2, 3]
    assert steadiness(takes(*[True] * 9)) == 1
    assert steadiness((*takes(True, True), *takes(False, own_word=True))) == steadiness(takes(True, True))
