"""Notes that come from no port: computer keys, a simulated player, takes as MIDI files."""
