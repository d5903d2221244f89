"""Pure: pitch and spelling, keys, metres, chord symbols, the Score and its order of play."""
