"""Fingers and strings of a map."""

from game.lines.fingering import fingers_of
from game.music.pitch import pitch
from game.neck.neck_map import standard_map


def test_each_pitch_has_the_finger_of_its_fret_and_a_stretch_the_one_that_reaches():
    """Position V: C5 is on the third string, fret 5; B4 a fret below it; Gb4 on the fourth string, fret 4 (calc)."""
    fingers = fingers_of(standard_map())
    assert fingers[pitch("C5").midi] == (0, 3)
    assert fingers[pitch("D5").midi] == (2, 3)
    assert fingers[pitch("B4").midi] == (0, 3)
    assert {finger for finger, _ in fingers.values()} == {0, 1, 2, 3}
