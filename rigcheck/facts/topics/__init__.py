"""Figures by topic of the trade."""
