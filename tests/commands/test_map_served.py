"""How tunes are served, and what is told of tunes that no map serves."""

from game.commands.map_served import best_at, best_of_positions, counts_of, tunes_served
from game.errors import TuneError
from game.music.score import Reading
from game.neck.melody_counts import melody_counts
from game.neck.neck_map import standard_map
from game.neck.tuning import tuning_named
from tests.refusing import refusal

SCALE = melody_counts([[60, 62, 64, 65, 67, 69, 71, 72]])


def test_the_own_map_the_best_ones_and_plain_positions_stand_side_by_side():
    own = standard_map(position=9)
    best = best_of_positions(own, SCALE)
    served = tunes_served(own, SCALE, best)
    assert served.own.neck_map == own
    assert served.best[0].movement == min(one.movement for one in served.best)
    assert sorted(one.neck_map.position for one in served.unmoved) == list(range(1, 13))
    assert all(one.neck_map == standard_map(position=one.neck_map.position) for one in served.unmoved)
    assert best_at(own, 7, SCALE) == next(one.neck_map for one in best if one.neck_map.position == 7)


def test_tunes_of_another_range_are_told_with_both_ranges():
    with refusal(TuneError, r"which is written from E3 to D7 \(they lie from C2 to D2\)"):
        best_of_positions(standard_map(), melody_counts([[24, 26]]))


def test_tunes_without_a_note_are_told(tmp_path):
    (tmp_path / "rests.abc").write_text("X:1\nT:Rests\nM:4/4\nL:1/4\nK:C\nz4 | z4 |\n", encoding="utf-8")
    with refusal(TuneError, "rests.abc"):
        counts_of([tmp_path / "rests.abc"], None)


def test_a_page_in_treble_clef_is_read_on_a_bass_where_most_of_it_has_a_home(tmp_path):
    """Two octaves below the page, or three, as the homes have it (the bass sounds an octave below its clef: trade)."""
    (tmp_path / "tune.abc").write_text("X:1\nT:A tune\nM:4/4\nL:1/4\nK:C\nCDEF | GABc |\n", encoding="utf-8")
    bass = standard_map(tuning=tuning_named("bass"), reading=Reading.BASS)
    counts, _ = counts_of([tmp_path / "tune.abc"], Reading.BASS, bass.places)
    as_it_is, _ = counts_of([tmp_path / "tune.abc"], None)
    assert counts.counts.keys() <= bass.places.keys()
    assert (min(as_it_is.counts) - min(counts.counts)) % 12 == 0
    assert not as_it_is.counts.keys() <= bass.places.keys()
