"""A teacher's class: what the logs of many students come to, gathered in one file."""
