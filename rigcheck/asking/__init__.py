"""What to ask next of somebody who stands before a rig, and what an answer writes. Pure: no clock, no disk."""
