"""Sheets of procedures as text and Markdown."""
