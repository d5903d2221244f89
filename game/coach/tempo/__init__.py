"""Pure: the steady tempo of a passage, when the metronome comes in, and the next tempo."""
