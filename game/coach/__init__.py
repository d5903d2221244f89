"""Pure: what to practise next, how fast, and why. Every number stands in `game.coach.numbers`."""
