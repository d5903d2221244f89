"""Pure: driver messages to played notes, whatever the instrument reports."""
