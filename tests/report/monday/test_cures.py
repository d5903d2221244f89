"""Each trouble has a cure of its own, which says what to do together and what to set."""

from game.report.monday.cures import ABSENT, CURES, OVERDUE
from game.report.monday.trouble import Trouble
from game.text.catalogue import say
from tests.speaking import speaking


def test_every_trouble_has_a_cure_and_no_two_say_the_same():
    assert set(CURES) == set(Trouble)
    cures = [*CURES.values(), ABSENT, OVERDUE]
    for language in ("en", "de"):
        with speaking(language):
            told = [say(cure.lesson, notes=("C4",)) for cure in cures]
        assert len(set(told)) == len(cures)
    assert all(cure.stages for cure in cures if cure is not OVERDUE)


def test_a_tempo_that_is_too_fast_is_set_ten_per_cent_slower_and_one_that_is_clean_a_little_faster():
    assert CURES[Trouble.TEMPO].tempo == 0.9
    assert CURES[Trouble.SAME_TEMPO].tempo > 1
    assert [one for one in Trouble if CURES[one].tempo] == [Trouble.TEMPO, Trouble.SAME_TEMPO]
