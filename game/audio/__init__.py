"""Sound: the metronome, the plucked string, and lines played back."""
