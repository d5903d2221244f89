"""MIDI ports and their drivers: opened, watched, closed. What arrives is decoded elsewhere."""
