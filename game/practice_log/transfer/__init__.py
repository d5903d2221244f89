"""A log in one file: copied, put back, handed over."""
