"""How much a tune file may hold. Checked before anything heavy looks at it.

The numbers are ours (trade): far above any lead sheet, far below what stalls a reader (10,000 bars take
music21 49 s).
"""

MAX_FILE_BYTES = 5_000_000
# Of ABC and MIDI, which need far less than XML.
MAX_TEXT_BYTES = 1_000_000
# Of one member of an .mxl, unpacked: XML shrinks to a twentieth, and real quartets unpack to 11 MB.
MAX_MEMBER_BYTES = 20_000_000
MAX_MEMBERS = 200
MAX_DEPTH = 40
MAX_ELEMENTS = 1_000_000
MAX_PARTS = 200
MAX_BARS = 1_000
MAX_NOTES = 10_000
# Of one bar: written-out cadenzas have some three hundred.
MAX_BAR_NOTES = 500
# Of a text of ABC: notes, bar lines, ornaments, whatever stands between them.
MAX_SIGNS = 60_000
# A bar of the longest metre, 64/1, holds 256 quarter notes.
MAX_BAR_QUARTERS = 256
MAX_DIVISIONS = 1_000_000
# Into so many parts at most may a quarter note be divided for everything in a tune to fall on one of them: tuplets of
# 3, 5, 7, 9, 11 and 13 over 128th notes make 1.4 million. Divisions without a common factor make endless numbers.
MAX_GRID = 10**12
MIN_OCTAVE, MAX_OCTAVE = 0, 9
MAX_TIMES = 64
MAX_TRANSPOSE_SEMITONES = 48

READER_CPU_S = 30
# By the clock, for what hangs: the process gives way to others, and a busy machine takes its time.
READER_WALL_S = 90.0
READER_MEMORY_BYTES = 1_000_000_000
