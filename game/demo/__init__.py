"""A simulated learner at the real game, day after day."""
