"""What to read: the shelf, the plan, an assignment, the account of a tune."""
