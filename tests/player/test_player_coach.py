"""The coach at the desk: what it hears and says is in the log, and comes out of it again."""

from game.screens.routes import ToPage

ROWS = ("F4 q, G4 q, A4 q, Bb4 q", "C5 q, Bb4 q, A4 h")


SOUNDINGS = (53, 55, 57, 58, 60, 58, 57)


def test_what_the_coach_knows_comes_back_from_the_log_at_the_next_start(table):
    request = table.open(*ROWS, key=-1)
    table.go(ToPage(request))
    for sounding in SOUNDINGS:
        table.play(sounding)
    table.wait(1.0)
    known = table.context.session.coach.state
    table.context.session.log.close()
    assert table.context.session.coach.state.records == known.records
