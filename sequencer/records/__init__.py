"""The build log: an append-only text of what was done, and the state that it tells."""
