"""The walk as a local page: who is let in, what is shown, what is written. Each answer is on the disk at once."""
