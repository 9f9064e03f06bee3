"""Rules, limits and documents: read from data, checked, and laid over each other."""
