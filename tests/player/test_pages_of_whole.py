"""The pages of a tune that is played as a whole."""

from game.coach.events import PassageFacts
from game.lines.levels import LEVELS
from game.lines.titles import line_title, single_notes_title
from game.music.keys import Key
from game.music.passage import passages_of, whole_tune
from game.player.pages_of_whole import pages_of_whole
from game.practice_log.rows.passage_key import passage_key
from tests.made import score

ROWS = [f"{'CDEFGAB'[index % 7]}{3 + index // 7} h, {'CDEFGAB'[index % 7]}{3 + index // 7} h" for index in range(8)]


def facts(passage):
    return PassageFacts(name=passage_key(passage), target_bpm=80)


def test_each_holds_its_notes_of_the_whole_and_the_target_is_left_to_the_whole():
    made = score(*ROWS)
    told = pages_of_whole(whole_tune(made), facts)
    assert told.whole == passage_key(whole_tune(made))
    assert [(page.first, page.last) for page in told.pages] == [(1, 8), (9, 16)]
    assert [page.facts.name for page in told.pages] == [passage_key(page) for page in passages_of(made)]
    assert {page.facts.target_bpm for page in told.pages} == {None}


def test_bars_that_are_no_whole_lines_and_a_tune_of_one_page_have_none():
    made = score(*ROWS)
    assert pages_of_whole(passages_of(made)[0], facts) is None
    assert pages_of_whole(whole_tune(score(*ROWS[:4])), facts) is None
    for title in (single_notes_title(Key(-2)), line_title(LEVELS[2], Key(1))):
        assert pages_of_whole(whole_tune(score(*ROWS, title=title)), facts) is None, title
