"""The file: its tables, how they came about, and how it is opened."""
