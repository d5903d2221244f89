"""Pure: notes as items: how surely and how fast each is read, what that makes likely, and when it should come back."""
