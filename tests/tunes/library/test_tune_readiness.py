"""How ready a player is for a tune on the shelf."""

from game.music.score import Reading
from game.neck.neck_map import standard_map
from game.tunes.library.shelf_entry import ShelfEntry, entry_of
from game.tunes.library.tune_readiness import pitch_costs, tune_readiness
from tests.made import score

MAP = standard_map()


def entry(name: str, *rows: str, title: str = "", key: int = 0, reading=Reading.GUITAR) -> ShelfEntry:
    made = score(*rows, key=key, reading=reading, title=title or name)
    return entry_of(made, name=name, file_name=f"{name}.xml")


EASY = entry("easy", "A4 h, B4 h", title="Zwei Schritte")


# Written C♯4 sounds 49, a stretch in position V; written C6 sounds 72, C♯6 the last.
STRETCHED = entry("stretched", "C#4 h, A4 h", title="Reach")


OFF = entry("off", "E3 h, A4 h", title="Low")


def test_readiness_counts_stretches_and_notes_off_the_map():
    """Position V, standard tuning: C♯3 is a stretch, E2 has no home there (check-values)."""
    costs = pitch_costs(MAP)
    assert (costs[57], costs[49], costs[40]) == (0.0, 1.0, 4.0)
    assert (tune_readiness(STRETCHED, MAP).stretched, tune_readiness(STRETCHED, MAP).off_map) == (1, 0)
    assert (tune_readiness(OFF, MAP).stretched, tune_readiness(OFF, MAP).off_map) == (0, 1)


def test_at_another_reading_a_lead_sheet_sounds_elsewhere_and_readiness_follows():
    """Written A4 at concert pitch sounds 69."""
    concert = standard_map(reading=Reading.CONCERT)
    assert dict(EASY.sounding(Reading.CONCERT)) == {69: 1, 71: 1}
    assert dict(EASY.sounding(Reading.GUITAR)) == {57: 1, 59: 1}
    assert tune_readiness(entry("high", "C6 w"), concert).off_map == 1
