"""Inspections as text and as JSON; nothing here reads or writes a file."""
