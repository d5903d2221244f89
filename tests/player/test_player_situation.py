"""What is known of a player, and what their plan is made from."""

from game.coach.plan.programme import Programme
from game.tunes.library.library import shelf
from tests.screens.table import Table


def test_a_programme_tells_how_many_pages_wait(tmp_path):
    table = Table(tmp_path)
    plan, facts = table.context.session.plan, table.context.session.log.facts
    assert plan.known.programme() is None
    names = tuple(entry.name for entry in shelf()[:3])
    facts.pick_programme(Programme(tunes=names))
    standing = plan.known.programme()
    assert [tune.tune for tune in standing.tunes] == list(names)
    assert standing.pages_left == sum(len(plan.passages.of(entry)) for entry in shelf()[:3])
    assert not standing.ready
