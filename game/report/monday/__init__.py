"""A teacher's Monday: who practised, who needs what, what to do in the lesson, and what to set next."""
