"""Text that somebody wrote: where it stands, what is wrong with it, YAML placed and bound."""
