"""Score to notation to staff: MusicXML by our own writer, layout by verovio, drawing by pygame."""
