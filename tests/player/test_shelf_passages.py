"""The passages of the shelf, and how they stand with a player."""

from game.coach.events import PassageFacts
from game.coach.records import PassageRecord, Tally
from game.coach.stages import Stage
from game.player.settings import Settings
from game.player.shelf_passages import ShelfPassages
from game.tunes.library.library import add, shelf


def test_of_a_tune_that_was_begun_the_other_bars_stand_as_not_begun_and_of_others_nothing():
    settings = Settings()
    passages = ShelfPassages(lambda: settings)
    ode, au_clair = (
        next(one for one in shelf() if one.title == title) for title in ("Ode to Joy", "Au clair de la lune")
    )
    names = [name for name, _ in passages.of(ode)]
    records = {names[1]: PassageRecord(facts=PassageFacts(name=names[1]), practised_day=7, day=7, takes_today=2)}
    found = passages.standings((ode, au_clair), records, day=7)
    assert {one.tune for one in found} == {ode.name}
    assert found[-1].name == names[1]
    assert [(one.last_day, one.takes_today) for one in found[-2:]] == [(None, 0), (7, 2)]
    assert passages.standings((ode,), records, day=8)[-1].takes_today == 0
    assert passages.was_met(ode, records)
    assert not passages.was_met(au_clair, records)


def test_a_passage_tells_its_bars_and_notes_as_they_are_written_and_sound():
    settings = Settings()
    first = ShelfPassages(lambda: settings).of(next(one for one in shelf() if one.name.startswith("65-ode")))[0][1]
    assert (first.bars, first.written[:3], first.soundings[:3]) == (4, ("E5", "E5", "F5"), (64, 64, 65))


def test_bars_whose_notes_are_not_sure_yet_come_next_with_their_rhythm_on_another_day():
    settings = Settings()
    passages = ShelfPassages(lambda: settings)
    ode = next(one for one in shelf() if one.title == "Ode to Joy")
    name, _ = passages.of(ode)[0]
    facts = PassageFacts(name=name)
    records = {name: PassageRecord(facts=facts, practised_day=7, day=7, takes_today=3, places_last=Tally(12, 15))}
    same, next_one = (passages.standings((ode,), records, day=day)[-1] for day in (7, 8))
    assert (same.stage, same.rhythm_first) == (Stage.PLACES, False)
    assert (next_one.stage, next_one.rhythm_first) == (Stage.RHYTHM, True)


def test_bars_that_come_twice_in_a_tune_stand_there_once_and_mean_the_first(tmp_path):
    """Else a day would have two rows for the same music."""
    file = tmp_path / "twice.abc"
    file.write_text("X:1\nT:Twice\nM:4/4\nL:1/4\nK:C\nCDEF|GABc|cBAG|FEDC|\nCDEF|GABc|cBAG|FEDC|\nGFED|C4|GFED|C4|\n")
    settings, entry = Settings(), add(file)
    passages = ShelfPassages(lambda: settings)
    names = [name for name, _ in passages.of(entry)]
    assert names[0] == names[1] != names[2]
    records = {names[0]: PassageRecord(facts=PassageFacts(name=names[0]), practised_day=7, day=7)}
    assert [one.place for one in passages.standings((entry,), records, day=8)] == [2, 0]
    assert passages.by_name((entry,))[names[0]].index == 0
