"""How often pitches and pairs of neighbours occur."""

from game.neck.melody_counts import counted_together, melody_counts


def test_notes_and_ordered_pairs_are_counted():
    counts = melody_counts([[60, 62, 60, 62, 62]])
    assert counts.counts == {60: 2, 62: 3}
    assert counts.pairs == {(60, 62): 2, (62, 60): 1, (62, 62): 1}
    assert counts.notes == 5


def test_the_last_note_of_a_tune_and_the_first_of_the_next_are_no_neighbours():
    assert melody_counts([[60], [62, 64], []]).pairs == {(62, 64): 1}


def test_counts_of_tunes_counted_apart_are_those_of_all_of_them():
    tunes = [[60, 62, 64], [62, 64, 62], [70]]
    assert counted_together(melody_counts([tune]) for tune in tunes) == melody_counts(tunes)
    assert counted_together([]) == melody_counts([])
