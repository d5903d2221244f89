"""MusicXML: checked, reduced, read."""
