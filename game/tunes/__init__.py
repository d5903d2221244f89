"""Files in: MusicXML to our Score, safely; the shelf of tunes. music21 runs in a process of its own, never in
ours.
"""
