"""The rig: what can be said of one, and one that was read from a file."""
