"""A module for each command, by the word that the user types."""
