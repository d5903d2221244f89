"""The practice log: everything played, kept for good. The only package that knows the database.

Append-only: facts are added and never changed, and what can be recomputed from them is not stored. `log.PracticeLog`
is what the app holds; `reading` answers questions; `resuming` takes up takes that were cut short.
"""
