"""Whole takes of the simulated player."""

from game.instrument.sources.simulated import answer

FLAWLESS = {}
"""Shares of mistakes: none."""


def play_untimed(player, notes, *, started_s, rng):
    """An untimed take on a page that waits: each note until its pitch is played, then the next."""
    answers = []
    now_s = started_s
    for asked in notes:
        attempt, right = 0, False
        while not right:
            attempt += 1
            answers.append(answer(player, asked, attempt=attempt, asked_s=now_s, rng=rng))
            now_s = answers[-1].note.started_s
            right = answers[-1].note.sounding == asked.sounding
    return tuple(answers)
