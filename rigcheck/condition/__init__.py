"""Conditions: JSON Schema 2020-12 keywords, read, judged in three values, and put in words."""
