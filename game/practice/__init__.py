"""The take under way: shared by screens, demo and tests. Knows the clock only by the times it is handed."""
