"""MIDI files: onsets to written values."""
