"""The player: profile, settings, log, and what is made of the log. `session.open_session` puts them together."""
