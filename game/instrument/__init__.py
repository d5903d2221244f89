"""MIDI ports; pure decoding of strings and keyboards; computer keys; the simulated player."""
