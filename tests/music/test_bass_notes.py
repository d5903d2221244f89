"""Where the bass plays."""

from game.music.bass_notes import HIGHEST_BASS, LOWEST_BASS, bass_note, bass_note_near


def test_every_tone_has_one_low_place_and_its_neighbour_is_near():
    lows = [bass_note(tone) for tone in range(12)]
    assert [low % 12 for low in lows] == list(range(12))
    assert (min(lows), max(lows)) == (28, 39)
    for low in lows:
        for fifth in (6, 7, 8):
            near = bass_note_near((low + fifth) % 12, low)
            assert LOWEST_BASS <= near <= HIGHEST_BASS
            assert near - low in (fifth, fifth - 12)


def test_a_fifth_lies_above_where_there_is_room_and_below_where_there_is_not():
    assert (bass_note(7), bass_note_near(2, bass_note(7))) == (31, 38)
    assert (bass_note(2), bass_note_near(9, bass_note(2))) == (38, 33)
