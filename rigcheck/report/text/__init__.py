"""Reports as text for people."""
