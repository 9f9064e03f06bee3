"""A rig judged by a pack: verdicts, findings, questions, concessions, and the proof of the rules."""
