"""The history of a rig, for people."""
