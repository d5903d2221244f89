"""What is usual of MIDI instruments, for the settings: nothing here brings anything else with it."""

USUAL_BEND_SEMITONES = 2.0
"""A full pitch bend until the device says otherwise (MIDI 1.0)."""

USUAL_PEDALS = (64, 66, 67)
"""The controllers of the switches of pedals: sustain, sostenuto, soft (MIDI 1.0)."""
