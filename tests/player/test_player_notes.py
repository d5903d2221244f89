"""What is known of the player's notes."""

from tests.screens.table import Table


def test_notes_that_were_slow_are_known_from_the_log_and_come_up_more(tmp_path):
    table = Table(tmp_path)
    table.open("F4 q, G4 q, A4 q, G4 q", "F4 q, A4 q, G4 q, A4 q")
    for note in table.screen.take.expected:
        table.wait(4.0 if note.sounding == 57 else 0.3, frame_s=0.1)
        table.play(note.sounding)
    table.wait(2.0)
    table.context.session.log.flush()
    weights = table.context.session.notes.weights(table.context.settings.neck_map())
    assert weights[57] > 2 * weights[55]
