"""Quantities: truth values, units, intervals, how they are read and how they are shown."""
